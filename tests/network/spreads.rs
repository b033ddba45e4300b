//! Ranges under tolerance.
use crate::build::*;
use crate::strategies::*;
use evenrun::network::*;
use evenrun::quantity::*;
use proptest::prelude::*;

const TOLERANCES: fn() -> Tolerances = || Tolerances {
    copper: percent(10.0),
    cells: percent(8.0),
};
const SAMPLING: Sampling = Sampling {
    samples: 60,
    seed: 7,
};

/// A factor each for links, rails and cells: low, nominal or high.
fn varied(case: &OneLoop, roll: &[u8], cells: &[u8]) -> (NetworkSpec, TapeId) {
    let factor = |r: u8, t: f64| 1.0 + t * (f64::from(r % 3) - 1.0);
    let (mut spec, tape) = case.network();
    let links = case.links.len();
    let mut rolls = roll.iter().cycle().copied();
    let mut next = |t| factor(rolls.next().unwrap_or(1), t);
    for rail in spec.tapes.iter_mut().flat_map(|t| {
        std::iter::once(&mut t.common).chain(t.emitters.iter_mut().map(|e| &mut e.rail))
    }) {
        rail.links = Along::Each(
            (0..links)
                .map(|k| rail.links.get(k).unwrap() * next(0.10))
                .collect(),
        );
        rail.attachments
            .iter_mut()
            .for_each(|a| a.resistance *= next(0.10));
    }
    spec.sources[0].set_point *= next(0.02);
    let each: Vec<_> = (0..=links)
        .map(|k| {
            spec.laws[0]
                .times(factor(cells[k % cells.len()], 0.08))
                .unwrap()
        })
        .collect();
    for (k, law) in each.into_iter().enumerate() {
        let law = spec.law(law);
        spec.tapes[0].emitters[0].exceptions.push((k, law));
    }
    (spec, tape)
}

proptest! {
    #![proptest_config(config(150))]

    /// One loop: no combination of parts, each varied apart, leaves the proved range, of a voltage or of a current.
    #[test]
    fn nothing_leaves_a_proved_range(
        case in one_loop(any_law(), 15),
        cell in 0_usize..15,
        rolls in prop::collection::vec((prop::collection::vec(any::<u8>(), 40), prop::collection::vec(any::<u8>(), 15)), 6),
    ) {
        let mut case = case;
        case.feeds.truncate(1);
        let cell = cell % (case.links.len() + 1);
        let (mut spec, tape) = case.network();
        spec.sources[0].tolerance = percent(2.0);
        // Below every knee no current says which links are in series.
        prop_assume!(solved(spec.clone(), |s| s.source_current(SourceId(0)).unwrap().value) > 0.0);
        for figure in [Figure::CellVoltage { tape, emitter: 0, cell }, Figure::CellCurrent { tape, emitter: 0, cell }] {
            let range = spread(&spec, TOLERANCES(), SAMPLING, figure, &mut Workspace::new()).unwrap();
            if range.nominal == 0.0 { continue; }
            prop_assert_eq!(range.grounds, Grounds::Proved);
            prop_assert!(range.lowest <= range.nominal + 2e-9 && range.nominal <= range.highest + 2e-9, "{:?}", range);
            for (roll, cells) in &rolls {
                let (varied, _) = varied(&case, roll, cells);
                let found = solved(varied, |s| figure_value(s, figure).unwrap());
                prop_assert!(found >= range.lowest - 3e-9 && found <= range.highest + 3e-9, "{} outside {:?}", found, range);
            }
        }
    }
}

/// Two emitters: sampled, said so, and the same for the same seed.
#[test]
fn several_emitters_are_sampled() {
    let mut spec = NetworkSpec::new();
    let (plus, minus) = (spec.node("plus"), spec.node("minus"));
    spec.stiff_source("supply", plus, minus, volts(24.0));
    let laws = [
        spec.law(string("white", 6, 300.0)),
        spec.law(string("red", 6, 600.0)),
    ];
    let rail = |node| RailSpec::uniform(ohms(0.05), vec![Attachment::through(0, node, ohms(0.1))]);
    let emitters = vec![
        emitter("white", laws[0], rail(minus)),
        emitter("red", laws[1], rail(minus)),
    ];
    spec.tape(TapeSpec {
        name: "tape".into(),
        polarity: Polarity::CommonPlus,
        cells: 10,
        common: rail(plus),
        emitters,
    });
    let figure = Figure::CellVoltage {
        tape: TapeId(0),
        emitter: 1,
        cell: 9,
    };
    let at = |seed| {
        spread(
            &spec,
            TOLERANCES(),
            Sampling { seed, ..SAMPLING },
            figure,
            &mut Workspace::new(),
        )
        .unwrap()
    };
    assert_eq!(at(1), at(1));
    assert_ne!(at(1), at(2));
    assert_eq!(at(1).grounds, Grounds::Sampled(60));
    assert!(at(1).lowest < at(1).nominal && at(1).nominal < at(1).highest);
    let nowhere = Figure::CellVoltage {
        tape: TapeId(0),
        emitter: 1,
        cell: 10,
    };
    let error = spread(
        &spec,
        TOLERANCES(),
        SAMPLING,
        nowhere,
        &mut Workspace::new(),
    )
    .expect_err("an error");
    assert!(error.to_string().contains("does not exist"));
    let wide = Tolerances {
        copper: percent(95.0),
        cells: percent(0.0),
    };
    assert!(
        spread(&spec, wide, SAMPLING, figure, &mut Workspace::new())
            .expect_err("an error")
            .to_string()
            .contains("0 to 0.9")
    );
}
