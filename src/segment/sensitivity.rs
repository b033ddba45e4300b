//! What the least current of a segment answers to: its slope to every resistance and to the set point.
//!
//! With `y` the relative current of one cell and `R` a resistance, [`CellSensitivity`] holds `R · dy/dR`, what `y` gains where
//! `R` doubles if it stayed on its slope; a lead, a feeder and the rails of a segment count as one resistance each, all their
//! cores and links together. From one adjoint solve of the operating point ([`Solution::sensitivity`]).
//!
//! [`Solution::sensitivity`]: crate::network::Solution::sensitivity

use super::build::BranchParts;
use super::circuit::Segment;
use super::figures::Cell;
use super::read::{OperatingPoint, SegmentPoint};
use crate::network::{Figure, LinkId, Sensitivity, TapeId};
use crate::quantity::{ElectricalResistance, Ratio, fraction};

/// Slopes of the relative current of one cell.
#[derive(Debug, Clone, PartialEq)]
pub struct CellSensitivity {
    /// The relative current itself: 1 is nominal.
    pub current: Ratio,
    /// To the set point of the output, share per volt.
    pub per_volt: f64,
    /// To a relative change of the resistance of the output.
    pub output: f64,
    /// By branch.
    pub branches: Vec<BranchSensitivity>,
}

/// Slopes to relative changes of the resistances of a branch.
#[derive(Debug, Clone, PartialEq)]
pub struct BranchSensitivity {
    /// Its lead, both cores.
    pub lead: f64,
    /// By output: its switch; 0 where it is dark.
    pub switches: Vec<f64>,
    /// By segment.
    pub segments: Vec<SegmentSensitivity>,
}

/// Slopes to relative changes of the resistances of a segment.
#[derive(Debug, Clone, PartialEq)]
pub struct SegmentSensitivity {
    /// All its rails, without its joints.
    pub rails: f64,
    /// By feeder: all its cores.
    pub feeders: Vec<f64>,
}

/// Slopes of one figure, with what they are asked of.
struct Slopes<'a> {
    point: OperatingPoint<'a>,
    /// Per unit of the relative current.
    nominal_amps: f64,
    all: Sensitivity,
}

impl OperatingPoint<'_> {
    /// Slopes of the relative current of a lit cell of a segment, by the places of its branch and of itself. None where
    /// there is no such cell, or where nothing ties its circuit.
    ///
    /// Time: three linear solves.
    #[must_use]
    pub fn sensitivity(
        &self,
        branch: usize,
        segment: usize,
        cell: Cell,
    ) -> Option<CellSensitivity> {
        let own = self.segment(branch, segment)?;
        let emitter = own.lit().iter().position(|lit| *lit == cell.emitter)?;
        let model = own.segment.tape.emitters.get(cell.emitter)?;
        let nominal_amps = model.law.nominal.current(own.segment.tape.rated).value;
        let place = usize::try_from(cell.increment.checked_sub(own.segment.from)?).ok()?;
        let amps = own.cell_amps(emitter).nth(place)?;
        let (tape, cell) = own.tape_at(emitter, place)?;
        let figure = Figure::CellCurrent {
            tape,
            emitter,
            cell,
        };
        let slopes = Slopes {
            point: *self,
            nominal_amps,
            all: self.solution.sensitivity(figure)?,
        };
        slopes.collect(amps / nominal_amps)
    }
}

impl SegmentPoint<'_> {
    /// The tape that holds a cell of a lit emitter, and which of its cells it is.
    fn tape_at(&self, emitter: usize, place: usize) -> Option<(TapeId, usize)> {
        let mut before = 0;
        for (id, tape) in self.tape_ids().iter().zip(self.tapes()) {
            let cells = tape.cell_amps(emitter).len();
            if place < before + cells {
                return Some((*id, place - before));
            }
            before += cells;
        }
        None
    }
}

impl Slopes<'_> {
    fn collect(&self, current: f64) -> Option<CellSensitivity> {
        let (circuit, parts) = (self.point.circuit.circuit(), self.point.parts);
        let (per_volt, per_ohm) = self.all.source(parts.source)?;
        let branches = circuit.branches.iter().zip(&parts.branches).enumerate();
        Some(CellSensitivity {
            current: fraction(current),
            per_volt: per_volt / self.nominal_amps,
            output: self.share(circuit.output_resistance, per_ohm),
            branches: branches
                .map(|(at, (branch, parts))| BranchSensitivity {
                    lead: self.links(
                        branch.lead[self.point.build.lead],
                        [parts.common_lead, parts.far_lead],
                    ),
                    switches: parts
                        .switches
                        .iter()
                        .map(|switch| self.links(branch.switch, *switch))
                        .collect(),
                    segments: self.segments(at, &branch.segments, parts),
                })
                .collect(),
        })
    }

    fn segments(
        &self,
        branch: usize,
        segments: &[Segment<'_>],
        parts: &BranchParts,
    ) -> Vec<SegmentSensitivity> {
        let lit = self.point.state.lit.get(branch).map_or(&[][..], |l| l);
        let all = segments.iter().zip(&parts.segments);
        all.map(|(segment, parts)| SegmentSensitivity {
            rails: parts
                .tapes
                .iter()
                .map(|tape| self.rails(segment, lit, *tape))
                .sum(),
            feeders: segment
                .feeders
                .iter()
                .zip(&parts.feeders)
                .map(|(feeder, cores)| {
                    let links = cores.iter().map(|core| core.core);
                    self.links(feeder.core[self.point.build.feeders], links)
                })
                .collect(),
        })
        .collect()
    }

    /// A resistance in all of these links.
    fn links(&self, each: ElectricalResistance, links: impl IntoIterator<Item = LinkId>) -> f64 {
        let slopes = links.into_iter().filter_map(|link| self.all.link(link));
        self.share(each, slopes.sum())
    }

    /// The rails of a tape: whole increments between its cells, half of one at each end that meets the wiring.
    fn rails(&self, segment: &Segment<'_>, lit: &[usize], tape: TapeId) -> f64 {
        let corner = self.point.build.rails;
        let emitters = &segment.tape.emitters;
        let returns = lit.iter().filter_map(|emitter| emitters.get(*emitter));
        let increments =
            std::iter::once(segment.tape.common[corner]).chain(returns.map(|e| e.rail[corner]));
        let slopes = self.all.rails(tape);
        increments
            .zip(slopes)
            .map(|(increment, (links, ends))| {
                let slope = links.iter().sum::<f64>() + 0.5 * ends.iter().sum::<f64>();
                self.share(increment, slope)
            })
            .sum()
    }

    /// `R · dy/dR`; 0 for an open core, which carries nothing, and for one without resistance.
    fn share(&self, of: ElectricalResistance, amps_per_ohm: f64) -> f64 {
        if of.value.is_finite() {
            of.value * amps_per_ohm / self.nominal_amps
        } else {
            0.0
        }
    }
}
