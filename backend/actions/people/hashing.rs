//! Hashes passwords, at most as many at once as there are cores. Decides the cost; knows nobody.
//!
//! # Source
//! OWASP Password Storage Cheat Sheet: argon2id with at least 19 MiB of memory, 2 passes, 1 lane. PHC string format for what is kept.

use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Condvar, LazyLock, Mutex, MutexGuard, PoisonError};

use argon2::password_hash::{PasswordHash, PasswordHasher as _, PasswordVerifier as _, SaltString};
use argon2::{Algorithm, Argon2, Params, Version};

use crate::domain::register::password::Password;
use crate::error::{Error, Result};

/// Memory of one hash, KiB.
pub const MEMORY_KIB: u32 = 19_456;
/// Passes over the memory.
pub const PASSES: u32 = 2;
/// Lanes that a hash is made of.
pub const LANES: u32 = 1;
/// How many may wait for each that is at work; more are sent away.
const WAITING_EACH: usize = 32;

/// What was found when a password was compared.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Compared {
    /// Another password.
    Differs,
    /// The same.
    Same,
    /// The same, but hashed at less than today's cost.
    SameButWeak,
}

/// Hashes passwords.
pub struct Hasher {
    slots: usize,
    queue: Mutex<Queue>,
    freed: Condvar,
    computed: AtomicU64,
}

#[derive(Debug, Default)]
struct Queue {
    working: usize,
    waiting: usize,
    most_at_once: usize,
}

static SHARED: LazyLock<Hasher> =
    LazyLock::new(|| Hasher::new(std::thread::available_parallelism().map_or(1, std::num::NonZero::get)));

/// The hash of a password that nobody has, at today's cost, so that an unknown account takes as long as a known one.
static NOBODYS: LazyLock<Option<String>> = LazyLock::new(|| {
    let secret = super::sign_in::random_token().ok()?;
    hash(&Password::given(&secret)).ok()
});

impl Hasher {
    /// Hashes at most `slots` passwords at once.
    #[must_use]
    pub fn new(slots: usize) -> Self {
        Self {
            slots: slots.max(1),
            queue: Mutex::new(Queue::default()),
            freed: Condvar::new(),
            computed: AtomicU64::new(0),
        }
    }

    /// The one of this process.
    #[must_use]
    pub fn shared() -> &'static Self {
        &SHARED
    }

    /// How many hashes were computed.
    #[must_use]
    pub fn computed(&self) -> u64 {
        self.computed.load(Ordering::SeqCst)
    }

    /// The most that were ever at work at once.
    #[must_use]
    pub fn most_at_once(&self) -> usize {
        self.queue().most_at_once
    }

    /// The hash of a password, in PHC form.
    ///
    /// # Errors
    /// When too many wait, or the system has no random numbers.
    pub fn hash(&self, password: &Password) -> Result<String> {
        let _slot = self.enter()?;
        hash(password)
    }

    /// Compares a password with a kept hash; without one the same work is done and the password differs.
    ///
    /// # Errors
    /// When too many wait, or the kept hash can't be read.
    pub fn compare(&self, password: &Password, kept: Option<&str>) -> Result<Compared> {
        let nobodys = LazyLock::force(&NOBODYS);
        let _slot = self.enter()?;
        let text = kept
            .or(nobodys.as_deref())
            .ok_or_else(|| Error::internal("the system has no random numbers"))?;
        let parsed = PasswordHash::new(text).map_err(|cause| Error::internal(cause.to_string()))?;
        let same = Argon2::default()
            .verify_password(password.as_bytes(), &parsed)
            .is_ok();
        Ok(match (kept, same) {
            (Some(_), true) if is_weak(&parsed) => Compared::SameButWeak,
            (Some(_), true) => Compared::Same,
            _ => Compared::Differs,
        })
    }

    fn queue(&self) -> MutexGuard<'_, Queue> {
        self.queue.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn enter(&self) -> Result<Slot<'_>> {
        let mut queue = self.queue();
        if queue.working >= self.slots && queue.waiting >= self.slots * WAITING_EACH {
            return Err(Error::TooMany {
                sentence: "Many people are signing in just now. Wait a few seconds and try again.".to_owned(),
                retry_after_s: 5,
            });
        }
        queue.waiting += 1;
        let mut queue = self
            .freed
            .wait_while(queue, |queue| queue.working >= self.slots)
            .unwrap_or_else(PoisonError::into_inner);
        queue.waiting -= 1;
        queue.working += 1;
        queue.most_at_once = queue.most_at_once.max(queue.working);
        self.computed.fetch_add(1, Ordering::SeqCst);
        Ok(Slot(self))
    }
}

