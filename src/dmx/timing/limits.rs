//! Limits of packet timing, of this text and of older ones.

use crate::quantity::{Time, seconds};
use serde::{Deserialize, Serialize};

/// Who a limit binds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Role {
    /// What a transmitter must keep.
    Transmitter,
    /// What a receiver must take.
    Receiver,
}

impl Role {
    /// The words printed for it.
    #[must_use]
    pub fn words(self) -> &'static str {
        match self {
            Self::Transmitter => "transmitter",
            Self::Receiver => "receiver",
        }
    }

    /// The limits that bind it.
    #[must_use]
    pub fn limits(self) -> TimingLimits {
        match self {
            Self::Transmitter => TimingLimits {
                least_break: seconds(92e-6),
                least_mark_after_break: seconds(12e-6),
                mark_below: seconds(1.0),
                least_break_to_break: seconds(1204e-6),
                most_break_to_break: seconds(1.0),
            },
            Self::Receiver => TimingLimits {
                least_break: seconds(88e-6),
                least_mark_after_break: seconds(8e-6),
                mark_below: seconds(1.0),
                least_break_to_break: seconds(1196e-6),
                most_break_to_break: seconds(1.25),
            },
        }
    }
}

/// Limits of packet timing (ANSI E1.11).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TimingLimits {
    /// Shortest break.
    pub least_break: Time,
    /// Shortest mark after break.
    pub least_mark_after_break: Time,
    /// Every mark (after break, between slots, before break) stays below this.
    pub mark_below: Time,
    /// Shortest time from one break to the next.
    pub least_break_to_break: Time,
    /// Longest time from one break to the next.
    pub most_break_to_break: Time,
}

/// What an older text of DMX512 let a transmitter send, as manuals of that time quote it.
///
/// Equipment of that time is still in use: below 8 µs a mark is shorter than a receiver must take today.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OlderText {
    /// Year of the text.
    pub year: u16,
    /// Shortest break, s, where a document that quotes it was found.
    pub break_seconds: Option<f64>,
    /// Shortest mark after break, s.
    pub mark_seconds: f64,
}

/// The older texts, oldest first.
pub const OLDER: [OlderText; 2] = [
    OlderText {
        year: 1986,
        break_seconds: None,
        mark_seconds: 4e-6,
    },
    OlderText {
        year: 1990,
        break_seconds: Some(88e-6),
        mark_seconds: 8e-6,
    },
];
