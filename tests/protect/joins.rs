//! Joins over every conductor, compared with a search of the same copper done another way.
use crate::build::*;
use evenrun::protect::*;
use evenrun::quantity::*;
use proptest::prelude::*;

/// Outputs of as many units, and ties between any of their poles and a few loose points.
fn copper() -> impl Strategy<Value = (usize, Vec<(usize, usize, u8)>)> {
    (2_usize..6).prop_flat_map(|outputs| {
        let points = outputs * 2 + 4;
        let tie = (0..points, 0..points, 0_u8..6);
        (Just(outputs), prop::collection::vec(tie, 0..10))
    })
}

fn spec_of(outputs: usize, ties: &[(usize, usize, u8)]) -> ProtectionSpec {
    let mut spec = ProtectionSpec::new();
    for output in 0..outputs {
        class_2(&mut spec, &format!("S{output}"));
    }
    for loose in 0..4 {
        spec.point(format!("loose {loose}"));
    }
    for (number, &(from, to, kind)) in ties.iter().enumerate() {
        let (from, to, name) = (PointId(from), PointId(to), format!("tie {number}"));
        match kind {
            0 => spec.join(name, JoinKind::UncutTape, from, to),
            1 => spec.join(name, JoinKind::SharedPole, from, to),
            2 => spec.join(name, JoinKind::DataCommon, from, to),
            3 => spec.join(name, JoinKind::Inside, from, to),
            4 => spec.join(name, JoinKind::EarthBond, from, to),
            _ => {
                spec.conductor(ConductorSpec::plain(name, from, to, amps(1.0)));
            }
        }
    }
    spec
}

/// Points that copper reaches from one, by spreading until nothing changes; earth bonds are no copper of the circuit.
fn reached(points: usize, ties: &[(usize, usize, u8)], from: usize) -> Vec<bool> {
    let mut seen = vec![false; points];
    seen[from] = true;
    loop {
        let before = seen.clone();
        for &(a, b, kind) in ties {
            if kind != 4 && (seen[a] || seen[b]) {
                seen[a] = true;
                seen[b] = true;
            }
        }
        if seen == before {
            return seen;
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    #[test]
    fn union_finds_what_spreading_finds((outputs, ties) in copper()) {
        let report = judged(&spec_of(outputs, &ties));
        let points = outputs * 2 + 4;
        for k in 0..outputs {
            let (plus, minus) = (reached(points, &ties, 2 * k), reached(points, &ties, 2 * k + 1));
            let mut expected: Vec<usize> = (0..outputs)
                .filter(|&m| m != k)
                .filter(|&m| [2 * m, 2 * m + 1].iter().any(|&pole| plus[pole] || minus[pole]))
                .collect();
            let tied = report.tied.iter().find(|tied| tied.output == k);
            let mut with = tied.map_or(Vec::new(), |tied| tied.with.clone());
            with.sort_unstable();
            expected.sort_unstable();
            prop_assert_eq!(&with, &expected, "output {}", k);
            let side_by_side = (0..outputs).any(|m| m != k && plus[2 * m]);
            prop_assert_eq!(tied.is_some_and(|t| t.paralleled), side_by_side, "output {}", k);
            let name = format!("S{k}");
            prop_assert_eq!(found(&report, "class-2-alone", &name).is_fail(), !expected.is_empty());
            // What ties it is named, and is copper.
            if let Some(tied) = tied {
                prop_assert!(!tied.through.is_empty() || ties.is_empty());
                for tie in &tied.through {
                    let number: usize = tie.to_string().trim_start_matches("tie ").parse().unwrap();
                    prop_assert!(ties[number].2 != 4, "{} is an earth bond", tie);
                }
            }
        }
        let bonds = ties.iter().filter(|tie| tie.2 == 4).count();
        prop_assert_eq!(report.earth_bonds.len(), bonds);
    }

    /// One tie more never frees an output.
    #[test]
    fn a_tie_never_unties((outputs, ties) in copper(), from in 0_usize..8, to in 0_usize..8) {
        let before = judged(&spec_of(outputs, &ties));
        let mut more = ties;
        more.push((from, to, 2));
        let after = judged(&spec_of(outputs, &more));
        for tied in &before.tied {
            let now = after.tied.iter().find(|t| t.output == tied.output);
            prop_assert!(now.is_some_and(|now| tied.with.iter().all(|m| now.with.contains(m))));
        }
    }
}
