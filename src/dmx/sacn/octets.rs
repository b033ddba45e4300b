//! Packets as octets.

use super::super::address::{UniverseError, universe};
use super::model::{DataPacket, Options};

/// Preamble of 16 octets, no postamble, `ASC-E1.17` filled up with zeros.
pub(super) const PREAMBLE: [u8; 16] = *b"\x00\x10\x00\x00ASC-E1.17\x00\x00\x00";
/// Vector of the root layer: data.
pub(super) const ROOT_DATA: u32 = 4;
/// Vector of the root layer: synchronisation and discovery.
const ROOT_EXTENDED: u32 = 8;
/// Vector of the framing layer: data.
pub(super) const FRAMING_DATA: u32 = 2;
/// Vector of the framing layer behind [`ROOT_EXTENDED`]: synchronisation.
const FRAMING_SYNCHRONIZATION: u32 = 1;
/// Vector of the DMP layer: set property.
pub(super) const DMP_SET: u8 = 2;
/// Address type and data type of the DMP layer.
pub(super) const DMP_TYPES: u8 = 0xA1;
/// First octet of the root layer that its length counts, of the framing and of the DMP layer.
pub(super) const LAYERS: [usize; 3] = [16, 38, 115];
/// Octets before the first slot.
pub(super) const BEFORE_SLOTS: usize = 126;
/// Octets of the source name.
pub(super) const NAME: usize = 64;
/// Octets of a synchronisation packet.
const SYNCHRONIZATION: usize = 49;

/// Bits of the options octet.
const PREVIEW: u8 = 1 << 7;
const TERMINATED: u8 = 1 << 6;
const FORCE: u8 = 1 << 5;

impl Options {
    pub(super) fn octet(self) -> u8 {
        let bit = |set: bool, bit: u8| if set { bit } else { 0 };
        bit(self.preview, PREVIEW)
            | bit(self.terminated, TERMINATED)
            | bit(self.force_synchronization, FORCE)
    }

    pub(super) fn of(octet: u8) -> Self {
        Self {
            preview: octet & PREVIEW != 0,
            terminated: octet & TERMINATED != 0,
            force_synchronization: octet & FORCE != 0,
        }
    }
}

/// Flags `0x7` and the octets from `first` to the end of a packet of `all`; at most 4095, which no packet here reaches.
fn length(all: usize, first: usize) -> [u8; 2] {
    (0x7000 | (all - first) as u16).to_be_bytes()
}

impl DataPacket {
    /// The packet as the payload of a datagram: 126 octets and the slots (ANSI E1.31-2018, table 4-1).
    #[must_use]
    pub fn octets(&self) -> Vec<u8> {
        let spec = &self.spec;
        let all = BEFORE_SLOTS + spec.slots.len();
        let mut out = Vec::with_capacity(all);
        out.extend(PREAMBLE);
        out.extend(length(all, LAYERS[0]));
        out.extend(ROOT_DATA.to_be_bytes());
        out.extend(spec.cid);

        out.extend(length(all, LAYERS[1]));
        out.extend(FRAMING_DATA.to_be_bytes());
        out.extend(spec.source_name.bytes());
        out.resize(LAYERS[1] + 6 + NAME, 0);
        out.push(spec.priority);
        out.extend(spec.synchronization.to_be_bytes());
        out.push(spec.sequence);
        out.push(spec.options.octet());
        out.extend(spec.universe.to_be_bytes());

        out.extend(length(all, LAYERS[2]));
        out.extend([DMP_SET, DMP_TYPES, 0, 0, 0, 1]);
        out.extend((spec.slots.len() as u16 + 1).to_be_bytes());
        out.push(0);
        out.extend(&spec.slots);
        out
    }
}

/// The packet, 49 octets, that makes data packets of this synchronisation address count
/// (ANSI E1.31-2018, synchronisation packet; layout as a public implementation has it).
///
/// ```
/// let packet = evenrun::dmx::sacn::synchronization_packet([7; 16], 0, 7962).unwrap();
/// assert_eq!(packet[45..47], [0x1f, 0x1a]);
/// ```
///
/// # Errors
/// [`UniverseError`] where the address is no universe from 1 to 63999.
pub fn synchronization_packet(
    cid: [u8; 16],
    sequence: u8,
    address: u16,
) -> Result<Vec<u8>, UniverseError> {
    let address = universe(u32::from(address))?;
    let mut out = Vec::with_capacity(SYNCHRONIZATION);
    out.extend(PREAMBLE);
    out.extend(length(SYNCHRONIZATION, LAYERS[0]));
    out.extend(ROOT_EXTENDED.to_be_bytes());
    out.extend(cid);
    out.extend(length(SYNCHRONIZATION, LAYERS[1]));
    out.extend(FRAMING_SYNCHRONIZATION.to_be_bytes());
    out.push(sequence);
    out.extend(address.to_be_bytes());
    out.extend([0, 0]);
    Ok(out)
}
