//! Where powered splitters and repeaters go.

use super::super::electrical::{MOST_UNIT_LOADS, TERMINATOR_OHMS};
use super::model::{Chain, ChainError, ChainSpec, SOURCE};
use super::part::{Part, PartKind};
use crate::error::SpecErrors;
use crate::quantity::{metres, ohms};

/// A chain that splits only where power is, and loads no driver over the limit.
#[derive(Debug, Clone, PartialEq)]
pub struct Proposal {
    /// The chain with the splitters in it and one terminator at the far end of every link.
    pub chain: ChainSpec,
    /// Splitters and repeaters added, in the order of the tree.
    pub added: Vec<String>,
    /// Splitters of the chain that do not pass RDM and give way to ones that do.
    pub replaced: Vec<String>,
}

impl Chain {
    /// Puts a splitter at every passive branch, and a repeater wherever a link would carry more than
    /// 32 unit loads or be longer than `longest` metres.
    ///
    /// No cable is added: a splitter stands where the branch is, a repeater beside the last part of its
    /// link. Along a line without branches each link takes as many parts as the limits allow, one
    /// unit load being kept for the repeater that follows; no choice has fewer repeaters there, since
    /// every other one has reached no farther after as many. A branch needs its splitter in any case.
    /// A single cable longer than `longest` stays as it is and is left to [`Chain::judge`].
    ///
    /// With RDM every splitter, added or there before, is one that passes it, and the port is terminated. More
    /// than four of them in a row are left to [`Chain::judge`].
    ///
    /// # Errors
    /// [`ChainError`] if the longer chain has too many parts.
    pub fn propose(&self, longest: f64) -> Result<Proposal, SpecErrors<ChainError>> {
        let successors = self.successors();
        let mut spec = self.spec.clone();
        let mut added = Vec::new();
        let roots: Vec<usize> = self
            .order
            .iter()
            .copied()
            .filter(|&part| self.parents.get(part) == Some(&None))
            .collect();
        if roots.len() > 1 {
            let name = add(&mut spec, &mut added, SOURCE, roots.len());
            move_to(&mut spec, &roots, &name);
        }
        for &at in &self.order {
            let ways = successors.get(at).map_or(&[][..], Vec::as_slice);
            if ways.len() < 2 || self.is_splitter(at) {
                continue;
            }
            let Some(part) = spec.parts.get(at) else {
                continue;
            };
            let name = part.name.clone();
            let name = add(&mut spec, &mut added, &name, ways.len());
            move_to(&mut spec, ways, &name);
        }
        spec.parts
            .iter_mut()
            .for_each(|part| part.terminator = None);
        let mut replaced = Vec::new();
        if spec.rdm {
            for part in &mut spec.parts {
                if let PartKind::Splitter {
                    rdm: rdm @ false, ..
                } = &mut part.kind
                {
                    *rdm = true;
                    replaced.push(part.name.clone());
                }
            }
            let beside = spec
                .bias
                .and_then(|bias| bias.matching_terminator(spec.cable.impedance));
            let near = beside.unwrap_or(ohms(TERMINATOR_OHMS));
            spec.source_terminator.get_or_insert(near);
        }
        let mut chain = spec.check()?;
        // Each pass shortens the first link that is over a limit; what is cut off is a link of its own.
        while let Some((before, after)) = chain.first_cut(longest) {
            let mut spec = chain.spec.clone();
            let name = add(&mut spec, &mut added, &before, 1);
            for part in spec.parts.iter_mut().filter(|part| part.name == after) {
                part.from.clone_from(&name);
            }
            chain = spec.check()?;
        }
        let ends: Vec<usize> = chain
            .links()
            .iter()
            .filter_map(|link| link.parts.last().copied())
            .collect();
        let mut spec = chain.spec;
        for end in ends {
            if let Some(part) = spec.parts.get_mut(end) {
                part.terminator = Some(ohms(TERMINATOR_OHMS));
            }
        }
        Ok(Proposal {
            chain: spec,
            added,
            replaced,
        })
    }

    /// The last part that a link over a limit can keep, and the next; every link is a line here.
    fn first_cut(&self, longest: f64) -> Option<(String, String)> {
        let limit = MOST_UNIT_LOADS * 10_000;
        for link in self.links() {
            let over = link.load > limit || !(link.length() <= longest);
            if !over {
                continue;
            }
            let (mut load, mut keep) = (0_u64, 0_usize);
            for (&index, &distance) in link.parts.iter().zip(&link.distances) {
                load += self.spec.parts.get(index).map_or(0, load_of);
                // One unit load stays free for the repeater.
                if load + 10_000 > limit || !(distance <= longest) {
                    break;
                }
                keep += 1;
            }
            let name = |at: usize| {
                let part = link
                    .parts
                    .get(at)
                    .and_then(|&part| self.spec.parts.get(part));
                part.map(|part| part.name.clone())
            };
            let (Some(before), Some(after)) = (keep.checked_sub(1).and_then(name), name(keep))
            else {
                continue;
            };
            // A repeater that only repeats a splitter in its own place gains nothing.
            let last = keep.checked_sub(1).and_then(|at| link.parts.get(at));
            if keep == 1
                && last.is_some_and(|&part| {
                    self.spec
                        .parts
                        .get(part)
                        .is_some_and(|part| part.length.value <= 0.0)
                })
            {
                continue;
            }
            return Some((before, after));
        }
        None
    }
}

fn load_of(part: &Part) -> u64 {
    match part.kind {
        PartKind::Device { unit_loads, .. } | PartKind::Splitter { unit_loads, .. } => {
            u64::from(unit_loads.ten_thousandths())
        }
        PartKind::Joint => 0,
    }
}

/// Adds a splitter beside a part; gives its name.
fn add(spec: &mut ChainSpec, added: &mut Vec<String>, at: &str, outputs: usize) -> String {
    let mut name = format!("splitter at {at}");
    while spec.parts.iter().any(|part| part.name == name) {
        name.push('\'');
    }
    let outputs = u16::try_from(outputs).unwrap_or(u16::MAX);
    let mut splitter = Part::splitter(name.clone(), metres(0.0), outputs).from(at);
    if spec.rdm {
        splitter = splitter.passing_rdm();
    }
    let before = spec.parts.iter().find(|part| part.name == at);
    splitter.connector = before.map_or(spec.connector, |part| part.connector);
    spec.parts.push(splitter);
    added.push(name.clone());
    name
}

fn move_to(spec: &mut ChainSpec, parts: &[usize], from: &str) {
    for &part in parts {
        if let Some(part) = spec.parts.get_mut(part) {
            part.from = from.to_string();
        }
    }
}
