//! The links of a chain: what one driver drives.

use super::model::{Chain, SOURCE};
use super::part::PartKind;
use crate::finding::{DataLink, SplitterOutput};
use crate::id::{ChainId, PartId};
use std::collections::BTreeMap;

/// What one driver drives: the port of the chain, or one output of a splitter.
#[derive(Debug, Clone, PartialEq)]
pub struct Link {
    /// `source`, or the splitter whose output it is.
    pub driver: String,
    /// Which output of the splitter, counted from 1; 1 for the port.
    pub output: usize,
    /// Splitters between the port and this link.
    pub splitters: usize,
    /// Parts on it, from the driver outward (indices into the parts of the chain).
    pub parts: Vec<usize>,
    /// Distance along the cable from the driver to each of `parts`, m.
    pub distances: Vec<f64>,
    /// Load on the driver, in ten-thousandths of a unit load.
    pub load: u64,
    /// Devices (splitter inputs too).
    pub devices: usize,
}

impl Link {
    /// The farthest distance along the cable, m.
    #[must_use]
    pub fn length(&self) -> f64 {
        self.distances.iter().copied().fold(0.0, f64::max)
    }

    /// The link as a finding calls it.
    #[must_use]
    pub fn subject(&self, chain: &str) -> DataLink {
        DataLink {
            chain: ChainId::new(chain),
            output: (self.driver != SOURCE).then(|| SplitterOutput {
                splitter: PartId::new(&*self.driver),
                number: self.output as u64,
            }),
        }
    }

    /// Load on the driver, unit loads.
    #[must_use]
    pub fn unit_loads(&self) -> f64 {
        self.load as f64 / 10_000.0
    }
}

impl Chain {
    /// The links, in the order of the tree; passive branches stay on one link, each output of a splitter is its own.
    #[must_use]
    pub fn links(&self) -> Vec<Link> {
        let mut links: Vec<Link> = Vec::new();
        let mut port = None;
        // Link and distance of every part; outputs used of every splitter.
        let mut at: Vec<(usize, f64)> = vec![(0, 0.0); self.spec.parts.len()];
        let mut outputs: BTreeMap<usize, usize> = BTreeMap::new();
        for &index in &self.order {
            let Some(part) = self.spec.parts.get(index) else {
                continue;
            };
            let parent = self.parents.get(index).copied().flatten();
            let splitter = parent.filter(|&parent| self.is_splitter(parent));
            let (link, before) = match (parent, splitter) {
                (None, _) => {
                    let link = *port.get_or_insert_with(|| {
                        links.push(Link::begin(SOURCE, 1, 0));
                        links.len() - 1
                    });
                    (link, 0.0)
                }
                (_, Some(splitter)) => {
                    let output = outputs.entry(splitter).or_insert(0);
                    *output += 1;
                    let above = at.get(splitter).and_then(|&(link, _)| links.get(link));
                    let depth = above.map_or(0, |link| link.splitters) + 1;
                    let name = self.spec.parts.get(splitter).map_or("", |part| &part.name);
                    links.push(Link::begin(name, *output, depth));
                    (links.len() - 1, 0.0)
                }
                (Some(parent), None) => at.get(parent).copied().unwrap_or((0, 0.0)),
            };
            let distance = before + part.length.value;
            if let Some(place) = at.get_mut(index) {
                *place = (link, distance);
            }
            if let Some(link) = links.get_mut(link) {
                link.parts.push(index);
                link.distances.push(distance);
                match part.kind {
                    PartKind::Device { unit_loads, .. } | PartKind::Splitter { unit_loads, .. } => {
                        link.load += u64::from(unit_loads.ten_thousandths());
                        link.devices += 1;
                    }
                    PartKind::Joint => {}
                }
            }
        }
        links
    }

    /// Cables that leave each part on the same link.
    pub(crate) fn successors(&self) -> Vec<Vec<usize>> {
        let mut successors = vec![Vec::new(); self.spec.parts.len()];
        for (index, parent) in self.parents.iter().enumerate() {
            if let Some(list) = parent.and_then(|parent| successors.get_mut(parent)) {
                list.push(index);
            }
        }
        successors
    }

    pub(crate) fn is_splitter(&self, part: usize) -> bool {
        let part = self.spec.parts.get(part);
        part.is_some_and(|part| matches!(part.kind, PartKind::Splitter { .. }))
    }
}

impl Link {
    fn begin(driver: &str, output: usize, splitters: usize) -> Self {
        Self {
            driver: driver.to_string(),
            output,
            splitters,
            parts: Vec::new(),
            distances: Vec::new(),
            load: 0,
            devices: 0,
        }
    }
}
