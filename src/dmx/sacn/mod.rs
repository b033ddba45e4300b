//! Universes over Ethernet: data packets of streaming ACN, as octets and back.
//!
//! ```text
//! octets      layer     holds
//!   0 …  37   root      preamble, `ASC-E1.17`, length, vector 4, CID
//!  38 … 114   framing   length, vector 2, source name, priority, synchronisation, sequence, options, universe
//! 115 … 637   DMP       length, vector 2, address 0 step 1, START code 0, 1 to 512 slots
//! ```
//!
//! Octets are counted from 0, numbers are written high octet first, and each length
//! counts from its own first octet to the end of the packet, in 12 bits behind the
//! flags `0x7` (ANSI E1.31-2018, table 4-1).
//!
//! ```
//! use evenrun::dmx::sacn::{DataPacket, DataSpec};
//! let spec = DataSpec::new(1, "archive wing", [7; 16], vec![0, 128, 255]);
//! let packet = spec.check().unwrap();
//! let octets = packet.octets();
//! assert_eq!(octets.len(), 129);
//! assert_eq!(DataPacket::read(&octets).unwrap(), packet);
//! ```
//!
//! Pure: this room opens no socket and reads no clock. Whoever sends keeps to
//! [`most_rate`], repeats what does not change every [`KEEP_ALIVE_SECONDS`], and ends a
//! universe with three packets whose [`Options::terminated`] is set.
//!
//! Left out: discovery packets, START codes other than 0, the sending order of a
//! receiver's sources.

mod error;
mod load;
mod model;
mod octets;
mod read;

pub use error::{DataError, ReadError};
pub use load::{bits_per_second, most_rate, payload_octets, wire_octets};
pub use model::{DataPacket, DataSpec, Options};
pub use octets::synchronization_packet;

/// Priority of a source that asks for none (ANSI E1.31-2018, clause 6.2.3).
pub const DEFAULT_PRIORITY: u8 = 100;
/// Highest priority (ANSI E1.31-2018, clause 6.2.3).
pub const MOST_PRIORITY: u8 = 200;
/// A receiver that heard nothing for so long has lost the source, s (ANSI E1.31-2018, clause 6.7.1, appendix A).
pub const DATA_LOSS_SECONDS: f64 = 2.5;
/// Data that does not change is sent this often, from and to, s (ANSI E1.31-2018, clause 6.6.2).
pub const KEEP_ALIVE_SECONDS: [f64; 2] = [0.8, 1.0];
/// Packets of the same data before a source may fall back to keeping alive (ANSI E1.31-2018, clause 6.6.2).
pub const REPEATS: u32 = 3;
/// Universe of discovery packets; no data is sent there (ANSI E1.31-2018, appendix A).
pub const DISCOVERY_UNIVERSE: u16 = 64_214;
/// A source lists its universes this often, s (ANSI E1.31-2018, clause 4.3, appendix A).
pub const DISCOVERY_SECONDS: f64 = 10.0;
