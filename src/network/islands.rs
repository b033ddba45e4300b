//! Which parts of a network can carry current at all.
//!
//! Points joined by links of finite resistance form an *island*. Loads and
//! sources are one-way branches between islands. Current can flow only round a
//! directed loop, so a branch carries something only if both its islands lie in
//! one strongly connected set that holds a source; everything else is dark, and
//! is known to be dark before any equation is set up.

/// Union of points.
pub(super) struct Union {
    parent: Vec<u32>,
}

impl Union {
    pub fn new(size: usize) -> Self {
        Self {
            parent: (0..size as u32).collect(),
        }
    }

    pub fn root(&mut self, mut point: u32) -> u32 {
        loop {
            let parent = self.parent[point as usize];
            if parent == point {
                return point;
            }
            let grand = self.parent[parent as usize];
            self.parent[point as usize] = grand;
            point = grand;
        }
    }

    /// Joins two points; the lower number becomes the root.
    pub fn join(&mut self, a: u32, b: u32) {
        let (a, b) = (self.root(a), self.root(b));
        let (low, high) = (a.min(b), a.max(b));
        self.parent[high as usize] = low;
    }
}

/// Strongly connected sets of a directed graph, iteratively (Tarjan): the set of each point.
pub(super) fn strong_sets(size: usize, edges: &[(u32, u32)]) -> Vec<u32> {
    let mut start = vec![0_u32; size + 1];
    for &(from, _) in edges {
        start[from as usize + 1] += 1;
    }
    for k in 0..size {
        start[k + 1] += start[k];
    }
    let mut next = start.clone();
    let mut to = vec![0_u32; edges.len()];
    for &(a, b) in edges {
        to[next[a as usize] as usize] = b;
        next[a as usize] += 1;
    }
    next.copy_from_slice(&start);

    const NEW: u32 = u32::MAX;
    let (mut set, mut low, mut number) = (vec![NEW; size], vec![0_u32; size], vec![NEW; size]);
    let (mut stack, mut path) = (Vec::new(), Vec::new());
    let (mut counter, mut sets) = (0_u32, 0_u32);
    for first in 0..size as u32 {
        if number[first as usize] != NEW {
            continue;
        }
        path.push(first);
        while let Some(&point) = path.last() {
            let p = point as usize;
            if number[p] == NEW {
                number[p] = counter;
                low[p] = counter;
                counter += 1;
                stack.push(point);
            }
            if next[p] < start[p + 1] {
                let target = to[next[p] as usize];
                next[p] += 1;
                if number[target as usize] == NEW {
                    path.push(target);
                } else if set[target as usize] == NEW {
                    low[p] = low[p].min(number[target as usize]);
                }
                continue;
            }
            path.pop();
            if let Some(&above) = path.last() {
                low[above as usize] = low[above as usize].min(low[p]);
            }
            if low[p] == number[p] {
                while let Some(member) = stack.pop() {
                    set[member as usize] = sets;
                    if member == point {
                        break;
                    }
                }
                sets += 1;
            }
        }
    }
    set
}

#[cfg(test)]
mod tests {
    use super::strong_sets;

    #[test]
    fn a_loop_is_one_set_and_a_tail_is_not() {
        let set = strong_sets(4, &[(0, 1), (1, 2), (2, 0), (2, 3)]);
        assert_eq!(set[0], set[1]);
        assert_eq!(set[1], set[2]);
        assert_ne!(set[2], set[3]);
    }

    #[test]
    fn a_long_chain_needs_no_stack() {
        let edges: Vec<_> = (0..200_000).map(|k| (k, k + 1)).collect();
        let set = strong_sets(200_001, &edges);
        assert_ne!(set[0], set[200_000]);
    }
}
