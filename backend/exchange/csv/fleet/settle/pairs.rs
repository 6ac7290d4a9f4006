//! Which line of a file speaks of which thing that is known, where nothing but its days tells one from another.

/// Whether a line may speak of a known thing.
pub(super) type Fits<S, K> = fn(&S, &K) -> bool;

/// Pairs lines with known things: the strictest rule first for all lines, then the next. Each is paired at most once.
pub(super) fn pairs<S, K>(said: &[S], known: &[K], rules: &[Fits<S, K>]) -> Vec<Option<usize>> {
    let mut pairs = vec![None; said.len()];
    let mut free = vec![true; known.len()];
    for rule in rules {
        for (line, pair) in said.iter().zip(&mut pairs) {
            if pair.is_some() {
                continue;
            }
            let found = (0..known.len()).find(|&at| free[at] && rule(line, &known[at]));
            if let Some(at) = found {
                *pair = Some(at);
                free[at] = false;
            }
        }
    }
    pairs
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_strict_rule_takes_before_a_lenient_one_whatever_the_order_of_lines() {
        let equal: Fits<i32, i32> = |a, b| a == b;
        let any: Fits<i32, i32> = |_, _| true;
        assert_eq!(pairs(&[7, 2], &[2, 5], &[equal, any]), [Some(1), Some(0)]);
        assert_eq!(
            pairs(&[7, 2, 9], &[2, 5], &[equal, any]),
            [Some(1), Some(0), None]
        );
    }
}
