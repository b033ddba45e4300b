//! Which outputs are tied together through copper, and by what.
//!
//! Union over *every* conductor and join: uncut tape, a pole shared at a decoder
//! or in a multi-core cable, the common of a data line, a pole that outputs of one
//! unit share inside. Earth bonds are listed apart. Iterative, near-linear in
//! points and joins.

use super::check::Protection;
use super::spec::{JoinKind, OutputSpec, PointId, SharedPole};
use crate::finding::Subject;
use crate::id::DeviceId;
use std::collections::{BTreeMap, VecDeque};

/// Most outputs named in one answer; the rest is counted as more.
const MOST_NAMED: usize = 6;
/// Most ways that are traced; later ties are reported without the way.
const MOST_WAYS: usize = 200;

/// The copper islands of a case.
#[derive(Debug, Clone)]
pub struct Islands {
    island: Vec<usize>,
    members: BTreeMap<usize, Vec<usize>>,
}

/// An output that copper outside its unit ties to others.
#[derive(Debug, Clone, PartialEq, Eq, serde::Serialize)]
pub struct Tied {
    /// The output, by place.
    pub output: usize,
    /// The others, by place; six at most.
    pub with: Vec<usize>,
    /// Whether some other has its plus on this plus: the two are in parallel.
    pub paralleled: bool,
    /// What ties it to the first of the others, in order; empty when not traced.
    pub through: Vec<Subject>,
}

fn root(parent: &mut [usize], mut at: usize) -> usize {
    while let Some(&up) = parent.get(at) {
        if up == at {
            break;
        }
        let above = parent.get(up).copied().unwrap_or(up);
        if let Some(slot) = parent.get_mut(at) {
            *slot = above;
        }
        at = above;
    }
    at
}

fn unite(parent: &mut [usize], size: &mut [usize], a: usize, b: usize) {
    let (mut a, mut b) = (root(parent, a), root(parent, b));
    if a == b {
        return;
    }
    if size.get(a) < size.get(b) {
        std::mem::swap(&mut a, &mut b);
    }
    let grown = size.get(a).copied().unwrap_or(1) + size.get(b).copied().unwrap_or(1);
    if let Some(slot) = parent.get_mut(b) {
        *slot = a;
    }
    if let Some(slot) = size.get_mut(a) {
        *slot = grown;
    }
}

/// Every tie that counts: conductors, joins, poles shared inside a unit. Earth bonds do not.
fn ties(protection: &Protection) -> Vec<(usize, usize, Subject)> {
    let spec = &protection.0;
    let mut out: Vec<(usize, usize, Subject)> = spec
        .conductors
        .iter()
        .map(|c| (c.from.0, c.to.0, c.about.clone()))
        .collect();
    out.extend(
        spec.joins
            .iter()
            .filter(|join| join.kind != JoinKind::EarthBond)
            .map(|join| (join.from.0, join.to.0, join.about.clone())),
    );
    let mut inside: BTreeMap<&str, usize> = BTreeMap::new();
    for output in &spec.outputs {
        let pole = match output.shares {
            SharedPole::None => continue,
            SharedPole::Plus => output.plus.0,
            SharedPole::Minus => output.minus.0,
        };
        let first = *inside.entry(output.unit.as_str()).or_insert(pole);
        if first != pole {
            out.push((
                first,
                pole,
                Subject::SharedPole(DeviceId::new(&*output.unit)),
            ));
        }
    }
    out
}

impl Islands {
    /// Finds the islands.
    #[must_use]
    pub fn of(protection: &Protection) -> Self {
        let spec = &protection.0;
        let mut parent: Vec<usize> = (0..spec.points.len()).collect();
        let mut size = vec![1; spec.points.len()];
        for (from, to, _) in ties(protection) {
            unite(&mut parent, &mut size, from, to);
        }
        let island = (0..spec.points.len())
            .map(|k| root(&mut parent, k))
            .collect();
        let mut islands = Self {
            island,
            members: BTreeMap::new(),
        };
        for (k, output) in spec.outputs.iter().enumerate() {
            let (plus, minus) = (islands.island(output.plus), islands.island(output.minus));
            islands.members.entry(plus).or_default().push(k);
            if minus != plus {
                islands.members.entry(minus).or_default().push(k);
            }
        }
        islands
    }

    /// The island of a point: equal for points that copper ties together.
    #[must_use]
    pub fn island(&self, point: PointId) -> usize {
        self.island.get(point.0).copied().unwrap_or(point.0)
    }

