//! One Newton pass over a stretch of tape whose two rails are folded into one loop.
//!
//! ```text
//!   far end  ●──r──●──r──● … ●──r──○ pad       r: common and return track together
//!            │     │     │   │                 u: voltage of a cell, between its rails
//!          I(u0) I(u1) I(u2) I(uN)
//! ```
//!
//! Seen from the far end what has been passed is a conductance `Y = n/d`; a link of resistance `r` makes it `n/(d + r·n)`
//! and a cell of slope `g` adds `g`: numerator and denominator are sums of products of positive numbers, so nothing
//! is lost and nothing is divided on the way (`d` is brought back to 1 every few cells). A stretch between two pads carries besides the
//! conductance `l = e/d` to the pad behind it, and what the loads have taken of the conductance `1/Σr` of bare copper,
//! `k/d = 1 − l·Σr`. Laws are evaluated as the sweep goes.

/// What a cell draws: current and slope at a voltage.
pub(super) trait Draw {
    fn at(&self, volts: f64) -> (f64, f64);
}

/// The loop links of a stretch: link `k` leads from its `k`-th cell onwards, the last one to the pad.
pub(super) trait Links {
    /// Factor that conductances and currents of the sweep carry, ohm (1 where they carry none).
    fn unit(&self) -> f64;
    /// Current, times the unit, of a link under a difference of drops.
    fn current(&self, k: usize, volts: f64) -> f64;
    /// A conductance or current of the sweep times the resistance of link `k`.
    fn times(&self, k: usize, carried: f64) -> f64;
    /// Resistance of link `k`, ohm.
    fn ohms(&self, k: usize) -> f64;
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
    fn ohms(&self, _: usize) -> f64 {
        self.0
    }
}

/// A list of links, walked from its end where the stretch is.
#[derive(Clone, Copy)]
pub(super) struct Listed<'a, const UP: bool>(pub &'a [f64]);

impl<const UP: bool> Links for Listed<'_, UP> {
    #[inline(always)]
    fn unit(&self) -> f64 {
        1.0
    }
    #[inline(always)]
    fn current(&self, k: usize, volts: f64) -> f64 {
        volts / self.ohms(k)
    }
    #[inline(always)]
    fn times(&self, k: usize, carried: f64) -> f64 {
        carried * self.ohms(k)
    }
    #[inline(always)]
    fn ohms(&self, k: usize) -> f64 {
        self.0[place::<UP>(self.0.len(), k)]
    }
}

/// Cells between two renewals of the denominator.
const RENEW: usize = 8;

/// What a stretch without a pad behind it is to the pad ahead.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct End {
    /// Conductance across the pad, S.
    pub siemens: f64,
    /// Current injected into the plus side of the pad, A.
    pub amps: f64,
}

/// What a stretch between two pads is to them.
#[derive(Debug, Clone, Copy, Default)]
pub(super) struct Two {
    /// At the pad ahead and at the pad behind.
    pub ahead: End,
    pub behind: End,
    /// Conductance from pad to pad, S.
    pub across: f64,
    /// What the loads take of the copper's own conductance, S.
    pub taken: f64,
}

/// A stretch of cells in the work arrays: voltages, and shares kept for the way back.
pub(super) struct Cells<'a> {
    pub volts: &'a mut [f64],
    /// Share of the next cell's step, and what is added to it.
    pub near: &'a mut [f64],
    pub add: &'a mut [f64],
}

#[inline(always)]
fn place<const UP: bool>(count: usize, n: usize) -> usize {
    if UP { n } else { count - 1 - n }
}

