//! Amounts of money as people type them, in whole minor units. Knows no currency: an office keeps its books in one.

/// The largest amount, minor units: a hundred million.
const MOST_MINOR: i64 = 10_000_000_000;

/// Reads `84`, `84.5`, `84.50` or `1,240.00` as minor units (hundredths).
///
/// # Errors
/// A sentence when it can't be read in one way, or is beyond any repair.
///
/// ```
/// use anglestop::domain::result::money::{parse, text};
/// assert_eq!(parse("84.5"), Ok(8_450));
/// assert_eq!(parse("1,240.00"), Ok(124_000));
/// assert!(parse("84,50").is_err());
/// assert!(parse("-3").is_err());
/// assert_eq!(text(124_005), "1,240.05");
/// ```
pub fn parse(given: &str) -> Result<i64, String> {
    let refusal =
        || format!("“{given}” is no amount. Write it with a point before the hundredths, such as 84.50.");
    let given = given.trim();
    let (whole, hundredths) = given.split_once('.').unwrap_or((given, ""));
    let digits = |text: &str| text.chars().all(|c| c.is_ascii_digit());
    let mut groups = whole.split(',');
    let first = groups.next().unwrap_or_default();
    let rest: Vec<&str> = groups.collect();
    let grouped =
        rest.iter().all(|group| group.len() == 3 && digits(group)) && (rest.is_empty() || first.len() <= 3);
    if first.is_empty() || !digits(first) || !grouped || !digits(hundredths) || hundredths.len() > 2 {
        return Err(refusal());
    }
    if given.ends_with('.') {
        return Err(refusal());
    }
    let figure: String = [first].into_iter().chain(rest).collect();
    let amount = format!("{figure}{hundredths:0<2}")
        .parse::<i64>()
        .map_err(|_too_long| refusal())?;
    if amount > MOST_MINOR {
        return Err(format!(
            "“{given}” is more than any repair costs. Check the figures."
        ));
    }
    Ok(amount)
}

/// The amount with its thousands set apart and two decimals.
#[must_use]
pub fn text(minor: i64) -> String {
    let (whole, hundredths) = (minor / 100, minor % 100);
    let digits = whole.to_string();
    let mut out = String::new();
    for (index, digit) in digits.chars().enumerate() {
        if index > 0 && (digits.len() - index) % 3 == 0 {
            out.push(',');
        }
        out.push(digit);
    }
    format!("{out}.{hundredths:02}")
}
