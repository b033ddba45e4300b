//! One Newton pass over the two-rail ladder: two sweeps, no division in the chain.
//!
//! Unknown is the drop `p[k] = E − u[k]` of each cell. Seen from the far end the rest of the ladder
//! is a conductance `Y = n/d`; a link of resistance `r` makes it `n/(d + r·n)` and a cell of slope
//! `g` adds `g`: numerator and denominator are sums of products of positive numbers, so nothing
//! is lost and nothing is divided on the way (`d` is brought back to 1 every few cells). The sweep back
//! divides the step by `1 + r·Y = d'/d` cell by cell.

/// What a cell draws: current and slope at a voltage.
pub(super) trait Draw {
    fn at(&self, volts: f64) -> (f64, f64);
}

/// The links of a ladder: link `k` joins cells `k` and `k + 1`.
pub(super) trait Links {
    /// Factor that conductances and currents of the sweep carry, ohm (1 where they carry none).
    fn unit(&self) -> f64;
    /// Current, times the unit, of a link under a difference of drops.
    fn current(&self, k: usize, volts: f64) -> f64;
    /// A conductance or current of the sweep times the resistance of link `k`.
    fn times(&self, k: usize, carried: f64) -> f64;
    /// Conductance of a link, S.
    fn siemens(&self, k: usize) -> f64;
}

/// The same link everywhere: the sweep carries its resistance.
#[derive(Clone, Copy)]
pub(super) struct Same(pub f64);

impl Links for Same {
    #[inline(always)]
    fn unit(&self) -> f64 {
        self.0
    }
    #[inline(always)]
    fn current(&self, _: usize, volts: f64) -> f64 {
        volts
    }
    #[inline(always)]
    fn times(&self, _: usize, carried: f64) -> f64 {
        carried
    }
    #[inline(always)]
    fn siemens(&self, _: usize) -> f64 {
        1.0 / self.0
    }
}

/// A list of links.
#[derive(Clone, Copy)]
pub(super) struct Listed<'a>(pub &'a [f64]);

impl Links for Listed<'_> {
    #[inline(always)]
    fn unit(&self) -> f64 {
        1.0
    }
    #[inline(always)]
    fn current(&self, k: usize, volts: f64) -> f64 {
        volts / self.0[k]
    }
    #[inline(always)]
    fn times(&self, k: usize, carried: f64) -> f64 {
        carried * self.0[k]
    }
    #[inline(always)]
    fn siemens(&self, k: usize) -> f64 {
        1.0 / self.0[k]
    }
}

/// A feed: cell and conductance to the source.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Tap {
    pub cell: usize,
    pub siemens: f64,
}

/// The ladder of one level: `many` cells to a node.
pub(super) struct Ladder<'a, D, L> {
    pub volts: f64,
    pub draw: &'a D,
    pub links: L,
    pub many: f64,
    /// By rising cell, no cell twice.
    pub taps: &'a [Tap],
}

/// Cells between two renewals of the denominator.
const RENEW: usize = 8;

/// The state of the sweep from the far end: conductance `n/d` and current held, seen at a cell.
///
/// With links that are all the same both `n` and `held` carry the factor `r` of the (only) link, which then costs no multiplication.
struct Front {
    d: f64,
    n: f64,
    held: f64,
}

/// One pass over `drop`; `near` and `add` are work arrays of the same length. Returns the largest step.
#[inline]
pub(super) fn pass<D: Draw, L: Links>(
    ladder: &Ladder<D, L>,
    drop: &mut [f64],
    near: &mut [f64],
    add: &mut [f64],
) -> f64 {
    let cells = drop.len();
    let (near, add) = (&mut near[..cells], &mut add[..cells]);
    let Some(&last) = drop.last() else { return 0.0 };
    let (many, volts, unit) = (ladder.many, ladder.volts, ladder.links.unit());
    let (i, g) = ladder.draw.at(volts - last);
    let mut front = Front {
        d: 1.0,
        n: unit * many * g,
        held: -unit * many * i,
    };
    let mut taps = ladder.taps.iter().rev();
    let mut tap = taps.next();
    let mut ahead = last;
    let mut high = cells - 1;
    loop {
        // A feed at the cell just taken in.
        if let Some(t) = tap.filter(|t| t.cell == high) {
            front.held += unit * t.siemens * ahead;
            front.n += unit * t.siemens * front.d;
            tap = taps.next();
        }
        let renew = 1.0 / front.d;
        front.n *= renew;
        front.d = 1.0;
        if high == 0 {
            break;
        }
        let low = high.saturating_sub(RENEW).max(tap.map_or(0, |t| t.cell));
        let outer = near[low + 1..=high]
            .iter_mut()
            .rev()
            .zip(add[low + 1..=high].iter_mut().rev());
        for ((k, &p), (q, a)) in (low..high)
            .rev()
            .zip(drop[low..high].iter().rev())
            .zip(outer)
        {
            let link = ladder.links.current(k, ahead - p);
            let more = front.d + ladder.links.times(k, front.n);
            let share = front.d / more;
            let held = (front.held + link) * share;
            *q = share;
            *a = ladder.links.times(k, held);
            front.d = more;
            let (i, g) = ladder.draw.at(volts - p);
            front.n += unit * many * g * more;
            front.held = held - (link + unit * many * i);
            ahead = p;
        }
        high = low;
    }
    let mut step = front.held / front.n;
    let mut most = step.abs();
    drop[0] -= step;
    for ((p, q), a) in drop[1..].iter_mut().zip(&near[1..]).zip(&add[1..]) {
        step = q * step + a;
        *p -= step;
        let size = step.abs();
        most = if size > most { size } else { most };
    }
    most
}
