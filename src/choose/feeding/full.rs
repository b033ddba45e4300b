//! A candidate segment as a circuit of its own: a source less its reserve, one branch, the segment with its feeders.
//! Every chosen segment is solved so, by the model of [`crate::segment`].

use super::circuit::candidate::Candidate;
use super::problem::checked::{CheckedRun, LOW, NOMINAL};
use crate::network::{Limit, Workspace};
use crate::quantity::{Corner, Corners, ohms, volts};
use crate::segment::{Branch, CheckedCircuit, Circuit, Conductor, Feeder, Joint, Segment, State};

/// The circuit of a candidate with some of the lists of lit emitters.
pub(crate) fn circuit<'m>(
    m: &'m CheckedRun,
    c: &Candidate,
    states: &[Vec<usize>],
) -> Result<CheckedCircuit<'m>, String> {
    let source = &m.sources[c.place(m)];
    // The lead is one loop; its two cores carry the same current.
    let core_of_lead = ohms(0.5 * source.lead);
    Circuit {
        set_point: three(source.volts).map(|v| volts(*v)),
        output_resistance: ohms(source.output),
        limit: Limit::None,
        branches: vec![Branch {
            lead: Corners::same(core_of_lead),
            switch: ohms(source.switch),
            outputs: (0..m.emitters()).collect(),
            segments: vec![segment(m, c)],
        }],
        states: states
            .iter()
            .map(|lit| State {
                lit: vec![lit.clone()],
            })
            .collect(),
    }
    .check()
    .map_err(|faults| faults.to_string())
}

fn segment<'m>(m: &'m CheckedRun, c: &Candidate) -> Segment<'m> {
    let joints = if m.is_plain(c.from, c.to) {
        Vec::new()
    } else {
        let marks = c.from + 1..c.to;
        let joint = |mark: usize| Joint {
            mark: mark as u64,
            common: ohms(m.joint(true, c.from, mark)),
            returns: ohms(m.joint(false, c.from, mark)),
        };
        marks
            .map(joint)
            .filter(|j| j.common.value > 0.0 || j.returns.value > 0.0)
            .collect()
    };
    let feeder = |feed: usize| {
        let common = c.entered_by(true).contains(&feed);
        let returns = c.entered_by(false).contains(&feed);
        let all = (0..m.emitters()).map(Conductor::Return);
        Feeder {
            mark: c.feeds[feed].0 as u64,
            core: three(c.option(m, feed).core).map(|r| ohms(*r)),
            conductors: common
                .then_some(Conductor::Common)
                .into_iter()
                .chain(all.filter(|_| returns))
                .collect(),
        }
    };
    Segment {
        joints,
        ..Segment::plain(
            &m.spec.tape,
            c.from as u64,
            c.to as u64,
            (0..c.count).map(feeder).collect(),
        )
    }
}

/// The kernels' numbers of a corner, by name.
fn three([low, nominal, high]: [f64; 3]) -> Corners<f64> {
    Corners { low, nominal, high }
}

/// Cell voltages of one state, for the judge where its own bounds do not close; not a number
/// where the solver fails, so that every limit counts as broken.
pub(crate) fn cell_volts(m: &CheckedRun, c: &Candidate, corner: usize, state: usize) -> Vec<f64> {
    let corner = match corner {
        LOW => Corner::Low,
        NOMINAL => Corner::Nominal,
        _ => Corner::High,
    };
    let lit = &m.states[state];
    let solved = circuit(m, c, std::slice::from_ref(lit))
        .ok()
        .and_then(|own| {
            let mut work = Workspace::new();
            own.operating_point(corner, 0, &mut work, |point| {
                let segment = point.segment(0, 0)?;
                let places = 0..lit.len();
                Some(places.flat_map(|place| segment.cell_volts(place)).collect())
            })
            .ok()?
        });
    solved.unwrap_or_else(|| vec![f64::NAN; lit.len() * c.cells()])
}
