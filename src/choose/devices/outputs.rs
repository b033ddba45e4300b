//! Currents onto the outputs of one unit: exact, within a step limit.

/// Steps for one unit; beyond, the answer counts as unproven.
const STEPS: u32 = 20_000;

/// A current that lies whole on one output, with others of its signal only.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Part {
    /// What the output drives.
    pub signal: usize,
    /// Microamperes.
    pub microamps: u64,
}

/// What [`least_outputs`] finds.
pub struct Outputs {
    /// Output of each part, by index into the parts; none: they do not fit.
    pub outputs: Option<Vec<usize>>,
    /// Whether the step limit may have hidden an answer.
    pub unsure: bool,
}

enum Packed {
    Fits(Vec<usize>),
    No,
    Unsure,
}

/// Fewest outputs per signal, numbered signal by signal.
pub fn least_outputs(parts: &[Part], limit: u64, most: usize) -> Outputs {
    let mut order: Vec<usize> = (0..parts.len()).collect();
    order.sort_unstable_by(|&a, &b| {
        let key = |at: usize| (parts[at].signal, std::cmp::Reverse(parts[at].microamps), at);
        key(a).cmp(&key(b))
    });
    let mut result = vec![0; parts.len()];
    let mut used = 0;
    let mut unsure = false;
    let mut steps = STEPS;
    for members in order.chunk_by(|&a, &b| parts[a].signal == parts[b].signal) {
        let amps: Vec<u64> = members.iter().map(|&at| parts[at].microamps).collect();
        let total: u64 = amps.iter().sum();
        let mut bins = usize::try_from(total.div_ceil(limit.max(1)))
            .unwrap_or(usize::MAX)
            .max(1);
        let outputs = loop {
            if bins > most - used {
                return Outputs {
                    outputs: None,
                    unsure,
                };
            }
            match pack(&amps, limit, bins, &mut steps) {
                Packed::Fits(outputs) => break outputs,
                Packed::No => {}
                Packed::Unsure => {
                    unsure = true;
                    steps = STEPS / 8;
                }
            }
            bins += 1;
        };
        for (&at, output) in members.iter().zip(outputs) {
            result[at] = used + output;
        }
        used += bins;
    }
    Outputs {
        outputs: Some(result),
        unsure,
    }
}

/// What [`quick`] says.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Quick {
    /// They go onto the outputs.
    Yes,
    /// They do not.
    No,
    /// Only [`least_outputs`] can say.
    Open,
}

/// Whether currents, sorted by signal and largest first, go onto so many outputs: an answer where
/// putting each onto the first output with room, or a count, gives one. `load` is only room to
/// work in.
pub fn quick(parts: &[Part], limit: u64, most: usize, load: &mut Vec<u64>) -> Quick {
    let (mut needed, mut taken) = (0, 0);
    for members in parts.chunk_by(|a, b| a.signal == b.signal) {
        load.clear();
        let (mut total, mut large) = (0u64, 0);
        for part in members {
            let own = part.microamps;
            if own > limit {
                return Quick::No;
            }
            total = total.saturating_add(own);
            large += usize::from(own > limit / 2);
            match load.iter_mut().find(|here| **here + own <= limit) {
                Some(here) => *here += own,
                None => load.push(own),
            }
        }
        let least = usize::try_from(total.div_ceil(limit.max(1))).unwrap_or(usize::MAX);
        needed += least.max(large).max(1);
        taken += load.len();
        if needed > most {
            return Quick::No;
        }
    }
    if taken <= most {
        Quick::Yes
    } else {
        Quick::Open
    }
}

/// Places amounts, largest first, into `bins` equal bins by going back where it fails.
fn pack(amps: &[u64], limit: u64, bins: usize, steps: &mut u32) -> Packed {
    if amps.first().is_some_and(|&a| a > limit) {
        return Packed::No;
    }
    let mut load = vec![0u64; bins.min(amps.len())];
    let mut at: Vec<usize> = Vec::with_capacity(amps.len());
    let mut opened = vec![0usize; amps.len() + 1];
    let mut from = 0;
    while let Some(&own) = amps.get(at.len()) {
        let item = at.len();
        let end = (opened[item] + 1).min(load.len());
        if let Some(&before) = at.last()
            && amps[item - 1] == own
        {
            from = from.max(before);
        }
        let mut found = None;
        for (bin, &here) in load.iter().enumerate().take(end).skip(from) {
            if *steps == 0 {
                return Packed::Unsure;
            }
            *steps -= 1;
            if here + own <= limit {
                found = Some(bin);
                break;
            }
        }
        if let Some(bin) = found {
            load[bin] += own;
            opened[item + 1] = opened[item].max(bin + 1);
            at.push(bin);
            from = 0;
        } else {
            let Some(bin) = at.pop() else {
                return Packed::No;
            };
            load[bin] -= amps[at.len()];
            from = bin + 1;
        }
    }
    Packed::Fits(at)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Against the exact search on all short lists of small currents: a quick answer is never wrong.
    #[test]
    fn a_quick_answer_is_the_exact_one() {
        let mut open = 0;
        for number in 0..6usize.pow(6) {
            let digits = (0..6).map(|at| number / 6usize.pow(at) % 6);
            let mut parts: Vec<Part> = (digits.enumerate().filter(|(_, d)| *d > 0))
                .map(|(at, d)| Part {
                    signal: at / 5,
                    microamps: d as u64 + 1,
                })
                .collect();
            parts.sort_by_key(|p| (p.signal, std::cmp::Reverse(p.microamps)));
            for most in 1..4 {
                let exact = least_outputs(&parts, 10, most).outputs.is_some();
                match quick(&parts, 10, most, &mut Vec::new()) {
                    Quick::Yes => assert!(exact, "{parts:?} onto {most}"),
                    Quick::No => assert!(!exact, "{parts:?} onto {most}"),
                    Quick::Open => open += 1,
                }
            }
        }
        assert!(open > 0, "some need the exact search");
    }
}
