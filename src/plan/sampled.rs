//! Ten thousand builds within the tolerances of five jobs, against the bands of their readings.
//!
//! A build has one set point for each output, a resistance of its own for each lead and feeder, joints anywhere between none
//! and what is stated, and for each segment tape whose emitters, rails and temperature are its own. A good half of all draws
//! stands at an end of its tolerance, where the extremes are.

use super::{facts, feeding, joined, laid};
use crate::job::Job;
use crate::network::Workspace;
use crate::progress::Progress;
use crate::quantity::{
    Corner, Corners, ElectricalResistance, celsius, fraction, in_celsius, ohms, volts,
};
use crate::segment::{Build, Circuit};
use crate::strip::{CornerSet, StripSpec, TapeModel};

/// Jobs with their names.
const JOBS: [(&str, &str); 5] = [
    ("demo", include_str!("../../examples/archive_wing.toml")),
    ("corner", include_str!("../../tests/jobs/corner.toml")),
    (
        "several places",
        include_str!("../../tests/jobs/several_places.toml"),
    ),
    ("12 V", include_str!("../../tests/jobs/twelve_volt.toml")),
    ("us units", include_str!("../../tests/jobs/us_units.toml")),
];
/// Builds of each.
const BUILDS: usize = 2000;
/// Sampled tapes of each strip.
const TAPES: usize = 40;

/// Numbers without a pattern (xorshift).
struct Dice(u64);

impl Dice {
    fn next(&mut self, below: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % below
    }

    fn unit(&mut self) -> f64 {
        self.next(1 << 32) as f64 / f64::from(u32::MAX)
    }

    /// Between two figures; as often as not one of them.
    fn between(&mut self, a: f64, b: f64) -> f64 {
        match self.next(4) {
            0 => a,
            1 => b,
            _ => a + (b - a) * self.unit(),
        }
    }
}

/// A tape as it may come: each emitter and each rail by itself, all of one temperature.
fn tape(job: &Job, strip: &StripSpec, dice: &mut Dice) -> TapeModel {
    let stated = facts::corner_set(job.limits());
    let at = celsius(dice.between(in_celsius(stated.cell.low), in_celsius(stated.cell.high)));
    let mut draw = |all: f64| {
        let off = dice.between(-all, all);
        let end = if off < 0.0 { Corner::Low } else { Corner::High };
        let corners = CornerSet {
            conductor: Corners {
                low: at,
                nominal: stated.conductor.nominal,
                high: at,
            },
            cell: Corners {
                low: at,
                nominal: stated.cell.nominal,
                high: at,
            },
            rail_tolerance: fraction(off.abs()),
            current_tolerance: fraction(off.abs()),
            current_margin: fraction(0.0),
        };
        let model = strip.model(&corners);
        (model.unwrap_or_else(|e| panic!("{e:?}")), end)
    };
    let (mut out, end) = draw(stated.rail_tolerance.value);
    out.common = Corners::same(out.common[end]);
    for at in 0..out.emitters.len() {
        let (model, end) = draw(stated.rail_tolerance.value);
        out.emitters[at].rail = Corners::same(model.emitters[at].rail[end]);
        let (model, end) = draw(stated.current_tolerance.value);
        let law = model.emitters[at].law[end].clone();
        out.emitters[at].law = Corners::same(law);
    }
    out
}

/// A build of a circuit.
fn build<'t>(of: &Circuit<'t>, tapes: &'t [Vec<TapeModel>], dice: &mut Dice) -> Circuit<'t> {
    let mut own = of.clone();
    let sampled = |all: &Corners<ElectricalResistance>, dice: &mut Dice| {
        Corners::same(ohms(dice.between(all.low.value, all.high.value)))
    };
    let set_point = dice.between(of.set_point.low.value, of.set_point.high.value);
    own.set_point = Corners::same(volts(set_point));
    for branch in &mut own.branches {
        branch.lead = sampled(&branch.lead, dice);
        for segment in &mut branch.segments {
            let like = tapes.iter().find(|all| all[0].strip == segment.tape.strip);
            let like = like.unwrap_or_else(|| panic!("{}", segment.tape.strip));
            segment.tape = &like[dice.next(TAPES as u64) as usize];
            for joint in &mut segment.joints {
                joint.common *= dice.between(0.0, 1.0);
                joint.returns *= dice.between(0.0, 1.0);
            }
            for feeder in &mut segment.feeders {
                feeder.core = sampled(&feeder.core, dice);
            }
        }
    }
    own
}

