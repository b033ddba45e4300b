//! START codes: what the first slot says about the rest.
//!
//! ```
//! use evenrun::dmx::start_code::registered;
//! assert!(registered(0xCC).unwrap().meaning.starts_with("RDM"));
//! assert!(registered(0x92).is_some_and(|code| !code.products_may_send));
//! ```
//!
//! Codes as listed by public implementations of ANSI E1.11; the other codes are
//! registered to makers, and the register of the standard's keeper is in force.

/// A START code, or a range of them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Registered {
    /// The first code.
    pub first: u8,
    /// The last code.
    pub last: u8,
    /// What follows it.
    pub meaning: &'static str,
    /// Whether something that is sold may send it.
    pub products_may_send: bool,
}

/// NULL: levels for dimmers and everything like them.
pub const NULL: u8 = 0x00;
/// The test packet.
pub const TEST: u8 = 0x55;
/// RDM.
pub const RDM: u8 = 0xCC;

const fn code(code: u8, meaning: &'static str) -> Registered {
    range(code, code, meaning, true)
}

const fn range(first: u8, last: u8, meaning: &'static str, products_may_send: bool) -> Registered {
    Registered {
        first,
        last,
        meaning,
        products_may_send,
    }
}

/// The codes, in ascending order.
pub const REGISTER: &[Registered] = &[
    code(
        NULL,
        "NULL START code: untyped slots of 8 bits, levels for dimmers",
    ),
    code(0x17, "text packet: page, characters a line, text"),
    code(TEST, "test packet: 512 slots, each 0x55"),
    code(0x90, "text packet in UTF-8"),
    code(
        0x91,
        "organisation ID in slots 1 and 2, high octet first, then its own data",
    ),
    range(0x92, 0xA9, "reserved", false),
    range(0xAB, 0xCB, "reserved", false),
    code(RDM, "RDM (ANSI E1.20), sub-START code 0x01"),
    range(0xCD, 0xCD, "reserved", false),
    code(
        0xCF,
        "system information packet: check sums of the packet before it",
    ),
    range(0xF0, 0xF7, "for trials only", false),
];

/// What a START code stands for; none where the list here does not have it.
#[must_use]
pub fn registered(code: u8) -> Option<&'static Registered> {
    REGISTER
        .iter()
        .find(|entry| (entry.first..=entry.last).contains(&code))
}
