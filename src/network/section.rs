//! Elimination of a stretch of tape: cell by cell, star by star.
//!
//! A cell has `R` nodes (common rail and lit returns). They are eliminated in
//! order by the star-mesh rule, which joins their neighbours: the rest of the cell,
//! the next cell and, where the stretch lies between two attachments, the pad it
//! started from. Nothing is ever subtracted. `O(R³)` a cell, `O(1)` memory beside
//! the kept shares.

/// What a stretch sees: the rail links, cell slopes and residual currents of its tape.
pub(super) struct Stretch<'a> {
    /// Cells of the whole tape.
    pub cells: usize,
    /// Rail link conductances, rail by rail.
    pub links: &'a [f64],
    /// Cell slopes, emitter by emitter.
    pub slopes: &'a [f64],
    /// Currents injected at the rail nodes, rail by rail.
    pub amps: &'a [f64],
    pub first: usize,
    pub count: usize,
    pub up: bool,
}

/// What is left at the ends: mesh between the pads, and the currents passed on.
pub(super) struct Left<const R: usize> {
    pub next_next: [[f64; R]; R],
    pub next_left: [[f64; R]; R],
    pub left_left: [[f64; R]; R],
    pub next_amps: [f64; R],
    pub left_amps: [f64; R],
    /// All pivots positive.
    pub positive: bool,
    /// A node without any conductance held current.
    pub lost: bool,
}

impl<const R: usize> Left<R> {
    pub(super) fn new() -> Self {
        let none = [[0.0; R]; R];
        Self {
            next_next: none,
            next_left: none,
            left_left: none,
            next_amps: [0.0; R],
            left_amps: [0.0; R],
            positive: true,
            lost: false,
        }
    }
}

impl Stretch<'_> {
    #[inline(always)]
    pub(super) fn cell(&self, n: usize) -> usize {
        if self.up {
            self.first + n
        } else {
            self.first - n
        }
    }

    /// Conductance of a rail from the `n`-th cell to the one after (or the pad).
    #[inline(always)]
    pub(super) fn link(&self, rail: usize, cell: usize, onward: bool) -> f64 {
        let place = if self.up == onward {
            cell
        } else {
            cell.wrapping_sub(1)
        };
        self.links[rail * (self.cells - 1) + place]
    }
}

/// Eliminates the stretch; `shares` keeps `R·(R + 1)` numbers a cell, or `R·(2R + 1)` between two pads.
#[inline(always)]
#[allow(
    clippy::needless_range_loop,
    reason = "the indices name rails on both sides of a pair"
)]
pub(super) fn forward<const R: usize, const BETWEEN: bool>(
    s: &Stretch,
    shares: &mut [f64],
) -> Left<R> {
    let width = if BETWEEN { 2 * R + 1 } else { R + 1 };
    let mut cc = [[0.0; R]; R];
    let mut cl = [[0.0; R]; R];
    let mut ll = [[0.0; R]; R];
    let mut carried = [0.0; R];
    let mut left_amps = [0.0; R];
    let (mut positive, mut lost) = (true, false);
    if BETWEEN {
        for (i, row) in cl.iter_mut().enumerate() {
            row[i] = s.link(i, s.first, false);
        }
    }
    for (n, kept) in shares.chunks_exact_mut(R * width).take(s.count).enumerate() {
        let k = s.cell(n);
        let mut amps = carried;
        for (i, a) in amps.iter_mut().enumerate() {
            *a += s.amps[i * s.cells + k];
        }
        for e in 1..R {
            cc[0][e] += s.slopes[(e - 1) * s.cells + k];
        }
        let mut cn = [[0.0; R]; R];
        for (i, row) in cn.iter_mut().enumerate() {
            row[i] = s.link(i, k, true);
        }
        let mut nn = [[0.0; R]; R];
        let mut nl = [[0.0; R]; R];
        carried = [0.0; R];
        for i in 0..R {
            // Node i sees cells j > i of its own cell, rails n <= i of the next, and the pad behind.
            let mut total = 0.0;
            for j in i + 1..R {
                total += cc[i][j];
            }
            for m in 0..=i {
                total += cn[i][m];
            }
            if BETWEEN {
                for l in 0..R {
                    total += cl[i][l];
                }
            }
            if !(total > 0.0) {
                positive &= total == 0.0;
                lost |= total == 0.0 && amps[i] != 0.0;
            }
            let inverse = if total == 0.0 { 0.0 } else { 1.0 / total };
            let row = &mut kept[i * width..(i + 1) * width];
            let here = amps[i];
            // Shares: own cell at j - 1, next cell at m, pad behind at R + l. (j - 1 >= i >= m, and j - 1 = m only if i = m.)
            let mut own = [0.0; R];
            let mut next = [0.0; R];
            let mut left = [0.0; R];
            for j in i + 1..R {
                own[j] = cc[i][j] * inverse;
                amps[j] += own[j] * here;
            }
            for m in 0..=i {
                next[m] = cn[i][m] * inverse;
                carried[m] += next[m] * here;
            }
            if BETWEEN {
                for l in 0..R {
                    left[l] = cl[i][l] * inverse;
                    left_amps[l] += left[l] * here;
                    row[R + l] = left[l];
                }
            }
            row[..=i].copy_from_slice(&next[..=i]);
            row[i + 1..R].copy_from_slice(&own[i + 1..]);
            row[width - 1] = here * inverse;
            for j in i + 1..R {
                for t in j + 1..R {
                    cc[j][t] += cc[i][j] * own[t];
                }
                for m in 0..=i {
                    cn[j][m] += cc[i][j] * next[m];
                }
                if BETWEEN {
                    for l in 0..R {
                        cl[j][l] += cc[i][j] * left[l];
                    }
                }
            }
            for m in 0..=i {
                for t in m + 1..=i {
                    nn[m][t] += cn[i][m] * next[t];
                }
                if BETWEEN {
                    for l in 0..R {
                        nl[m][l] += cn[i][m] * left[l];
                    }
                }
            }
            if BETWEEN {
                for l in 0..R {
                    for t in l + 1..R {
                        ll[l][t] += cl[i][l] * left[t];
                    }
                }
            }
        }
        cc = nn;
        cl = nl;
    }
    Left {
        next_next: cc,
        next_left: cl,
        left_left: ll,
        next_amps: carried,
        left_amps,
        positive,
        lost,
    }
}

/// Puts the voltages back from the pads inwards; returns the largest.
#[inline(always)]
pub(super) fn backward<const R: usize, const BETWEEN: bool>(
    s: &Stretch,
    shares: &[f64],
    next: [f64; R],
    left: [f64; R],
    volts: &mut [f64],
) -> f64 {
    let width = if BETWEEN { 2 * R + 1 } else { R + 1 };
    let mut ahead = next;
    let mut most = 0.0_f64;
    for (n, kept) in shares
        .chunks_exact(R * width)
        .take(s.count)
        .enumerate()
        .rev()
    {
        let k = s.cell(n);
        let mut own = [0.0; R];
        for i in (0..R).rev() {
            let row = &kept[i * width..(i + 1) * width];
            let mut v = row[width - 1];
            for m in 0..=i {
                v += row[m] * ahead[m];
            }
            for j in i + 1..R {
                v += row[j] * own[j];
            }
            if BETWEEN {
                for l in 0..R {
                    v += row[R + l] * left[l];
                }
            }
            own[i] = v;
            volts[i * s.cells + k] = v;
            most = most.max(v.abs());
        }
        ahead = own;
    }
    most
}
