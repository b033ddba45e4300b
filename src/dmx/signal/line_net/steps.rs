//! Carrying a net through time.

use super::{Line, LineNet, Node, Place, STRIDE};

impl LineNet {
    /// Carries the net on by `steps`; `source` gives the open-circuit volts of a step, `watch` sees the
    /// volts of every node from a step on.
    ///
    /// `source(first, out)` fills `out` for steps `first…`. The first call begins at step 0.
    pub fn run(
        &mut self,
        steps: usize,
        mut source: impl FnMut(usize, &mut [f64]),
        mut watch: impl FnMut(Node, usize, &[f64]),
    ) {
        let shortest = self
            .lines
            .iter()
            .map(|line| line.steps)
            .min()
            .unwrap_or(STRIDE);
        let block = shortest.clamp(1, STRIDE);
        let (mut emf, mut sum, mut volts) = (vec![0.0; block], vec![0.0; block], vec![0.0; block]);
        let mut at = 0;
        while at < steps {
            let count = block.min(steps - at);
            let (Some(emf), Some(sum), Some(volts)) = (
                emf.get_mut(..count),
                sum.get_mut(..count),
                volts.get_mut(..count),
            ) else {
                return;
            };
            for line in &mut self.lines {
                line.make_room(count);
            }
            source(at, emf);
            for (index, place) in self.nodes.iter_mut().enumerate() {
                place.advance(&mut self.lines, self.step, emf, sum, volts);
                watch(Node(index), at, volts);
            }
            for line in &mut self.lines {
                line.reading += count;
            }
            at += count;
        }
    }
}

impl LineNet {
    /// What a node conducts: lines, resistors, source, and its capacitor in one step.
    pub(super) fn conductance(&self, place: &Place) -> f64 {
        let lines = place
            .ports
            .iter()
            .filter_map(|&(line, _)| self.lines.get(line));
        let ports: f64 = lines.map(|line| 1.0 / line.port()).sum();
        place.conductance + place.source + ports + 2.0 * place.capacitance / self.step
    }
}

impl Line {
    /// Moves the waves under way to the front when `count` more would not fit.
    fn make_room(&mut self, count: usize) {
        let length = self.waves[0].len();
        if self.reading + self.steps + count > length {
            for waves in &mut self.waves {
                waves.copy_within(self.reading..self.reading + self.steps, 0);
            }
            self.reading = 0;
        }
    }
}

impl Place {
    fn advance(
        &mut self,
        lines: &mut [Line],
        step: f64,
        emf: &[f64],
        sum: &mut [f64],
        volts: &mut [f64],
    ) {
        let count = sum.len();
        let mut total = self.conductance + self.source;
        let source = self.source;
        for (sum, emf) in sum.iter_mut().zip(emf) {
            *sum = emf * source;
        }
        for &(line, end) in &self.ports {
            let Some(line) = lines.get(line) else {
                continue;
            };
            let weight = 2.0 / line.port();
            total += 0.5 * weight;
            // What left the far end, when it arrives here.
            let far = if end == 0 {
                &line.waves[1]
            } else {
                &line.waves[0]
            };
            let arriving = far.get(line.reading..line.reading + count).unwrap_or(&[]);
            for (sum, wave) in sum.iter_mut().zip(arriving) {
                *sum += weight * wave;
            }
        }
        let g = 2.0 * self.capacitance / step;
        total += g;
        if !(total > 0.0) {
            volts.fill(0.0);
            return;
        }
        let inverse = 1.0 / total;
        if g > 0.0 {
            self.history = capacitor(self.history, 2.0 * g * inverse, inverse, sum, volts);
        } else {
            for (volts, sum) in volts.iter_mut().zip(sum.iter()) {
                *volts = sum * inverse;
            }
        }
        for &(line, end) in &self.ports {
            let Some(line) = lines.get_mut(line) else {
                continue;
            };
            let port = line.port();
            let (keep, turn) = (line.impedance / port, line.resistance / port - 1.0);
            let (reading, writing) = (line.reading, line.reading + line.steps);
            let [first, second] = &mut line.waves;
            let (out, far) = if end == 0 {
                (first, second)
            } else {
                (second, first)
            };
            let arriving = far.get(reading..reading + count).unwrap_or(&[]);
            let leaving = out.get_mut(writing..writing + count).unwrap_or(&mut []);
            for ((leaving, wave), volts) in leaving.iter_mut().zip(arriving).zip(volts.iter()) {
                *leaving = keep * volts + turn * wave;
            }
        }
    }
}

/// Volts of a node with a capacitor: `v = (s + h)/total`, `h' = β s + (β − 1) h`; gives the last `h`.
///
/// Four steps at a time, so that the chain of dependent sums is a quarter as long.
fn capacitor(mut h: f64, beta: f64, inverse: f64, sum: &[f64], volts: &mut [f64]) -> f64 {
    let alpha = beta - 1.0;
    let (two, three, four) = (
        alpha * alpha,
        alpha * alpha * alpha,
        alpha * alpha * alpha * alpha,
    );
    let mut sums = sum.chunks_exact(4);
    let mut outs = volts.chunks_exact_mut(4);
    for (s, v) in (&mut sums).zip(&mut outs) {
        let (&[s1, s2, s3, s4], [v1, v2, v3, v4]) = (s, v) else {
            continue;
        };
        let q1 = beta * s1;
        let q2 = alpha * q1 + beta * s2;
        let q3 = alpha * q2 + beta * s3;
        let q4 = alpha * q3 + beta * s4;
        *v1 = (s1 + h) * inverse;
        *v2 = (s2 + alpha * h + q1) * inverse;
        *v3 = (s3 + two * h + q2) * inverse;
        *v4 = (s4 + three * h + q3) * inverse;
        h = four * h + q4;
    }
    for (s, v) in sums.remainder().iter().zip(outs.into_remainder()) {
        *v = (s + h) * inverse;
        h = alpha * h + beta * s;
    }
    h
}
