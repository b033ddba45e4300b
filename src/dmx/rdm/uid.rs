//! Who a device is.

use std::fmt;
use std::str::FromStr;
use thiserror::Error;

/// Identity of an RDM device: 16 bits of its maker, 32 of its own (ANSI E1.20; clause 5 by memory), written `mmmm:dddddddd`.
///
/// ```
/// use evenrun::dmx::rdm::Uid;
/// let uid: Uid = "7a70:0000002c".parse().unwrap();
/// assert_eq!(uid.to_string(), "7a70:0000002c");
/// assert!(Uid::to_all_of(0x7a70).is_for(uid));
/// ```
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Uid {
    /// The maker.
    pub maker: u16,
    /// The device among the maker's.
    pub device: u32,
}

/// A text is no identity.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("`{found}` is not a UID: write four and eight hexadecimal digits, such as 7a70:0000002c")]
pub struct UidError {
    /// The text.
    pub found: String,
}

impl Uid {
    /// Bits of an identity.
    pub const BITS: u32 = 48;
    /// The lowest.
    pub const LOWEST: Self = Self {
        maker: 1,
        device: 0,
    };
    /// The highest met in practice.
    pub const HIGHEST: Self = Self {
        maker: 0x7FFF,
        device: 0xFFFF_FFFE,
    };
    /// All devices.
    pub const ALL: Self = Self {
        maker: u16::MAX,
        device: u32::MAX,
    };

    /// All devices of a maker.
    #[must_use]
    pub fn to_all_of(maker: u16) -> Self {
        Self {
            maker,
            device: u32::MAX,
        }
    }

    /// Whether a message to it is one that `device` takes.
    #[must_use]
    pub fn is_for(self, device: Self) -> bool {
        self == device
            || self == Self::ALL
            || (self.device == u32::MAX && self.maker == device.maker)
    }

    /// The 48 bits as a number.
    #[must_use]
    pub fn number(self) -> u64 {
        u64::from(self.maker) << 32 | u64::from(self.device)
    }
}

impl fmt::Display for Uid {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.pad(&format!("{:04x}:{:08x}", self.maker, self.device))
    }
}

impl FromStr for Uid {
    type Err = UidError;

    fn from_str(text: &str) -> Result<Self, UidError> {
        let bad = || UidError {
            found: crate::quantity::shorten(text),
        };
        let digits = |part: &str, count: usize| -> Result<u32, UidError> {
            if part.len() != count || !part.bytes().all(|b| b.is_ascii_hexdigit()) {
                return Err(bad());
            }
            u32::from_str_radix(part, 16).map_err(|_| bad())
        };
        let (maker, device) = text.split_once(':').ok_or_else(bad)?;
        Ok(Self {
            maker: digits(maker, 4)? as u16,
            device: digits(device, 8)?,
        })
    }
}
