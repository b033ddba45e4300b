//! Amounts of money in words.

/// Currencies of which a hundred minor units make one (ISO 4217, from memory).
const HUNDREDTHS: [&str; 9] = [
    "AUD", "CAD", "CHF", "DKK", "EUR", "GBP", "NOK", "SEK", "USD",
];

/// An amount of minor units as it is printed: in the currency where a hundred of them are known to make one.
///
/// ```
/// use evenrun::job::money;
/// assert_eq!(money(123_405, Some("EUR")), "EUR 1234.05");
/// assert_eq!(money(123_405, Some("JPY")), "123405 minor units of JPY");
/// ```
#[must_use]
pub fn money(minor: u64, currency: Option<&str>) -> String {
    match (currency, decimals(currency)) {
        (Some(code), 2) => format!("{code} {}.{:02}", minor / 100, minor % 100),
        _ => format!("{minor} {}", unit(currency)),
    }
}

/// The same where it may be negative by its type.
pub(crate) fn amount(minor: i64, currency: Option<&str>) -> String {
    money(u64::try_from(minor).unwrap_or(0), currency)
}

/// What amounts are counted in as they are printed.
pub(crate) fn unit(currency: Option<&str>) -> String {
    match currency {
        Some(code) if decimals(currency) == 2 => code.to_string(),
        Some(code) => format!("minor units of {code}"),
        None => "minor units".to_string(),
    }
}

/// With how many decimals of [`unit`] amounts are printed.
pub(crate) fn decimals(currency: Option<&str>) -> usize {
    match currency {
        Some(code) if HUNDREDTHS.contains(&code) => 2,
        _ => 0,
    }
}