#[test]
fn sampled_builds_lie_in_their_bands() {
    let mut read = 0_u64;
    // How near to the ends of its band a reading came, as a share of the band.
    let (mut least, mut most) = (1.0_f64, 0.0_f64);
    for (number, (name, text)) in JOBS.into_iter().enumerate() {
        let job = crate::job::read(text, name).unwrap_or_else(|f| panic!("{f}"));
        let mut progress = Progress::silent();
        let mut work = Workspace::new();
        let mut findings = Vec::new();
        let models = facts::tapes(&job, &mut findings);
        let mut runs = laid::lay_out(&job, &models, &mut findings);
        let all: Vec<usize> = (0..runs.len()).collect();
        feeding::feed(&job, &mut runs, &all, &models, &mut progress);
        let joint = joined::join(&job, &runs, &models, None, &mut work, &mut progress);
        let readings = joint.readings(&job, &runs, &models, &mut work);
        let mut dice = Dice(0x0005_EED0 + number as u64);
        let used = runs.iter().map(|run| run.tape);
        let used: std::collections::BTreeSet<usize> = used.collect();
        let tapes: Vec<Vec<TapeModel>> = used
            .into_iter()
            .map(|at| {
                (0..TAPES)
                    .map(|_| tape(&job, &job.strips()[at], &mut dice))
                    .collect()
            })
            .collect();
        let parts = joint.parts(&job, &runs, &models);
        let circuits: Vec<Circuit<'_>> = joint
            .joined
            .iter()
            .map(|own| parts.circuit(&joint.units[own.unit], &own.decoder_units))
            .collect::<Result<_, _>>()
            .unwrap_or_else(|why| panic!("{name}: {why}"));
        for _ in 0..BUILDS {
            let at = dice.next(circuits.len() as u64) as usize;
            let own = build(&circuits[at], &tapes, &mut dice);
            let own = own.check().unwrap_or_else(|e| panic!("{name}: {e:?}"));
            let nominal = Build::from(Corner::Nominal);
            let found = own.solve_build(nominal, &mut work);
            let found = found.unwrap_or_else(|e| panic!("{name}: {e}"));
            // Volts of every cell, the weakest emitter of each increment, by branch and segment.
            let cells = own.operating_point(nominal, 0, &mut work, |point| {
                let segments = own.circuit().branches.iter().enumerate();
                let segments = segments.map(|(b, branch)| {
                    let all = (0..branch.segments.len()).map(|s| {
                        let own = point.segment(b, s).unwrap_or_else(|| panic!("{name}"));
                        let mut all = vec![f64::INFINITY; own.cell_volts(0).count()];
                        for place in 0..own.lit().len() {
                            for (least, volts) in all.iter_mut().zip(own.cell_volts(place)) {
                                *least = least.min(volts);
                            }
                        }
                        all
                    });
                    all.collect::<Vec<_>>()
                });
                segments.collect::<Vec<_>>()
            });
            let cells = cells.unwrap_or_else(|e| panic!("{name}: {e}"));
            let mut inside = |what: &str, figure: f64, band: Corners<f64>| {
                read += 1;
                if band.high > band.low {
                    let along = (figure - band.low) / (band.high - band.low);
                    (least, most) = (least.min(along), most.max(along));
                }
                assert!(
                    band.low <= band.nominal && band.nominal <= band.high,
                    "{band:?}"
                );
                assert!(
                    band.low - 1e-9 <= figure && figure <= band.high + 1e-9,
                    "{name}, output {at}, {what}: {figure} outside {band:?}"
                );
            };
            let current = readings.currents[at].unwrap_or_else(|| panic!("{name}"));
            inside("amps", found.current.value, current.map(|a| a.value));
            let branches = found
                .branches
                .iter()
                .zip(&cells)
                .zip(&own.circuit().branches);
            let units = joint.joined[at].decoder_units.iter();
            for (unit, ((branch, cells), circuit)) in units.zip(branches) {
                let bands = readings.branches[*unit].as_ref();
                let bands = bands.unwrap_or_else(|| panic!("{name}"));
                inside(
                    "volts of a decoder",
                    branch.volts.value,
                    bands.volts.map(|v| v.value),
                );
                let own = cells.iter().zip(&circuit.segments);
                for ((cells, segment), bands) in own.zip(&bands.segments) {
                    assert_eq!(bands.cells[0].increment, segment.from);
                    let last = &bands.cells[bands.cells.len() - 1];
                    assert_eq!(last.increment + 1, segment.to);
                    for band in &bands.cells {
                        let volts = cells[(band.increment - segment.from) as usize];
                        inside("volts of a cell", volts, band.volts.map(|v| v.value));
                    }
                }
                for (segment, bands) in branch.segments.iter().zip(&bands.segments) {
                    for (feeder, band) in segment.feeders.iter().zip(&bands.feeders) {
                        if let (Some(volts), Some(band)) = (feeder.volts, band.volts) {
                            inside("volts of a feed", volts.value, band.map(|v| v.value));
                        }
                        let drop = Corners {
                            low: 0.0,
                            nominal: 0.0,
                            high: band.drop.value,
                        };
                        inside("drop of a feeder", feeder.drop.value, drop);
                    }
                }
            }
        }
    }
    // Wide enough for all, and no wider than needed.
    assert!(least < 0.05 && most > 0.95, "{least} {most}");
    println!("{read} readings of {} builds", JOBS.len() * BUILDS);
}
