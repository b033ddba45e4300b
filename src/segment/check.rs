//! Every fault of a circuit at once.

use super::circuit::{Branch, Circuit, Conductor, Feeder, Segment};
use super::error::{CircuitError, CircuitErrors};
use crate::network::MOST_RAIL_CELLS;
use crate::quantity::{Corners, ElectricalResistance};

/// Most faults reported.
pub const MOST_FAULTS: usize = 100;

/// A circuit that can be solved: [`Circuit::check`] makes it.
#[derive(Debug, Clone)]
pub struct CheckedCircuit<'t>(Circuit<'t>);

impl<'t> CheckedCircuit<'t> {
    /// The circuit as given.
    #[must_use]
    pub fn circuit(&self) -> &Circuit<'t> {
        &self.0
    }
}

impl<'t> Circuit<'t> {
    /// Checks everything; nothing is solved yet.
    ///
    /// # Errors
    /// Every fault found, at most [`MOST_FAULTS`]: a resistance that is negative or not a number, a set point that is
    /// not above 0 V, a mark outside its segment, a conductor that enters nowhere, an emitter on an output that does not
    /// switch it, a segment that no state lights, tapes of both polarities on one branch, more cells than
    /// [`MOST_RAIL_CELLS`].
    pub fn check(self) -> Result<CheckedCircuit<'t>, CircuitErrors> {
        let mut faults = Faults(Vec::new());
        for (name, set_point) in [
            ("the set point, worst case, low (V)", self.set_point.low),
            ("the nominal set point (V)", self.set_point.nominal),
            ("the set point, worst case, high (V)", self.set_point.high),
        ] {
            if !(set_point.value > 0.0 && set_point.value.is_finite()) {
                let accepted = "above 0 V and finite";
                faults.range("supply output", name, set_point.value, accepted);
            }
        }
        faults.resistance(
            &|| "supply output".into(),
            "its resistance (ohm)",
            self.output_resistance,
        );
        if self.states.is_empty() {
            faults.missing(
                "circuit".into(),
                "no state. Say which emitters are lit together",
            );
        }
        for (number, state) in self.states.iter().enumerate() {
            if state.lit.len() != self.branches.len() {
                faults.missing(
                    format!("state {}", number + 1),
                    "not one list of lit emitters for each branch. Give an empty list where nothing is lit",
                );
            }
        }
        if self.branches.iter().all(|b| b.segments.is_empty()) {
            faults.missing("circuit".into(), "no segment. Give at least one");
        }
        let cells = self.branches.iter().flat_map(|b| &b.segments).map(|s| {
            let rails = s.tape.emitters.len() as u64 + 1;
            s.to.saturating_sub(s.from).saturating_mul(rails)
        });
        let found = cells.fold(0, u64::saturating_add);
        if found > MOST_RAIL_CELLS as u64 {
            faults.push(CircuitError::TooLarge {
                place: "circuit".into(),
                found,
                most: MOST_RAIL_CELLS,
            });
        }
        for (number, branch) in self.branches.iter().enumerate() {
            self.check_branch(number, branch, &mut faults);
        }
        if faults.0.is_empty() {
            Ok(CheckedCircuit(self))
        } else {
            Err(CircuitErrors(faults.0))
        }
    }

    fn check_branch(&self, number: usize, branch: &Branch<'_>, faults: &mut Faults) {
        let place = || format!("branch {}", number + 1);
        faults.resistances(&place, "a core of its lead (ohm)", &branch.lead);
        faults.resistance(&place, "its switch (ohm)", branch.switch);
        let polarities = branch.segments.iter().map(|s| s.tape.polarity);
        if polarities
            .clone()
            .zip(polarities.skip(1))
            .any(|(a, b)| a != b)
        {
            faults.missing(
                place(),
                "tapes with a common plus and with a common minus. Give each its own branch",
            );
        }
        let lit = || self.states.iter().filter_map(|s| s.lit.get(number));
        for (at, segment) in branch.segments.iter().enumerate() {
            let place = || format!("branch {}, segment {}", number + 1, at + 1);
            if lit().all(Vec::is_empty) {
                faults.missing(
                    place(),
                    "no state lights it. Add a state in which one of its emitters is lit",
                );
            }
            for emitter in lit().flatten() {
                let count = segment.tape.emitters.len();
                if *emitter >= count {
                    faults.push(CircuitError::Unknown {
                        place: place(),
                        what: "lit emitter",
                        found: *emitter,
                        count,
                    });
                    return;
                }
            }
            check_segment(branch, segment, &place, faults);
        }
    }
}

