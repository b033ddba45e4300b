//! Drop from the terminals of the supply to the farthest cell, and the bands of what is read.

use super::{demo, figures, said_by, small};
use evenrun::design::{Design, Probe};
use evenrun::finding::{Figure, Finding, Verdict};

fn share(finding: &Finding) -> f64 {
    match finding.figure {
        Some(Figure::Share(share)) => share.si(),
        ref other => panic!("{other:?}"),
    }
}

/// BS 7671 715.525, the adoption of IEC 60364-7-715: 5 % from the source to the farthest luminaire.
#[test]
fn five_per_cent_of_the_supply_are_judged_or_asked_about() {
    let near = small(|text| text).expect("sound");
    let far = |limit: &str| {
        small(|text| text.replace("length = \"3 m\"", "length = \"24 m\"") + limit).expect("sound")
    };
    let only = |design: &Design| {
        let all = said_by(design, "voltage-drop");
        let [one] = all.as_slice() else {
            panic!("{all:#?}")
        };
        (**one).clone()
    };
    let kept = only(&near);
    assert_eq!((kept.verdict, kept.case.as_str()), (Verdict::Pass, "kept"));
    assert!(share(&kept) < 0.05, "{kept:?}");
    let open = only(&far(""));
    assert!(open.is_not_evaluated() && share(&open) > 0.05, "{open:?}");
    assert!(evenrun::rules::line(&open).contains("IEC 60364-7-715"));
    let stated = only(&far("voltage_drop = \"12 %\"\n"));
    assert_eq!(
        (stated.verdict, stated.case.as_str()),
        (Verdict::Pass, "stated")
    );
    assert_eq!(
        said_by(&far("voltage_drop = \"none\"\n"), "voltage-drop").len(),
        0
    );
}

/// The low corner of light has the least set point and the least load: what it loses is no greatest drop.
#[test]
fn the_greatest_drop_exceeds_that_of_the_low_corner_of_light() {
    for segment in &demo().segments {
        let own = figures(segment);
        let drop = own.drop.expect("solved").si();
        // 24.5 V with a tolerance of 1 %; its copper inside and out drops most where cells draw most.
        let low = 24.5 * 0.99 - own.least_volts.low.si();
        assert!(drop > low * 1.1, "{}: {drop} {low}", segment.id);
    }
}

/// Low, nominal and high stand in this order, where the corners of light gave 22.70, 22.80 and 22.73 V.
#[test]
fn every_reading_lies_inside_its_band() {
    let mut feeds = 0;
    for reading in &demo().readings {
        for band in [
            reading.volts.map(|v| v.map(|v| v.si())),
            reading.amps.map(|a| a.map(|a| a.si())),
        ] {
            let Some(band) = band else { continue };
            assert!(
                band.low < band.nominal && band.nominal < band.high,
                "{:?}: {band:?}",
                reading.at
            );
        }
        feeds += usize::from(matches!(reading.at, Probe::Feed { .. }));
    }
    assert_eq!(feeds, demo().feeds.len());
}
