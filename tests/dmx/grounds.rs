//! Supply minuses of devices on one line, and what a job keeps to, by text.

use evenrun::device::PortIsolation;
use evenrun::dmx::chain::{ChainSpec, Ground, Habits, LineCable, Part};
use evenrun::finding::{Finding, Limit, Verdict};
use evenrun::quantity::{metres, ohms, volts};
use evenrun::rules::words;

const JOINED: PortIsolation = PortIsolation::Joined;
const ISOLATED: PortIsolation = PortIsolation::Isolated;
const UNKNOWN: PortIsolation = PortIsolation::Unknown;

/// Isolation of a port; its supply, least and most volts of its minus above that supply's.
type Port<'a> = (PortIsolation, Option<(&'a str, f64, f64)>);

/// A chain of ports: isolation, supply, least and most volts of the minus above that supply's.
fn finding(ports: &[Port<'_>]) -> Finding {
    let mut chain = ChainSpec::new("t", LineCable::data_pair(24));
    for (n, (isolation, ground)) in ports.iter().enumerate() {
        let mut part = Part::device(format!("D{}", n + 1), metres(5.0));
        part = part.port("1/8".parse().expect("a load"), *isolation);
        part.ground = ground.map(|(reference, least, most)| Ground {
            reference: reference.to_string(),
            least: volts(least),
            most: volts(most),
        });
        chain.next(part);
    }
    chain.terminate(ohms(120.0));
    let findings = chain.check().expect("a tree").judge();
    let mut own = findings
        .into_iter()
        .filter(|f| f.rule.as_str() == "chain-ground-offset");
    let finding = own.next().expect("judged once a link");
    assert!(own.next().is_none());
    assert_eq!(
        finding.source.to_string(),
        "TIA-485-A, 1998 (R2003), clause 4.3.1: -7 to +12 V at a receiver; clause 4.2.2: a driver's offset -1 to +3 V (quoted)"
    );
    finding
}

/// Hand case: -7 V at a receiver less -1 V of a driver leaves 6 V between two commons.
#[test]
fn six_volts_between_two_minuses() {
    let apart = |most: f64| {
        finding(&[
            (JOINED, Some(("PS", 0.0, most))),
            (JOINED, Some(("PS", 0.0, 0.4))),
        ])
    };
    let held = apart(5.9);
    assert_eq!(held.verdict, Verdict::Pass);
    assert_eq!(words(&held).figure, "5.90 V between D1 and D2");
    assert_eq!(
        words(&held).limit,
        "at most 6 V: receivers accept -7 V, of which driver offset may take -1 V"
    );
    assert_eq!(apart(6.0).verdict, Verdict::AtLimit);
    let broken = apart(6.1);
    assert!(broken.is_fail());
    assert_eq!(words(&broken).figure, "6.10 V between D1 and D2");
    assert!(apart(f64::NAN).is_fail() && apart(f64::NAN).figure.is_none());
    assert_eq!(held.limit, Some(Limit::AtMost(volts(6.0).into())));
    // Both stand high whatever is lit: only the difference counts.
    let both = finding(&[
        (JOINED, Some(("PS", 8.0, 9.0))),
        (JOINED, Some(("PS", 8.5, 8.6))),
    ]);
    assert_eq!(words(&both).figure, "0.60 V between D2 and D1");
}

#[test]
fn isolated_ports_have_no_offset() {
    let far = Some(("PS", 0.0, 9.0));
    let finding_of = |ports: &[Port<'_>]| {
        let finding = finding(ports);
        assert_eq!(finding.verdict, Verdict::Pass);
        words(&finding).says
    };
    assert_eq!(
        finding_of(&[(ISOLATED, far), (ISOLATED, None)]),
        "every port is isolated from its supply minus"
    );
    assert_eq!(
        finding_of(&[(ISOLATED, far), (JOINED, None)]),
        "only D2 is connected to its supply minus: no offset can arise"
    );
}

#[test]
fn what_is_not_known_is_said() {
    let why = |ports: &[Port<'_>]| {
        let finding = finding(ports);
        assert!(finding.is_not_evaluated(), "{finding:?}");
        words(&finding).reason
    };
    assert_eq!(
        why(&[(JOINED, Some(("PS", 0.0, 1.0))), (JOINED, None)]),
        "the potential of the supply minus at D2 is not known"
    );
    assert_eq!(
        why(&[
            (JOINED, Some(("PS2", 0.0, 1.0))),
            (JOINED, Some(("PS1", 0.0, 1.0)))
        ]),
        "the ports are referenced to the supply minus of PS1, PS2; the offset between these is not stated"
    );
    // Over the limit only if a port of unknown isolation is joined.
    assert_eq!(
        why(&[
            (JOINED, Some(("PS", 0.0, 1.0))),
            (UNKNOWN, Some(("PS", 0.0, 7.0)))
        ]),
        "isolation not stated: D2"
    );
    // Within the limit whatever the isolation is.
    let safe = finding(&[
        (UNKNOWN, Some(("PS", 0.0, 1.0))),
        (UNKNOWN, Some(("PS", 0.0, 2.0))),
    ]);
    assert_eq!(
        (safe.verdict, words(&safe).figure.as_str()),
        (Verdict::Pass, "2.00 V between D2 and D1")
    );
    // A pair that is surely over the limit fails, whatever else is unknown.
    assert!(
        finding(&[
            (JOINED, Some(("PS", 0.0, 7.0))),
            (JOINED, Some(("PS", 0.0, 1.0))),
            (UNKNOWN, None)
        ])
        .is_fail()
    );
}

#[test]
fn limits_of_the_job_replace_the_habits() {
    let judged = |habits: Habits, cable: LineCable, id: &str| {
        let mut chain = ChainSpec::new("t", cable);
        chain.habits = habits;
        for n in 1..=21 {
            chain.next(Part::device(format!("D{n}"), metres(4.0)));
        }
        chain.terminate(ohms(120.0));
        let findings = chain.check().expect("a tree").judge();
        findings
            .into_iter()
            .find(|finding| finding.rule.as_str() == id)
    };
    let pair = LineCable::data_pair(24);
    let habit = judged(Habits::default(), pair, "chain-devices-habit").expect("judged");
    assert!(habit.is_fail() && habit.source.to_string().starts_with("common practice"));
    assert_eq!(
        words(&habit).says,
        "21 devices on one chain; good practice: 20 at most"
    );
    let own = Habits {
        devices: 24,
        length: Some(metres(80.0)),
        ..Habits::default()
    };
    let kept = judged(own.clone(), pair, "chain-devices-habit").expect("judged");
    assert_eq!(
        (kept.verdict, words(&kept).limit.as_str()),
        (Verdict::Pass, "at most 24 devices")
    );
    assert!(kept.source.to_string().contains("limits of the job"));
    // 84 m: no habit holds on a data pair, 300 ft on category cable, and what the job says on either.
    assert!(judged(Habits::default(), pair, "chain-length-habit").is_none());
    let category = judged(
        Habits::default(),
        LineCable::shielded_category(),
        "chain-length-habit",
    )
    .expect("judged");
    assert_eq!(
        (category.verdict, words(&category).limit.as_str()),
        (Verdict::Pass, "at most 91.44 m (300 ft)")
    );
    for cable in [pair, LineCable::shielded_category()] {
        let stated = judged(own.clone(), cable, "chain-length-habit").expect("judged");
        assert!(stated.is_fail());
        assert_eq!(
            (
                words(&stated).figure.as_str(),
                words(&stated).limit.as_str()
            ),
            ("84.0 m", "at most 80.0 m")
        );
    }
}
