//! What is wrong with a packet, before it is sent and after it came.

use super::super::address::UniverseError;
use thiserror::Error;

/// What is wrong with a data packet to be built.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum DataError {
    /// No universe.
    #[error(transparent)]
    Universe(#[from] UniverseError),
    /// No synchronisation address.
    #[error("synchronisation address {found}; write 0 for none, or a universe from 1 to 63999")]
    Synchronization {
        /// The number.
        found: u16,
    },
    /// A priority above the highest.
    #[error("priority {found}; write 0 to 200, 100 where nothing else is asked for")]
    Priority {
        /// The number.
        found: u8,
    },
    /// A source name that does not fit.
    #[error(
        "a source name of {found} octets; at most 63 fit beside the zero that ends it: shorten it"
    )]
    SourceNameLength {
        /// Its octets in UTF-8.
        found: usize,
    },
    /// A zero inside the source name.
    #[error("the source name holds a zero character, which would end it: leave it out")]
    SourceNameZero,
    /// No slots, or too many.
    #[error("{found} slots; a packet holds 1 to 512: split over more universes")]
    Slots {
        /// How many.
        found: usize,
    },
}

/// Why octets are no data packet.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum ReadError {
    /// Cut short.
    #[error("{found} octets; a data packet has 127 to 638 (ANSI E1.31-2018, table 4-1)")]
    Octets {
        /// How many there are.
        found: usize,
    },
    /// A field of another value than a data packet has there.
    #[error("{field}, octet {octet}: 0x{found:x} where a data packet has 0x{wanted:x}")]
    Field {
        /// Which field.
        field: &'static str,
        /// Its first octet, from 0.
        octet: usize,
        /// The value found.
        found: u64,
        /// The value of a data packet.
        wanted: u64,
    },
    /// A length that does not fit the octets.
    #[error(
        "length of the {layer} layer, octet {octet}: {found} where the packet has {wanted} octets from there on"
    )]
    Length {
        /// Which layer.
        layer: &'static str,
        /// Its first octet, from 0.
        octet: usize,
        /// The length found.
        found: usize,
        /// The length that fits.
        wanted: usize,
    },
    /// A source name that does not end, or is no UTF-8.
    #[error("source name, octets 44 to 107: {fault}")]
    SourceName {
        /// What is wrong with it.
        fault: &'static str,
    },
    /// Data of another kind.
    #[error("START code 0x{found:02X}, octet 125: not dimmer data (START code 0x00)")]
    StartCode {
        /// The START code.
        found: u8,
    },
    /// A field out of range.
    #[error("{0}")]
    Range(#[source] DataError),
}
