//! Makes guessing slow. Decides after how many tries an account and a network address have to wait, and for how long.
//!
//! A try is counted before it is judged, so that many at once are no way round, and taken back when it was right. What is
//! counted is known by its hash alone: a password typed where the address belongs is kept nowhere.

use std::net::IpAddr;

use chrono::{NaiveDateTime, TimeDelta};

use super::sign_in::hash_of;
use crate::clock::Now;
use crate::error::{Error, Result};
use crate::store::Tx;
use crate::store::attempts::{self, Tries};

/// Failures in a row of one account before it has to wait.
const FREE_FAILURES: i64 = 5;
/// Longest wait of an account, seconds.
const LONGEST_WAIT_S: i64 = 15 * 60;
/// Failures of one network address within [`address_window`].
const ADDRESS_FAILURES: i64 = 30;
/// Quiet time after which the failures of an account are forgotten.
const ACCOUNT_MEMORY: TimeDelta = TimeDelta::hours(24);

const fn address_window() -> TimeDelta {
    TimeDelta::minutes(10)
}

/// Where a request comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Origin(pub Option<IpAddr>);

impl Origin {
    /// What is counted: the address, or of a version 6 address the half that names the network.
    fn subject(self) -> Option<String> {
        self.0.map(|address| match address.to_canonical() {
            IpAddr::V4(address) => hash_of(&format!("address {address}")),
            IpAddr::V6(address) => {
                let [a, b, c, d, ..] = address.segments();
                hash_of(&format!("address {a:x}:{b:x}:{c:x}:{d:x}"))
            }
        })
    }
}

/// A try that was counted.
#[derive(Debug)]
pub struct Counted {
    account: String,
    address: Option<String>,
}

/// How long an account waits after so many failures in a row, seconds.
#[must_use]
pub fn wait_s(failures: i64) -> i64 {
    if failures < FREE_FAILURES {
        return 0;
    }
    let doublings = u32::try_from(failures - FREE_FAILURES)
        .unwrap_or(u32::MAX)
        .min(20);
    2_i64.pow(doublings).min(LONGEST_WAIT_S)
}

/// Counts a try for an account (its address as typed) from a network address, unless one of them has to wait.
///
/// # Errors
/// [`Error::TooMany`] with the time to wait.
pub fn count(tx: &mut Tx<'_>, now: Now, account: &str, origin: Origin) -> Result<Counted> {
    let account = hash_of(&format!("account {account}"));
    let address = origin.subject();
    let of_account = attempts::of(tx, &account)?.filter(|tries| now.0 - tries.last_at < ACCOUNT_MEMORY);
    if let Some(tries) = of_account {
        refuse_until(now, tries.last_at + TimeDelta::seconds(wait_s(tries.tries)))?;
    }
    if let Some(address) = &address {
        let of_address = within_window(tx, now, address)?;
        if let Some(tries) = of_address.filter(|tries| tries.tries >= ADDRESS_FAILURES) {
            refuse_until(now, tries.since + address_window())?;
        }
        attempts::count(tx, now, address, of_address)?;
    }
    attempts::count(tx, now, &account, of_account)?;
    Ok(Counted { account, address })
}

/// Counts a request from a network address that is no try of an account, such as one for a new password.
///
/// # Errors
/// [`Error::TooMany`] with the time to wait.
pub fn count_request(tx: &mut Tx<'_>, now: Now, what: &str, origin: Origin) -> Result<()> {
    let Some(address) = origin.subject() else {
        return Ok(());
    };
    let subject = hash_of(&format!("{what} {address}"));
    let before = within_window(tx, now, &subject)?;
    if let Some(tries) = before.filter(|tries| tries.tries >= ADDRESS_FAILURES) {
        refuse_until(now, tries.since + address_window())?;
    }
    attempts::count(tx, now, &subject, before)
}

/// The try was right: the account's failures are forgotten, the network address has one less.
///
/// # Errors
/// When the database refuses.
pub fn was_right(tx: &mut Tx<'_>, counted: &Counted) -> Result<()> {
    attempts::forget(tx, &counted.account)?;
    match &counted.address {
        Some(address) => attempts::take_back(tx, address),
        None => Ok(()),
    }
}

/// Forgets what no longer makes anybody wait.
///
/// # Errors
/// When the database refuses.
pub fn forget_old(tx: &mut Tx<'_>, now: Now) -> Result<()> {
    attempts::forget_older(tx, now.0 - ACCOUNT_MEMORY)?;
    Ok(())
}

fn within_window(tx: &mut Tx<'_>, now: Now, subject: &str) -> Result<Option<Tries>> {
    Ok(attempts::of(tx, subject)?.filter(|tries| now.0 - tries.since < address_window()))
}

fn refuse_until(now: Now, until: NaiveDateTime) -> Result<()> {
    let left_ms = (until - now.0).num_milliseconds();
    let Ok(left_ms @ 1..) = u64::try_from(left_ms) else {
        return Ok(());
    };
    let retry_after_s = left_ms.div_ceil(1000);
    let wait = match retry_after_s {
        1 => "1 second".to_owned(),
        seconds @ 2..=119 => format!("{seconds} seconds"),
        seconds => format!("{} minutes", seconds.div_ceil(60)),
    };
    Err(Error::TooMany {
        sentence: format!("Too many tries in a row. Wait {wait}, then try again."),
        retry_after_s,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_wait_doubles_after_five_failures_up_to_fifteen_minutes() {
        let waits: Vec<_> = (4..=16).map(wait_s).collect();
        assert_eq!(waits, [0, 1, 2, 4, 8, 16, 32, 64, 128, 256, 512, 900, 900]);
        assert_eq!(wait_s(i64::MAX), 900);
    }

    #[test]
    fn a_version_6_network_is_one_address_and_a_mapped_one_is_version_4() {
        let subject = |text: &str| Origin(text.parse().ok()).subject();
        assert_eq!(subject("2001:db8:1:2::1"), subject("2001:db8:1:2:ffff::9"));
        assert_ne!(subject("2001:db8:1:2::1"), subject("2001:db8:1:3::1"));
        assert_eq!(subject("::ffff:192.0.2.7"), subject("192.0.2.7"));
        assert_eq!(Origin(None).subject(), None);
    }
}
