//! Cases that go wrong easily, worked by hand.

use crate::build::{assign, kind, load, problem};
use evenrun::choose::devices::{
    self, DecoderKind, DecoderLoad, DecoderProblem, Installed, Limit, Room, Spares, SupplyError,
    SupplyFault,
};
use evenrun::progress::{Go, Progress, Step};
use evenrun::quantity::{amps, fraction, volts, watts};

/// 96 W at the customary 0.8 carry 76.8 W: 2 × 38.4 W exactly, though 96 · 0.8 in binary
/// is 76.80000000000001, and one thousandth of a watt more needs a second supply.
#[test]
fn the_load_factor_is_met_exactly() {
    let kinds = [kind("96 W", 96.0, 1, 4.0, 10)];
    assert_eq!(
        assign(&problem(&kinds, &[38_400, 38_400]))
            .expect("a plan")
            .units
            .len(),
        1
    );
    assert_eq!(
        assign(&problem(&kinds, &[38_400, 38_401]))
            .expect("a plan")
            .units
            .len(),
        2
    );
}

/// Four outputs of 4 A take 16 A in sum, but not five loads of 2.5 A: one each, and none
/// shares. The limit that binds is the outputs', not the power.
#[test]
fn outputs_bind_where_the_power_does_not() {
    let kinds = [kind("480 W", 480.0, 4, 4.0, 10)];
    let found = assign(&problem(&kinds, &[60_000; 5])).expect("a plan");
    assert_eq!((found.units.len(), found.proven), (2, true));
    assert_eq!(found.binding.len(), 1);
    assert_eq!(
        (found.binding[0].limit, found.binding[0].cost_without),
        (Limit::Outputs, 10)
    );
}

/// Derated to 75 % and loaded to 80 %, 100 W carry 60 W: three loads of 25 W need two.
#[test]
fn derating_and_load_factor_multiply() {
    let mut hot = kind("100 W", 100.0, 1, 8.0, 7);
    hot.derating = fraction(0.75);
    assert_eq!(
        assign(&problem(&[hot], &[25_000; 3]))
            .expect("a plan")
            .units
            .len(),
        2
    );
}

/// Zones marked separate, places, voltages and the emergency tag each part two loads that
/// one supply could carry.
#[test]
fn what_must_not_share_does_not() {
    let kinds = [kind("240 W", 240.0, 1, 20.0, 10)];
    let plain = problem(&kinds, &[20_000; 2]);
    assert_eq!(assign(&plain).expect("a plan").units.len(), 1);
    let mut zones = plain.clone();
    zones.loads[1].zone = "stage".into();
    assert_eq!(assign(&zones).expect("a plan").units.len(), 1);
    zones.rules.separate.push(("stage".into(), "hall".into()));
    let found = assign(&zones).expect("a plan");
    assert_eq!(found.units.len(), 2);
    assert_eq!(found.binding[0].limit, Limit::Separation);
    let mut places = plain.clone();
    places.loads[1].place = "attic".into();
    assert_eq!(assign(&places).expect("a plan").units.len(), 2);
    let mut emergency = plain.clone();
    emergency.loads[1].emergency = true;
    assert_eq!(assign(&emergency).expect("a plan").units.len(), 2);
    let mut other = plain;
    other.loads[1].volts = volts(12.0);
    let mut low = kind("12 V", 100.0, 1, 9.0, 5);
    low.volts = volts(12.0);
    other.kinds.push(low);
    assert_eq!(assign(&other).expect("a plan").cost, 15);
}

/// Without spares the mix is cheapest: 90 + 50 = 140 against 2 · 90 = 180. With one spare
/// of each kind the mix costs 280 and the large kind alone 3 · 90 = 270.
#[test]
fn spares_make_one_kind_cheaper_than_two() {
    let kinds = [
        kind("big", 100.0, 1, 9.0, 90),
        kind("small", 40.0, 1, 9.0, 50),
    ];
    let mut job = problem(&kinds, &[78_000, 30_000]);
    assert_eq!(assign(&job).expect("a plan").cost, 140);
    job.rules.spares = Spares::OneOfEachKind;
    let found = assign(&job).expect("a plan");
    assert_eq!(
        (found.cost, found.spares.len(), found.proven),
        (270, 1, true)
    );
}

/// A room for two units holds one and its spare; a second unit does not fit.
#[test]
fn rooms_count_spares_and_installed_bodies() {
    let kinds = [kind("96 W", 96.0, 1, 4.0, 10)];
    let mut job = problem(&kinds, &[70_000]);
    job.rules.rooms.push(Room {
        place: "cupboard".into(),
        most: 2,
    });
    job.rules.spares = Spares::OneOfEachKind;
    assert_eq!(assign(&job).expect("a plan").cost, 20);
    job.loads.push(load("more", 70_000, "hall"));
    assert!(matches!(assign(&job), Err(SupplyError::NotEnough { .. })));
}

/// What is installed stays, costs nothing, and takes another load where it has room.
#[test]
fn installed_supplies_are_kept_and_filled() {
    let kinds = [kind("96 W", 96.0, 1, 4.0, 10)];
    let mut job = problem(&kinds, &[30_000; 3]);
    job.rules.installed.push(Installed {
        name: "old".into(),
        kind: "96 W".into(),
        place: "cupboard".into(),
        volts: volts(24.0),
        emergency: false,
        loads: vec!["l0002".into()],
    });
    let found = assign(&job).expect("a plan");
    assert_eq!((found.cost, found.units.len()), (10, 2));
    job.loads.pop();
    job.rules.installed[0].loads = vec!["l0000".into()];
    assert_eq!(assign(&job).expect("a plan").cost, 0);
}