    /// Outputs with a pole in the island of this point, by place.
    #[must_use]
    pub fn outputs_at(&self, point: PointId) -> &[usize] {
        self.members
            .get(&self.island(point))
            .map_or(&[], Vec::as_slice)
    }

    /// Whether copper outside the units ties two outputs: `Some(true)` in parallel, `Some(false)` otherwise.
    fn tie(&self, a: &OutputSpec, b: &OutputSpec) -> Option<bool> {
        let plus = self.island(a.plus) == self.island(b.plus);
        let minus = self.island(a.minus) == self.island(b.minus);
        let crossed = self.island(a.plus) == self.island(b.minus)
            || self.island(a.minus) == self.island(b.plus);
        let inside = if a.unit == b.unit {
            a.shares
        } else {
            SharedPole::None
        };
        let plus = plus && inside != SharedPole::Plus;
        let minus = minus && inside != SharedPole::Minus;
        (plus || minus || crossed).then_some(plus)
    }

    /// Every output that copper outside its unit ties to another, with what ties it.
    ///
    /// A pole that outputs of one unit share inside is no tie of its own: the label covers it.
    #[must_use]
    pub fn tied(&self, protection: &Protection) -> Vec<Tied> {
        let outputs = &protection.0.outputs;
        let mut found: Vec<Tied> = Vec::new();
        for (k, output) in outputs.iter().enumerate() {
            let mut with: Vec<usize> = Vec::new();
            let mut paralleled = false;
            let candidates = self
                .outputs_at(output.plus)
                .iter()
                .chain(self.outputs_at(output.minus));
            for &m in candidates {
                if m == k || with.contains(&m) {
                    continue;
                }
                let Some(tie) = outputs.get(m).and_then(|other| self.tie(output, other)) else {
                    continue;
                };
                paralleled |= tie;
                with.push(m);
                if with.len() == MOST_NAMED {
                    break;
                }
            }
            if !with.is_empty() {
                found.push(Tied {
                    output: k,
                    with,
                    paralleled,
                    through: Vec::new(),
                });
            }
        }
        if found.is_empty() {
            return found;
        }
        let ways = Ways::of(protection);
        for tied in found.iter_mut().take(MOST_WAYS) {
            if let (Some(a), Some(b)) = (
                outputs.get(tied.output),
                tied.with.first().and_then(|&m| outputs.get(m)),
            ) {
                tied.through = if self.island(a.plus) == self.island(b.plus) {
                    ways.between(&[a.plus], &[b.plus])
                } else {
                    ways.between(&[a.plus, a.minus], &[b.plus, b.minus])
                };
            }
        }
        found
    }
}

/// The copper as a graph, for tracing what ties two points.
struct Ways {
    ties: Vec<(usize, usize, Subject)>,
    at: Vec<Vec<usize>>,
}

impl Ways {
    fn of(protection: &Protection) -> Self {
        let ties = ties(protection);
        let mut at = vec![Vec::new(); protection.0.points.len()];
        for (k, (from, to, _)) in ties.iter().enumerate() {
            for end in [*from, *to] {
                if let Some(list) = at.get_mut(end) {
                    list.push(k);
                }
            }
        }
        Self { ties, at }
    }

    /// The ties on a shortest way, breadth first.
    fn between(&self, starts: &[PointId], ends: &[PointId]) -> Vec<Subject> {
        let mut came: Vec<Option<usize>> = vec![None; self.at.len()];
        let mut seen = vec![false; self.at.len()];
        let mut queue: VecDeque<usize> = VecDeque::new();
        for start in starts {
            if let Some(flag) = seen.get_mut(start.0) {
                *flag = true;
                queue.push_back(start.0);
            }
        }
        let mut end = None;
        while let Some(here) = queue.pop_front() {
            if ends.iter().any(|e| e.0 == here) {
                end = Some(here);
                break;
            }
            for &k in self.at.get(here).map_or(&[][..], Vec::as_slice) {
                let Some((from, to, _)) = self.ties.get(k) else {
                    continue;
                };
                let next = if *from == here { *to } else { *from };
                let Some(flag) = seen.get_mut(next) else {
                    continue;
                };
                if !*flag {
                    *flag = true;
                    if let Some(slot) = came.get_mut(next) {
                        *slot = Some(k);
                    }
                    queue.push_back(next);
                }
            }
        }
        let mut names = Vec::new();
        while let Some(here) = end {
            let Some((from, to, name)) = came
                .get(here)
                .copied()
                .flatten()
                .and_then(|k| self.ties.get(k))
            else {
                break;
            };
            names.push(name.clone());
            end = Some(if *from == here { *to } else { *from });
        }
        names.reverse();
        names
    }
}
