//! What was read or drawn lately, kept in memory for all threads: as much as a bound allows, then all of it is forgotten.

use std::borrow::Borrow;
use std::collections::HashMap;
use std::hash::Hash;
use std::sync::{PoisonError, RwLock};

/// Values by their keys, each with a weight; together they weigh no more than the bound.
///
/// ```
/// use anglestop::kept::Kept;
///
/// static SQUARES: Kept<u32, u32> = Kept::new(2);
/// SQUARES.put(3, 9);
/// assert_eq!(SQUARES.get(&3), Some(9));
/// ```
#[derive(Debug)]
pub struct Kept<K, V> {
    most: usize,
    held: RwLock<Option<Held<K, V>>>,
}

#[derive(Debug)]
struct Held<K, V> {
    values: HashMap<K, V>,
    weight: usize,
}

impl<K: Eq + Hash, V: Clone> Kept<K, V> {
    /// Nothing yet, and never more than `most`.
    #[must_use]
    pub const fn new(most: usize) -> Self {
        Self {
            most,
            held: RwLock::new(None),
        }
    }

    /// The value under a key, when it is still kept.
    pub fn get<Q: Eq + Hash + ?Sized>(&self, key: &Q) -> Option<V>
    where
        K: Borrow<Q>,
    {
        let held = self.held.read().unwrap_or_else(PoisonError::into_inner);
        held.as_ref()?.values.get(key).cloned()
    }

    /// Keeps a value of weight one.
    pub fn put(&self, key: K, value: V) {
        self.put_weighing(key, value, 1);
    }

    /// Keeps a value of a weight; one that is heavier than the bound is not kept.
    pub fn put_weighing(&self, key: K, value: V, weight: usize) {
        if weight > self.most {
            return;
        }
        let mut held = self.held.write().unwrap_or_else(PoisonError::into_inner);
        let held = held.get_or_insert_with(|| Held {
            values: HashMap::new(),
            weight: 0,
        });
        if held.weight + weight > self.most {
            held.values.clear();
            held.weight = 0;
        }
        // The weight of a value that is replaced stays counted: the bound is met a little early, never late.
        held.values.insert(key, value);
        held.weight += weight;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn it_forgets_all_before_it_would_hold_more_than_the_bound() {
        let kept: Kept<&str, i32> = Kept::new(3);
        kept.put("a", 1);
        kept.put_weighing("b", 2, 2);
        assert_eq!((kept.get("a"), kept.get("b")), (Some(1), Some(2)));
        kept.put("c", 3);
        assert_eq!(
            (kept.get("a"), kept.get("b"), kept.get("c")),
            (None, None, Some(3))
        );
    }

    #[test]
    fn what_alone_is_heavier_than_the_bound_is_not_kept_and_displaces_nothing() {
        let kept: Kept<&str, i32> = Kept::new(3);
        kept.put("a", 1);
        kept.put_weighing("b", 2, 4);
        assert_eq!((kept.get("a"), kept.get("b")), (Some(1), None));
    }
}
