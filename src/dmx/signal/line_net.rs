//! Ideal lines with lumped loss, by the method of characteristics.
//!
//! A lossless line of impedance `Z` and delay `n` steps hands its other end the
//! wave that left this one `n` steps ago, so nodes meet only through the past:
//! with arriving waves `a` on ports of resistance `Zp = Z + R/2` (half the
//! resistance of the line stands at each end),
//!
//! ```text
//! v  = (Σ 2a/Zp + vs/Rs + h) / (Σ 1/Zp + 1/Rs + G + g)      g = 2C/Δt
//! h' = 2 g v − h                                            trapezoidal rule for C
//! b  = v · Z/Zp + a · (R/Zp − 1)                            leaving wave
//! ```
//!
//! (H. W. Dommel, "Digital computer solution of electromagnetic transients in
//! single- and multiphase networks", IEEE Trans. PAS-88, 1969; from memory.)
//! Because every delay is at least one step, all nodes can be carried on by as
//! many steps as the shortest delay before they need each other again; the
//! inner loops run along time.

use thiserror::Error;

/// Most nodes of one net.
const MOST_NODES: usize = 100_000;
/// Longest delay of one line, steps.
const MOST_STEPS: usize = 4_000_000;
/// Most stored waves of one net.
const MOST_WAVES: usize = 50_000_000;
/// Steps that buffers hold beyond the delay.
const STRIDE: usize = 512;

/// A node of a [`LineNet`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Node(usize);

impl Node {
    pub(super) fn index(self) -> usize {
        self.0
    }
}

/// What cannot be part of a net.
#[derive(Debug, Clone, PartialEq, Error)]
#[non_exhaustive]
pub enum NetError {
    /// A number out of range.
    #[error("{what} is {found}; write {accepted}")]
    Number {
        /// Which.
        what: &'static str,
        /// The number.
        found: f64,
        /// What is accepted.
        accepted: &'static str,
    },
    /// A node that the net does not have.
    #[error("node {found}; the net has {count}")]
    Node {
        /// Its index.
        found: usize,
        /// Nodes of the net.
        count: usize,
    },
    /// Too large.
    #[error("more than {limit} {what}: take a longer step or a smaller net")]
    TooLarge {
        /// What.
        what: &'static str,
        /// The limit.
        limit: usize,
    },
}

#[derive(Debug, Clone, Default)]
struct Place {
    conductance: f64,
    capacitance: f64,
    /// Conductance of the source, if there is one.
    source: f64,
    /// Ports: line and end (0 or 1).
    ports: Vec<(usize, usize)>,
    history: f64,
}

#[derive(Debug, Clone)]
struct Line {
    impedance: f64,
    resistance: f64,
    steps: usize,
    /// Waves that left end 0 and end 1; those under way begin at `reading`.
    waves: [Vec<f64>; 2],
    reading: usize,
}

impl Line {
    fn port(&self) -> f64 {
        self.impedance + 0.5 * self.resistance
    }
}

/// A tree or mesh of lines, resistors, capacitors and one source, at rest at zero volts.
#[derive(Debug, Clone)]
pub struct LineNet {
    step: f64,
    nodes: Vec<Place>,
    lines: Vec<Line>,
    waves: usize,
}

impl LineNet {
    /// An empty net with a time step, s.
    ///
    /// # Errors
    /// A step outside 1 ps to 1 s.
    pub fn new(step: f64) -> Result<Self, NetError> {
        within("the step, s", step, 1e-12, 1.0, "1e-12 to 1 s")?;
        Ok(Self {
            step,
            nodes: Vec::new(),
            lines: Vec::new(),
            waves: 0,
        })
    }

    /// Adds a node.
    ///
    /// # Errors
    /// More than 100 000 nodes.
    pub fn node(&mut self) -> Result<Node, NetError> {
        if self.nodes.len() >= MOST_NODES {
            return Err(NetError::TooLarge {
                what: "nodes",
                limit: MOST_NODES,
            });
        }
        self.nodes.push(Place::default());
        Ok(Node(self.nodes.len() - 1))
    }

    /// Puts a resistor across the pair at a node, ohm.
    ///
    /// # Errors
    /// A resistance that is not above zero; an unknown node.
    pub fn resistor(&mut self, at: Node, resistance: f64) -> Result<(), NetError> {
        within(
            "a resistor, ohm",
            resistance,
            1e-3,
            f64::MAX,
            "0.001 ohm and more",
        )?;
        self.place(at)?.conductance += 1.0 / resistance;
        Ok(())
    }

    /// Puts a capacitor across the pair at a node, F.
    ///
    /// # Errors
    /// A negative capacitance; an unknown node.
    pub fn capacitor(&mut self, at: Node, capacitance: f64) -> Result<(), NetError> {
        within("a capacitor, F", capacitance, 0.0, 1.0, "0 to 1 F")?;
        self.place(at)?.capacitance += capacitance;
        Ok(())
    }

    /// Puts the source with its internal resistance, ohm, at a node.
    ///
    /// # Errors
    /// A resistance that is not above zero; an unknown node.
    pub fn source(&mut self, at: Node, resistance: f64) -> Result<(), NetError> {
        within(
            "the source resistance, ohm",
            resistance,
            1e-3,
            f64::MAX,
            "0.001 ohm and more",
        )?;
        self.place(at)?.source += 1.0 / resistance;
        Ok(())
    }

    /// Joins two nodes by a line: impedance, ohm; delay in whole steps; loop resistance, ohm.
    ///
    /// # Errors
    /// Numbers out of range; an unknown node; more waves than can be held.
    pub fn line(
        &mut self,
        ends: [Node; 2],
        impedance: f64,
        steps: usize,
        resistance: f64,
    ) -> Result<(), NetError> {
        within(
            "an impedance, ohm",
            impedance,
            1e-3,
            1e9,
            "0.001 to 1e9 ohm",
        )?;
        within(
            "a loop resistance, ohm",
            resistance,
            0.0,
            1e9,
            "0 to 1e9 ohm",
        )?;
        within(
            "a delay, steps",
            steps as f64,
            1.0,
            MOST_STEPS as f64,
            "1 to 4000000 steps",
        )?;
        let index = self.lines.len();
        let length = steps + STRIDE.max(steps);
        self.waves += 2 * length;
        if self.waves > MOST_WAVES {
            return Err(NetError::TooLarge {
                what: "stored waves",
                limit: MOST_WAVES,
            });
        }
        for (end, node) in ends.into_iter().enumerate() {
            self.place(node)?.ports.push((index, end));
        }
        let waves = [vec![0.0; length], vec![0.0; length]];
        self.lines.push(Line {
            impedance,
            resistance,
            steps,
            waves,
            reading: 0,
        });
        Ok(())
    }

    fn place(&mut self, at: Node) -> Result<&mut Place, NetError> {
        let count = self.nodes.len();
        self.nodes
            .get_mut(at.0)
            .ok_or(NetError::Node { found: at.0, count })
    }

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

fn within(
    what: &'static str,
    found: f64,
    low: f64,
    high: f64,
    accepted: &'static str,
) -> Result<(), NetError> {
    if found >= low && found <= high {
        Ok(())
    } else {
        Err(NetError::Number {
            what,
            found,
            accepted,
        })
    }
}