/// Eliminates a stretch that ends in the open: from its far end to the pad, whose voltage is `pad`.
#[inline]
pub(super) fn forward<D: Draw, L: Links, const UP: bool>(
    draw: &D,
    links: L,
    cells: &mut Cells,
    pad: f64,
) -> End {
    let count = cells.volts.len();
    let (near, add) = (&mut cells.near[..count], &mut cells.add[..count]);
    let volts = &*cells.volts;
    let unit = links.unit();
    let (mut d, mut n, mut held) = (1.0, 0.0, 0.0);
    let mut here = volts[place::<UP>(count, 0)];
    let mut low = 0;
    while low < count {
        let high = (low + RENEW).min(count);
        for k in low..high {
            let (i, g) = draw.at(here);
            n += unit * g * d;
            held -= unit * i;
            let ahead = if k + 1 < count {
                volts[place::<UP>(count, k + 1)]
            } else {
                pad
            };
            let link = links.current(k, ahead - here);
            let more = d + links.times(k, n);
            let share = d / more;
            let passed = (held + link) * share;
            near[k] = share;
            add[k] = links.times(k, passed);
            d = more;
            held = passed - link;
            here = ahead;
        }
        n /= d;
        d = 1.0;
        low = high;
    }
    End {
        siemens: n / unit,
        amps: held / unit,
    }
}

/// Moves the cells of the stretch by the step that goes with `step` at the pad; the largest.
#[inline]
pub(super) fn backward<const UP: bool>(cells: &mut Cells, mut step: f64) -> f64 {
    let count = cells.volts.len();
    let (near, add) = (&cells.near[..count], &cells.add[..count]);
    let mut most = 0.0_f64;
    for k in (0..count).rev() {
        step = near[k] * step + add[k];
        cells.volts[place::<UP>(count, k)] += step;
        let size = step.abs();
        most = if size > most { size } else { most };
    }
    most
}

/// Eliminates a stretch between two pads, upwards; `first` is the link to the pad behind, ohm, and `from` keeps its share.
#[inline]
pub(super) fn forward_between<D: Draw, L: Links>(
    draw: &D,
    links: L,
    cells: &mut Cells,
    from: &mut [f64],
    (first, behind): (f64, f64),
    pad: f64,
) -> Two {
    let count = cells.volts.len();
    let (near, add, from) = (
        &mut cells.near[..count],
        &mut cells.add[..count],
        &mut from[..count],
    );
    let volts = &*cells.volts;
    let unit = links.unit();
    let mut here = volts[0];
    let entered = unit * (behind - here) / first;
    let (mut d, mut n, mut e, mut k_) = (1.0, 0.0, unit / first, 0.0);
    let (mut held, mut ohms) = (entered, first);
    let mut left = End {
        siemens: 0.0,
        amps: -entered,
    };
    let mut low = 0;
    while low < count {
        let high = (low + RENEW).min(count);
        let mut before = 1.0;
        for k in low..high {
            let (i, g) = draw.at(here);
            n += unit * g * d;
            held -= unit * i;
            let ahead = if k + 1 < count { volts[k + 1] } else { pad };
            let link = links.current(k, ahead - here);
            let (rn, re) = (links.times(k, n), links.times(k, e));
            let more = d + rn + re;
            let inverse = 1.0 / more;
            let (share, back) = (d * inverse, re * inverse);
            let injected = held + link;
            near[k] = share;
            from[k] = back;
            add[k] = links.times(k, injected * share);
            left.siemens += re * n * before * inverse;
            left.amps += injected * back;
            k_ += rn;
            held = injected * share - link;
            d = more;
            before = inverse;
            here = ahead;
            ohms += links.ohms(k);
        }
        let renew = 1.0 / d;
        n *= renew;
        e *= renew;
        k_ *= renew;
        d = 1.0;
        low = high;
    }
    Two {
        ahead: End {
            siemens: n / unit,
            amps: held / unit,
        },
        behind: End {
            siemens: left.siemens / unit,
            amps: left.amps / unit,
        },
        across: e / unit,
        taken: k_ / ohms,
    }
}

/// The same as [`backward`], between two pads whose steps are `behind` and `step`.
#[inline]
pub(super) fn backward_between(cells: &mut Cells, from: &[f64], behind: f64, mut step: f64) -> f64 {
    let count = cells.volts.len();
    let (near, add, from) = (&cells.near[..count], &cells.add[..count], &from[..count]);
    let mut most = 0.0_f64;
    for k in (0..count).rev() {
        step = near[k] * step + (add[k] + from[k] * behind);
        cells.volts[k] += step;
        let size = step.abs();
        most = if size > most { size } else { most };
    }
    most
}