/// Two strips of three emitters: of one zone they share three outputs, of two zones they
/// need six; the unit's current binds before the outputs' do.
#[test]
fn decoder_outputs_follow_zones_and_emitters() {
    let mut job = DecoderProblem::new("demo");
    job.kinds.push(DecoderKind {
        name: "four outputs".into(),
        volts: (volts(12.0), volts(24.0)),
        outputs: 4,
        output_current: amps(5.0),
        total_current: amps(15.0),
        price: 30,
    });
    let strip = |id: &str, zone: &str, each: f64| DecoderLoad {
        id: id.into(),
        volts: volts(24.0),
        emitters: ["red", "green", "blue"]
            .map(|e| (e.to_owned(), amps(each)))
            .into(),
        zone: zone.into(),
        place: "cupboard".into(),
        emergency: false,
    };
    let count = |job: &DecoderProblem| {
        let checked = job.clone().check().expect("no faults");
        let found = devices::assign(&checked, &mut Progress::silent()).expect("a plan");
        assert!(found.proven);
        (
            found.units.len(),
            found.units.iter().map(|b| b.outputs.len()).sum::<usize>(),
        )
    };
    job.loads = vec![strip("a", "hall", 2.0), strip("b", "hall", 2.0)];
    assert_eq!(count(&job), (1, 3));
    job.loads[1].zone = "stage".into();
    assert_eq!(count(&job), (2, 6));
    job.loads = vec![
        strip("a", "hall", 2.6),
        strip("b", "hall", 2.4),
        strip("c", "hall", 0.1),
    ];
    assert_eq!(count(&job), (2, 6));
}

/// All faults at once, each with its place; nothing panics on the worst numbers.
#[test]
fn hostile_problems_are_refused_whole() {
    let mut job = problem(&[kind("96 W", 96.0, 1, 4.0, 10)], &[30_000; 4]);
    job.loads[0].power = watts(f64::NAN);
    job.loads[1].current = amps(-1.0);
    job.loads[2].id = "l0003".into();
    job.load_factor = fraction(1.5);
    job.kinds
        .push(kind("96 W", f64::INFINITY, 0, 1e-300, u64::MAX));
    let faults = job.check().expect_err("faults");
    assert!(faults.len() >= 7, "{faults:?}");
    let mut heavy = problem(&[kind("96 W", 96.0, 1, 4.0, 10)], &[90_000]);
    assert!(matches!(
        heavy.clone().check().expect_err("too heavy")[..],
        [SupplyFault::NoKind { .. }]
    ));
    heavy.kinds.clear();
    assert!(heavy.check().is_err());
    let mut same = problem(&[kind("96 W", 96.0, 1, 4.0, 10)], &[30_000]);
    same.rules.separate.push(("hall".into(), "hall".into()));
    assert!(matches!(
        same.check().expect_err("self")[..],
        [SupplyFault::SelfSeparate { .. }]
    ));
    let nothing = problem(&[], &[]);
    assert_eq!(assign(&nothing).expect("nothing to do").cost, 0);
    let many = problem(
        &[kind("96 W", 96.0, 1, 4.0, 10)],
        &vec![30_000; devices::MOST_LOADS + 1],
    );
    assert!(matches!(
        many.check().expect_err("many")[..],
        [SupplyFault::TooMany { .. }]
    ));
}

/// A large job shows its gap, keeps every limit, and can be cancelled.
#[test]
fn large_jobs_show_their_gap() {
    let sizes: Vec<u32> = (0..1_000u32)
        .map(|n| 8_000 + (n * n * 37 + n * 811) % 61_000)
        .collect();
    let kinds = [
        kind("96 W", 96.0, 2, 4.0, 4_000),
        kind("240 W", 240.0, 4, 5.0, 8_700),
    ];
    let mut job = problem(&kinds, &sizes);
    let found = assign(&job).expect("a plan");
    assert!(
        found.gap() * 20 < found.cost,
        "gap {} on {}",
        found.gap(),
        found.cost
    );
    job.rules.effort = 2_000;
    let checked = job.check().expect("no faults");
    let mut stop = |_: Step| Go::Cancel;
    match devices::assign(&checked, &mut Progress::new(&mut stop)) {
        Ok(found) => assert!(found.lower_bound <= found.cost),
        Err(error) => {
            assert!(matches!(
                error,
                SupplyError::Cancelled { .. } | SupplyError::NotFound { .. }
            ));
        }
    }
}

/// Kinds that cost nothing beside one that does: the next best costs nothing either, and nothing is looked for below.
#[test]
fn the_next_best_of_kinds_that_cost_nothing() {
    let at_12 = |name: &str, price: u64| {
        let mut kind = kind(name, 96.0, 2, 4.0, price);
        kind.volts = volts(12.0);
        kind
    };
    let kinds = [
        kind("24 V, there", 96.0, 2, 4.0, 0),
        kind("24 V, there too", 100.0, 2, 4.0, 0),
        at_12("other volts, there", 0),
        at_12("other volts, bought", 900),
    ];
    let mut job = problem(&kinds, &[20_000, 30_000]);
    job.loads[1].volts = volts(12.0);
    let found = assign(&job).expect("a plan");
    assert_eq!((found.cost, found.lower_bound), (0, 0));
    let next = found.runner_up.expect("without the first 24 V kind");
    assert_eq!(next.cost, 0);
    assert!(next.differs.contains("24 V"), "{}", next.differs);
}