/// A place among those at work; it is given back with the value.
struct Slot<'a>(&'a Hasher);

impl Drop for Slot<'_> {
    fn drop(&mut self) {
        self.0.queue().working -= 1;
        self.0.freed.notify_one();
    }
}

fn hash(password: &Password) -> Result<String> {
    let mut salt = [0_u8; 16];
    getrandom::fill(&mut salt).map_err(|cause| Error::internal(cause.to_string()))?;
    let salt = SaltString::encode_b64(&salt).map_err(|cause| Error::internal(cause.to_string()))?;
    let cost =
        Params::new(MEMORY_KIB, PASSES, LANES, None).map_err(|cause| Error::internal(cause.to_string()))?;
    let hashed = Argon2::new(Algorithm::Argon2id, Version::V0x13, cost)
        .hash_password(password.as_bytes(), &salt)
        .map_err(|cause| Error::internal(cause.to_string()))?;
    Ok(hashed.to_string())
}

fn is_weak(parsed: &PasswordHash<'_>) -> bool {
    let other = Algorithm::try_from(parsed.algorithm) != Ok(Algorithm::Argon2id)
        || parsed.version != Some(Version::V0x13.into());
    let cost = Params::try_from(parsed);
    other || cost.is_ok_and(|cost| cost.m_cost() < MEMORY_KIB || cost.t_cost() < PASSES)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn password() -> Password {
        Password::given("brass kettle under snow")
    }

    #[test]
    fn a_hash_says_its_algorithm_and_its_cost() {
        let hashed = Hasher::new(1).hash(&password()).unwrap_or_default();
        assert!(hashed.starts_with("$argon2id$v=19$m=19456,t=2,p=1$"), "{hashed}");
    }

    #[test]
    fn two_hashes_of_one_password_differ_and_both_fit() {
        let hasher = Hasher::new(1);
        let one = hasher.hash(&password()).unwrap_or_default();
        let other = hasher.hash(&password()).unwrap_or_default();
        assert_ne!(one, other);
        for kept in [one, other] {
            let compared = hasher.compare(&password(), Some(&kept)).ok();
            assert_eq!(compared, Some(Compared::Same));
            let wrong = hasher.compare(&Password::given("brass kettle under rain"), Some(&kept));
            assert_eq!(wrong.ok(), Some(Compared::Differs));
        }
    }

    /// The vector of RFC 9106, 5.3 needs a secret and data; this one is from the reference implementation's test file
    /// (argon2id, version 19, t=2, m=2^16, p=1, "password", "somesalt"), from memory.
    #[test]
    fn a_hash_of_the_reference_implementation_fits_and_one_at_less_cost_is_weak() {
        let reference =
            "$argon2id$v=19$m=65536,t=2,p=1$c29tZXNhbHQ$CTFhFdXPJO1aFaMaO6Mm5c8y7cJHAph8ArZWb2GRPPc";
        let small = "$argon2id$v=19$m=256,t=2,p=1$c29tZXNhbHQ$nf65EOgLrQMR/uIPnA4rEsF5h7TKyQwu9U1bMCHGi/4";
        let hasher = Hasher::new(1);
        let given = Password::given("password");
        assert_eq!(hasher.compare(&given, Some(reference)).ok(), Some(Compared::Same));
        assert_eq!(
            hasher.compare(&given, Some(small)).ok(),
            Some(Compared::SameButWeak)
        );
    }

    #[test]
    fn without_a_kept_hash_the_same_work_is_done_and_the_password_differs() {
        let hasher = Hasher::new(1);
        assert_eq!(hasher.compare(&password(), None).ok(), Some(Compared::Differs));
        assert_eq!(hasher.computed(), 1);
    }

    #[test]
    fn no_more_hashes_are_at_work_than_there_are_slots() {
        let hasher = Hasher::new(2);
        std::thread::scope(|scope| {
            for _ in 0..8 {
                scope.spawn(|| hasher.compare(&password(), None));
            }
        });
        assert_eq!(hasher.computed(), 8);
        assert!((1..=2).contains(&hasher.most_at_once()));
    }
}