fn check_segment(
    branch: &Branch<'_>,
    segment: &Segment<'_>,
    place: &dyn Fn() -> String,
    faults: &mut Faults,
) {
    let (from, to) = (segment.from, segment.to);
    let outside = |mark, how| CircuitError::OutsideSegment {
        place: place(),
        mark,
        from,
        to,
        how,
    };
    if from >= to {
        faults.missing(
            place(),
            "no increment between its marks. The last mark lies beyond the first",
        );
        return;
    }
    for joint in &segment.joints {
        if !(joint.mark > from && joint.mark < to) {
            faults.push(outside(joint.mark, "strictly between"));
        }
        faults.resistance(place, "a joint of the common rail (ohm)", joint.common);
        faults.resistance(place, "a joint of a return rail (ohm)", joint.returns);
    }
    for (number, feeder) in segment.feeders.iter().enumerate() {
        let place = || format!("{}, feeder {}", place(), number + 1);
        if !(feeder.mark >= from && feeder.mark <= to) {
            faults.push(outside(feeder.mark, "between"));
        }
        faults.resistances(&place, "a core (ohm)", &feeder.core);
        check_conductors(segment, feeder, &place, faults);
    }
    let enters = |conductor| {
        let mut all = segment.feeders.iter().flat_map(|f| &f.conductors);
        all.any(|c| *c == conductor)
    };
    if !enters(Conductor::Common) {
        faults.missing(place(), "no feeder brings the common. Let it enter at one");
    }
    for emitter in 0..segment.tape.emitters.len() {
        if !enters(Conductor::Return(emitter)) {
            faults.missing(
                place(),
                "the return of an emitter leaves by no feeder. Let it enter at one",
            );
        }
        let output = segment.outputs.get(emitter);
        if output.and_then(|o| branch.outputs.get(*o)) != Some(&emitter) {
            faults.missing(
                place(),
                "an emitter is on no output of the branch that switches it. Give `outputs` in the order of the emitters",
            );
        }
    }
}

fn check_conductors(
    segment: &Segment<'_>,
    feeder: &Feeder,
    place: &dyn Fn() -> String,
    faults: &mut Faults,
) {
    let count = segment.tape.emitters.len();
    for (at, conductor) in feeder.conductors.iter().enumerate() {
        if feeder.conductors[..at].contains(conductor) {
            faults.missing(
                place(),
                "a conductor enters twice. Halve the core resistance for two cores in parallel",
            );
        }
        if let Conductor::Return(found) = *conductor
            && found >= count
        {
            faults.push(CircuitError::Unknown {
                place: place(),
                what: "emitter",
                found,
                count,
            });
        }
    }
}

/// The faults so far, capped.
struct Faults(Vec<CircuitError>);

impl Faults {
    fn push(&mut self, fault: CircuitError) {
        if self.0.len() < MOST_FAULTS {
            self.0.push(fault);
        }
    }

    fn missing(&mut self, place: String, what: &'static str) {
        self.push(CircuitError::Missing { place, what });
    }

    fn range(&mut self, place: &str, what: &'static str, found: f64, accepted: &'static str) {
        self.push(CircuitError::OutOfRange {
            place: place.to_string(),
            what,
            found,
            accepted,
        });
    }

    /// 0 ohm to infinity (an open core), not NaN.
    fn resistance(
        &mut self,
        place: &dyn Fn() -> String,
        what: &'static str,
        of: ElectricalResistance,
    ) {
        if !(of.value >= 0.0) {
            let accepted = "0 ohm or more; infinite where it is open";
            self.range(&place(), what, of.value, accepted);
        }
    }

    fn resistances(
        &mut self,
        place: &dyn Fn() -> String,
        what: &'static str,
        of: &Corners<ElectricalResistance>,
    ) {
        for one in [of.low, of.nominal, of.high] {
            self.resistance(place, what, one);
        }
    }
}
