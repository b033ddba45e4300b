//! Universes on Ethernet.

use std::net::{Ipv4Addr, Ipv6Addr};
use thiserror::Error;

/// UDP port of streaming ACN (ANSI E1.31-2018, appendix A).
pub const MULTICAST_PORT: u16 = 5568;

/// A number is no universe.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("universe {found}; streaming ACN counts them from 1 to 63999 (ANSI E1.31-2018, 6.2.7)")]
pub struct UniverseError {
    /// The number.
    pub found: u32,
}

/// Checks the number of a universe: 1 to 63999 (ANSI E1.31-2018, clause 6.2.7).
///
/// # Errors
/// [`UniverseError`] outside that range.
pub fn universe(number: u32) -> Result<u16, UniverseError> {
    match u16::try_from(number) {
        Ok(universe @ 1..=63999) => Ok(universe),
        _ => Err(UniverseError { found: number }),
    }
}

/// IPv4 multicast address of a universe: `239.255.hi.lo` (ANSI E1.31-2018, clause 9.3.1).
///
/// # Errors
/// [`UniverseError`] outside 1 to 63999.
pub fn multicast(number: u32) -> Result<Ipv4Addr, UniverseError> {
    let [high, low] = universe(number)?.to_be_bytes();
    Ok(Ipv4Addr::new(239, 255, high, low))
}

/// IPv6 multicast address of a universe: `ff18::8300:hhll` (ANSI E1.31-2018, clause 9.3.2).
///
/// # Errors
/// [`UniverseError`] outside 1 to 63999.
pub fn multicast_v6(number: u32) -> Result<Ipv6Addr, UniverseError> {
    let universe = universe(number)?;
    Ok(Ipv6Addr::new(0xff18, 0, 0, 0, 0, 0, 0x8300, universe))
}
