//! Short ways to write a problem, and a check that every assignment must pass.

use evenrun::choose::devices::{
    self, Assignment, SupplyError, SupplyKind, SupplyLoad, SupplyProblem,
};
use evenrun::progress::Progress;
use evenrun::quantity::{amps, fraction, volts, watts};
use std::collections::BTreeSet;

pub fn load(id: &str, milliwatts: u32, zone: &str) -> SupplyLoad {
    SupplyLoad {
        id: id.into(),
        volts: volts(24.0),
        current: amps(f64::from(milliwatts) / 24_000.0),
        power: watts(f64::from(milliwatts) / 1000.0),
        zone: zone.into(),
        place: "cupboard".into(),
        emergency: false,
    }
}

pub fn kind(name: &str, rated: f64, outputs: u32, output: f64, price: u64) -> SupplyKind {
    SupplyKind {
        name: name.into(),
        volts: volts(24.0),
        power: watts(rated),
        outputs,
        output_current: amps(output),
        derating: fraction(1.0),
        price,
    }
}

pub fn problem(kinds: &[SupplyKind], milliwatts: &[u32]) -> SupplyProblem {
    let mut problem = SupplyProblem::new("demo");
    problem.kinds = kinds.to_vec();
    for (n, &power) in milliwatts.iter().enumerate() {
        problem.loads.push(load(&format!("l{n:04}"), power, "hall"));
    }
    problem
}

pub fn assign(problem: &SupplyProblem) -> Result<Assignment, SupplyError> {
    let checked = problem.clone().check().expect("the problem has no faults");
    let found = devices::assign(&checked, &mut Progress::silent())?;
    verify(problem, &found);
    Ok(found)
}

/// Every load once, each unit within every limit of its kind, figures that add up.
pub fn verify(problem: &SupplyProblem, found: &Assignment) {
    let mut seen = BTreeSet::new();
    for unit in &found.units {
        let kind = problem
            .kinds
            .iter()
            .find(|k| k.name == unit.kind)
            .expect("a listed kind");
        assert!(
            unit.outputs.len() <= kind.outputs as usize,
            "too many outputs: {unit:?}"
        );
        let mut power = 0.0;
        let mut zones = BTreeSet::new();
        for output in &unit.outputs {
            let mut current = 0.0;
            for id in &output.loads {
                assert!(seen.insert(id.clone()), "{id} twice");
                let load = problem
                    .loads
                    .iter()
                    .find(|l| &l.id == id)
                    .expect("a listed load");
                assert_eq!(
                    (&load.place, load.emergency, load.volts),
                    (&unit.place, unit.emergency, kind.volts)
                );
                current += load.current.value;
                power += load.power.value;
                zones.insert(load.zone.as_str());
            }
            assert!(
                current <= kind.output_current.value + 1e-4,
                "output overloaded: {unit:?}"
            );
        }
        let most = kind.power.value * kind.derating.value * problem.load_factor.value;
        assert!(power <= most + 1e-4, "overloaded: {power} > {most}");
        for (a, b) in &problem.rules.separate {
            assert!(
                !(zones.contains(a.as_str()) && zones.contains(b.as_str())),
                "{a} with {b}"
            );
        }
    }
    assert_eq!(seen.len(), problem.loads.len(), "a load is missing");
    for installed in &problem.rules.installed {
        for id in &installed.loads {
            assert!(found.units.iter().any(|b| {
                b.installed.as_ref() == Some(&installed.name)
                    && b.outputs.iter().any(|o| o.loads.contains(id))
            }));
        }
    }
    let free = problem.kinds.iter().all(|k| k.price == 0);
    let price = |name: &str| {
        let kind = problem
            .kinds
            .iter()
            .find(|k| k.name == name)
            .expect("a kind");
        if free { 1 } else { kind.price }
    };
    let bought = found
        .units
        .iter()
        .filter(|b| b.installed.is_none())
        .map(|b| price(&b.kind));
    let cost: u64 = bought
        .chain(found.spares.iter().map(|s| price(&s.kind)))
        .sum();
    assert_eq!(cost, found.cost);
    assert!(found.lower_bound <= found.cost);
    assert_eq!(found.proven, found.gap() == 0);
    for room in &problem.rules.rooms {
        let units = found.units.iter().filter(|b| b.place == room.place).count();
        let spares = found
            .spares
            .iter()
            .filter(|s| s.place == room.place)
            .count();
        assert!(
            units + spares <= room.most as usize,
            "{} holds too many",
            room.place
        );
    }
}
