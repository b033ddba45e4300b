//! A scale from figures to places on paper, with ticks at round figures.

/// Figures from `low` to `high` between two places.
#[derive(Debug, Clone, Copy)]
pub(super) struct Scale {
    pub low: f64,
    pub high: f64,
    pub from: f64,
    pub to: f64,
}

impl Scale {
    pub fn at(self, figure: f64) -> f64 {
        let span = self.high - self.low;
        let share = if span > 0.0 {
            (figure - self.low) / span
        } else {
            0.5
        };
        self.from + share * (self.to - self.from)
    }

    /// Round figures within it, about so many, with the decimals that they need.
    pub fn ticks(self, about: usize) -> (Vec<f64>, usize) {
        let span = self.high - self.low;
        if !(span > 0.0 && span.is_finite()) {
            return (vec![self.low], 2);
        }
        let step = round_step(span / about.max(1) as f64);
        let first = libm::ceil(self.low / step - 1e-9);
        let last = libm::floor(self.high / step + 1e-9);
        let count = (last - first).clamp(0.0, 200.0) as usize;
        let ticks = (0..=count).map(|n| (first + n as f64) * step).collect();
        let decimals = (-libm::floor(libm::log10(step) + 1e-9)).clamp(0.0, 6.0) as usize;
        (ticks, decimals)
    }
}

/// 1, 2 or 5 times a power of ten, not below this.
fn round_step(least: f64) -> f64 {
    let power = libm::pow(10.0, libm::floor(libm::log10(least)));
    let steps = [1.0, 2.0, 5.0].map(|step| step * power);
    let step = steps.into_iter().find(|step| *step >= least * (1.0 - 1e-9));
    step.unwrap_or(10.0 * power)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ticks_are_round_and_inside() {
        let scale = |low, high| Scale {
            low,
            high,
            from: 0.0,
            to: 100.0,
        };
        let (ticks, decimals) = scale(0.0, 12.3).ticks(6);
        assert_eq!((ticks, decimals), (vec![0.0, 5.0, 10.0], 0));
        let (ticks, decimals) = scale(22.9, 24.6).ticks(5);
        assert_eq!((ticks.len(), decimals), (4, 1));
        assert!((ticks[0] - 23.0).abs() < 1e-9);
        assert_eq!(scale(3.0, 3.0).ticks(4).0, [3.0]);
        assert!((scale(20.0, 30.0).at(25.0) - 50.0).abs() < 1e-9);
    }
}
