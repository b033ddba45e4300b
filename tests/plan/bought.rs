//! What is bought and joined stands in the schedules: jumpers, data cable, end caps; spare tape is net of offcuts.

use super::{demo, said_by, small};
use evenrun::design::{Conductor, Design, Item, Material, RouteKnown, Spare, Terminals};
use evenrun::finding::{Figure, Subject};
use evenrun::id::ProductId;
use evenrun::job::spec::DataCable;
use evenrun::report;

/// Two metres of tape with a gap of half a metre between, fed at the start, in a profile.
fn with_a_gap(more: impl Fn(String) -> String) -> Design {
    small(|text| {
        more(text.replace(
            "path = [{ straight = \"2 m\" }]",
            "profile = \"shelf\"\nfeed_points = \"start\"\npath = [{ straight = \"1 m\" }, { gap = \"500 mm\", \
             jumper = \"600 mm\", jumper_cable = \"2 x 18 AWG\" }, { straight = \"1 m\" }]",
        )) + "\n[[profile]]\nname = \"shelf\"\nbars = [{ length = \"2 m\" }]\n"
    })
    .expect("a plan")
}

fn row<'d>(design: &'d Design, item: &Item) -> &'d Material {
    let found = design.materials.iter().find(|m| m.item == *item);
    found.unwrap_or_else(|| panic!("{item:?} in {:#?}", design.materials))
}

/// A run of 40 cells of 20 mA with a jumper in the middle: the 20 behind it take 0.4 A at rated voltage.
#[test]
fn a_jumper_is_a_cable_with_its_current() {
    let design = with_a_gap(|text| text);
    let is_jumper = |id: &str| id.starts_with("J-");
    let mut jumpers = design.cables.iter().filter(|c| is_jumper(c.id.as_str()));
    let jumper = jumpers.next().expect("the jumper");
    assert!(jumpers.next().is_none());
    assert_eq!(jumper.id.as_str(), "J-A.1a");
    assert_eq!(jumper.route.to_string(), "600 mm");
    assert_eq!(jumper.known, RouteKnown::PathStates);
    assert!(matches!(jumper.from, Terminals::Segment { .. }));
    assert_eq!(jumper.cores.len(), 2);
    assert_eq!(jumper.cores[0].conductor, Conductor::Plus);
    // 10 % more tape; 0.24 V more at the supply and 0.54 V less at hot diodes over a ballast of 6 V; less the drop of the copper.
    let current = jumper.current.expect("a current").si();
    assert!((0.40..0.50).contains(&current), "{current} A");
    let fed = design.feeds[0].conductors[0].current.si();
    assert!((current / fed - 0.5).abs() < 0.01, "{current} of {fed} A");
    for core in &jumper.cores {
        assert_eq!(core.current.map(|own| own.si()), Some(current), "{core:?}");
    }
    // 21.4 mΩ/m and more, out and back.
    let drop = jumper.drop.expect("a drop").si();
    assert!((0.005..0.02).contains(&drop), "{drop} V");
}

#[test]
fn a_jumper_is_protected_and_judged() {
    let design = with_a_gap(|text| text);
    let of_it = |about: &Subject| matches!(about, Subject::Jumper { jumper, .. } if jumper.as_str() == "J-A.1a");
    let rows = design.protection.iter().filter(|p| of_it(&p.conductor));
    let words: Vec<String> = rows.map(|p| p.conductor.to_string()).collect();
    assert_eq!(
        words,
        ["jumper J-A.1a, plus", "jumper J-A.1a, white return"]
    );
    let judged = said_by(&design, "conductor-load");
    assert!(judged.iter().any(|finding| of_it(&finding.about)));
    // A jumper that may carry less than it does.
    let thin = with_a_gap(|text| {
        text.replacen(
            "[[supply]]",
            "[[cable]]\nname = \"thin\"\ncores = 2\nsize = \"22 AWG\"\nmaterial = \"copper\"\n\
             strands = \"stranded\"\ninsulation = \"90 °C\"\nampacity = \"0.3 A\"\n\n[[supply]]",
            1,
        )
        .replace("jumper_cable = \"2 x 18 AWG\"", "jumper_cable = \"thin\"")
    });
    let fails = thin.findings.iter().filter(|f| f.is_fail());
    assert!(fails.into_iter().any(|f| of_it(&f.about)));
}

