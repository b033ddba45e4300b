//! In what the lengths of a file's runs are written.

use crate::exact::ExactLength;
use crate::job::spec::LengthUnits;
use toml::de::{DeTable, DeValue};

/// Metric, US or both, by the lengths under `run`: paths, drawn lengths, routes. Metric where there is none.
pub(super) fn of(root: &DeTable<'_>) -> LengthUnits {
    let mut open: Vec<&DeValue<'_>> = root
        .get("run")
        .map(|runs| runs.get_ref())
        .into_iter()
        .collect();
    let (mut metric, mut us) = (false, false);
    while let Some(value) = open.pop() {
        match value {
            DeValue::Array(all) => open.extend(all.iter().map(|one| one.get_ref())),
            DeValue::Table(table) => open.extend(table.values().map(|one| one.get_ref())),
            DeValue::String(text) if ExactLength::parse(text).is_ok() => {
                let in_us =
                    text.contains("ft") || text.contains("in") || text.contains(['\'', '"']);
                us |= in_us;
                metric |= !in_us;
            }
            _ => {}
        }
    }
    match (metric, us) {
        (false, true) => LengthUnits::Us,
        (true, true) => LengthUnits::Both,
        _ => LengthUnits::Metric,
    }
}
