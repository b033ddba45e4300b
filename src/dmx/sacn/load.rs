//! How much of the network a universe takes.

use super::super::timing::{PacketSpec, Role, SLOTS};
use super::octets::BEFORE_SLOTS;
use crate::quantity::{Frequency, hertz};

/// UDP 8, IPv4 20, Ethernet 14 and its check 4, preamble 8, gap 12 (RFC 768, RFC 791, IEEE 802.3; without a VLAN tag).
const AROUND_PAYLOAD: u32 = 8 + 20 + 14 + 4 + 8 + 12;

/// Octets of a datagram's payload: `126 + slots` (ANSI E1.31-2018, table 4-1).
#[must_use]
pub fn payload_octets(slots: u16) -> u32 {
    BEFORE_SLOTS as u32 + u32::from(slots)
}

/// Octet times that a packet takes on the wire: payload, UDP, IPv4, Ethernet, preamble and gap.
#[must_use]
pub fn wire_octets(slots: u16) -> u32 {
    payload_octets(slots) + AROUND_PAYLOAD
}

/// Bits a second that one universe takes on the wire: `8 · octets · rate`.
///
/// ```
/// use evenrun::dmx::sacn::bits_per_second;
/// use evenrun::quantity::hertz;
/// assert_eq!(bits_per_second(512, hertz(44.0)), 247_808.0);
/// ```
#[must_use]
pub fn bits_per_second(slots: u16, rate: Frequency) -> f64 {
    8.0 * f64::from(wire_octets(slots)) * rate.value
}

/// The most packets a second, which is what the DMX512 line itself could carry (ANSI E1.31-2018, clause 6.6.1).
#[must_use]
pub fn most_rate(slots: u16) -> Frequency {
    let role = Role::Transmitter;
    let packet = PacketSpec::shortest(slots.min(SLOTS), role).check();
    packet.map_or(hertz(0.0), |packet| packet.refresh(role))
}