/// With one of two feeds lost a jumper carries what both carry now: more than it may, where alone it is well within.
#[test]
fn a_jumper_is_judged_with_a_feed_lost() {
    let design = with_a_gap(|text| {
        text.replace("feed_points = \"start\"", "feed_points = \"ends\"")
            .replace(
                "length = \"3 m\", basis = \"measured\" }]",
                "length = \"3 m\", basis = \"measured\" }, { from = \"box\", to = \"end\", length = \"5 m\", basis = \"measured\" }]\n\
                 fixed_segments = [{ from = \"start\", to = \"end\", fed = \"both ends\" }]",
            )
            .replacen(
                "[[supply]]",
                "[[cable]]\nname = \"thin\"\ncores = 2\nsize = \"22 AWG\"\nmaterial = \"copper\"\n\
                 strands = \"stranded\"\ninsulation = \"90 °C\"\nampacity = \"0.5 A\"\n\n[[supply]]",
                1,
            )
            .replace("jumper_cable = \"2 x 18 AWG\"", "jumper_cable = \"thin\"")
    });
    assert_eq!(design.feeds.len(), 2, "{:?}", design.feeds);
    let all: f64 = design
        .feeds
        .iter()
        .map(|f| f.conductors[0].current.si())
        .sum();
    let jumper = design.cables.iter().find(|c| c.id.as_str() == "J-A.1a");
    let own = jumper.and_then(|j| j.current).expect("a current").si();
    assert!(
        own < 0.2 * all,
        "balanced, little crosses: {own} of {all} A"
    );
    let lost = said_by(&design, "conductor-feed-lost");
    let fails = lost.iter().filter(|f| f.is_fail());
    let fails: Vec<String> = fails.map(|f| f.about.to_string()).collect();
    assert!(
        fails.contains(&"jumper J-A.1a, plus".to_string()),
        "{lost:#?}"
    );
}

#[test]
fn what_is_joined_is_ordered() {
    let design = with_a_gap(|text| text);
    // 3 m of feeder with its slack of 300 mm, and 0.6 m of jumper.
    let cable = row(&design, &Item::Cable(ProductId::new("2 x 18 AWG")));
    let metres = cable.needed.value();
    let routes: f64 = design.cables.iter().map(|c| c.route.metres()).sum();
    assert!((metres - routes).abs() < 1e-9 && metres > 3.899, "{metres}");
    assert_eq!(cable.order, 4);
    let cap = |exit| Item::ProfileEnd {
        profile: ProductId::new("shelf"),
        exit,
    };
    // The lead at the start and the jumper through both caps of the gap; the far end is closed.
    assert_eq!(row(&design, &cap(true)).needed, Figure::count(3));
    assert_eq!(row(&design, &cap(false)).needed, Figure::count(1));
    // Of few no spare is ordered.
    assert_eq!(row(&design, &cap(false)).order, 1);
    let page = report::text(&design, 120);
    assert!(page.contains("end cap of shelf, closed"), "{page}");
}

/// Tape without a profile is closed at its cut ends.
#[test]
fn tape_without_a_profile_is_closed() {
    let design = small(|text| text).expect("a plan");
    let caps = row(&design, &Item::TapeEnd(ProductId::new("white")));
    assert_eq!(caps.needed, Figure::count(1));
}

#[test]
fn data_cable_is_ordered_and_listed() {
    let design = demo();
    for kind in [DataCable::DataPair, DataCable::ShieldedCategory] {
        let own = design.chains.iter().filter(|c| c.cable == kind);
        let length: f64 = own
            .flat_map(|c| &c.devices)
            .map(|d| d.length.metres())
            .sum();
        let row = row(design, &Item::DataCable(kind));
        assert!((row.needed.value() - length).abs() < 1e-9);
        assert_eq!(row.order, length.ceil() as u64);
    }
    let page = report::text(design, 120);
    assert!(page.contains("DATA CABLES") && page.contains("foyer line-1"));
    assert!(page.contains("data cable: shielded"));
}

/// Where the job asks for 5 %: 2 m from a reel of 5 m leaves 3 m, which hold them; from reels of 2 m nothing is left, and one
/// more is ordered.
#[test]
fn spare_tape_is_net_of_usable_offcuts() {
    let tape = Item::Tape(ProductId::new("white"));
    let with = |reel: &str| {
        small(|text| {
            text.replace("[limits]", "[limits]\nspare_tape = \"5 %\"")
                .replace("reel = \"5 m\"", &format!("reel = \"{reel}\""))
        })
        .expect("a plan")
    };
    let long = with("5 m");
    let own = row(&long, &tape);
    assert_eq!((own.needed, own.order), (Figure::count(1), 1));
    assert!(matches!(own.spare, Spare::OfPacks { packs: 0, .. }));
    assert!(report::text(&long, 160).contains("in usable offcuts (5 %)"));
    let even = with("2 m");
    let own = row(&even, &tape);
    assert_eq!((own.needed, own.order), (Figure::count(1), 2));
    // An offcut shorter than the shortest piece replaces nothing whole.
    let short = with("2.5 m");
    assert_eq!(row(&short, &tape).order, 2);
}
