//! Numbers without a pattern, the same everywhere.

/// A small generator (xorshift).
pub struct Dice(pub u64);

impl Dice {
    /// A number below `below`.
    pub fn next(&mut self, below: u64) -> u64 {
        self.0 ^= self.0 << 13;
        self.0 ^= self.0 >> 7;
        self.0 ^= self.0 << 17;
        self.0 % below
    }
}
