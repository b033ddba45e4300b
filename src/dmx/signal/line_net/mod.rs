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

mod energy;
mod steps;

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

    pub(super) fn count(&self) -> usize {
        self.nodes.len()
    }

    fn place(&mut self, at: Node) -> Result<&mut Place, NetError> {
        let count = self.nodes.len();
        self.nodes
            .get_mut(at.0)
            .ok_or(NetError::Node { found: at.0, count })
    }
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
