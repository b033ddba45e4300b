//! What is left on the lines when the source rests.

use super::LineNet;

impl LineNet {
    /// Energy on the lines and in the capacitors, J: `Σ a²/Z · Δt + Σ h²/4g · Δt`; the last is ½ C v² at rest.
    #[must_use]
    pub fn energy(&self) -> f64 {
        let lines = self.lines.iter().map(|line| {
            let under_way = line
                .waves
                .iter()
                .flat_map(|waves| waves.iter().skip(line.reading).take(line.steps));
            under_way.map(|wave| wave * wave).sum::<f64>() / line.impedance * self.step
        });
        // A capacitor under the trapezoidal rule is a line of one step: its wave is h/2g on the conductance g.
        let held = self.nodes.iter().filter(|node| node.capacitance > 0.0);
        let held = held.map(|node| {
            let g = 2.0 * node.capacitance / self.step;
            node.history * node.history / (4.0 * g) * self.step
        });
        lines.sum::<f64>() + held.sum::<f64>()
    }
    /// Volts that no node will pass any more while the source rests.
    ///
    /// What arrives at a node, with conductances `1/Z` of its lines and `g` of its capacitor, carries at most the
    /// energy `E` of the net, so by Cauchy and Schwarz `|v| ≤ 2 √(E/Δt) / √(Σ 1/Z + g + G)`; and `E` never grows.
    pub(in super::super) fn volts_left(&self) -> f64 {
        let root = libm::sqrt(self.energy() / self.step);
        let weakest = self.nodes.iter().map(|node| self.conductance(node));
        2.0 * root / libm::sqrt(weakest.fold(f64::INFINITY, f64::min))
    }
}
