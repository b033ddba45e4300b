//! Octets as packets.

use super::super::timing::SLOTS;
use super::error::{DataError, ReadError};
use super::model::{DataPacket, DataSpec, Options};
use super::octets::{
    BEFORE_SLOTS, DMP_SET, DMP_TYPES, FRAMING_DATA, LAYERS, NAME, PREAMBLE, ROOT_DATA,
};

/// Octets taken from the front.
struct Octets<'a> {
    all: &'a [u8],
    at: usize,
}

impl<'a> Octets<'a> {
    fn slice(&mut self, count: usize) -> Result<&'a [u8], ReadError> {
        let slice = self.all.get(self.at..self.at + count);
        self.at += count;
        slice.ok_or(ReadError::Octets {
            found: self.all.len(),
        })
    }

    /// A number of `count` octets, at most 8, high octet first.
    fn number(&mut self, count: usize) -> Result<u64, ReadError> {
        let octets = self.slice(count)?;
        Ok(octets
            .iter()
            .fold(0, |number, &octet| number << 8 | u64::from(octet)))
    }

    fn octet(&mut self) -> Result<u8, ReadError> {
        Ok(self.number(1)? as u8)
    }

    fn two(&mut self) -> Result<u16, ReadError> {
        Ok(self.number(2)? as u16)
    }

    fn wants(&mut self, field: &'static str, count: usize, wanted: u64) -> Result<(), ReadError> {
        let octet = self.at;
        let found = self.number(count)?;
        if found == wanted {
            Ok(())
        } else {
            Err(ReadError::Field {
                field,
                octet,
                found,
                wanted,
            })
        }
    }

    fn layer(&mut self, layer: &'static str) -> Result<(), ReadError> {
        let octet = self.at;
        let two = self.two()?;
        if two >> 12 != 7 {
            return Err(ReadError::Field {
                field: "flags",
                octet,
                found: u64::from(two >> 12),
                wanted: 7,
            });
        }
        let (found, wanted) = (usize::from(two & 0x0FFF), self.all.len() - octet);
        if found == wanted {
            Ok(())
        } else {
            Err(ReadError::Length {
                layer,
                octet,
                found,
                wanted,
            })
        }
    }
}

/// The text before the first zero.
fn name_of(octets: &[u8]) -> Result<String, ReadError> {
    let fault = |fault| ReadError::SourceName { fault };
    let end = octets.iter().position(|&octet| octet == 0);
    let end = end.ok_or(fault("64 octets and no zero that ends it"))?;
    let text = octets
        .get(..end)
        .and_then(|text| std::str::from_utf8(text).ok());
    text.map(str::to_string).ok_or(fault("no UTF-8"))
}

impl DataPacket {
    /// Reads the payload of a datagram; stops at the first thing that no data packet has.
    ///
    /// What stands behind the zero that ends the source name is not looked at, nor are bits 0 to 4 of the options.
    ///
    /// # Errors
    /// [`ReadError`] with field, octet, and what a data packet has there.
    pub fn read(octets: &[u8]) -> Result<Self, ReadError> {
        let most = BEFORE_SLOTS + usize::from(SLOTS);
        if octets.len() <= BEFORE_SLOTS || octets.len() > most {
            return Err(ReadError::Octets {
                found: octets.len(),
            });
        }
        let mut from = Octets { all: octets, at: 0 };
        let (high, low) = PREAMBLE.split_at(8);
        for (field, part) in [
            ("preamble and packet identifier", high),
            ("packet identifier", low),
        ] {
            let wanted = part
                .iter()
                .fold(0, |number, &octet| number << 8 | u64::from(octet));
            from.wants(field, 8, wanted)?;
        }
        debug_assert_eq!(from.at, LAYERS[0]);
        from.layer("root")?;
        from.wants("vector of the root layer", 4, u64::from(ROOT_DATA))?;
        let mut cid = [0; 16];
        for (cid, &octet) in cid.iter_mut().zip(from.slice(16)?) {
            *cid = octet;
        }
        from.layer("framing")?;
        from.wants("vector of the framing layer", 4, u64::from(FRAMING_DATA))?;
        let source_name = name_of(from.slice(NAME)?)?;
        let priority = from.octet()?;
        let synchronization = from.two()?;
        let sequence = from.octet()?;
        let options = Options::of(from.octet()?);
        let universe = from.two()?;
        from.layer("DMP")?;
        from.wants("vector of the DMP layer", 1, u64::from(DMP_SET))?;
        from.wants("address type and data type", 1, u64::from(DMP_TYPES))?;
        from.wants("first property address", 2, 0)?;
        from.wants("address increment", 2, 1)?;
        let values = octets.len() - (BEFORE_SLOTS - 1);
        from.wants("property value count", 2, values as u64)?;
        let start = from.octet()?;
        if start != 0 {
            return Err(ReadError::StartCode { found: start });
        }
        let slots = from.slice(octets.len() - BEFORE_SLOTS)?.to_vec();
        let spec = DataSpec {
            universe,
            priority,
            sequence,
            source_name,
            cid,
            synchronization,
            options,
            slots,
        };
        spec.check().map_err(|errors| {
            let first = errors.into_iter().next();
            ReadError::Range(first.unwrap_or(DataError::Slots { found: 0 }))
        })
    }
}
