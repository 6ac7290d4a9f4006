//! Labels as people write them, and the order in which people expect them: 2B before 10A.

/// A text that sorts as people count: each run of digits padded to ten places, letters in lower case.
///
/// `sort_order("2B") < sort_order("10A")`, and `"204"` before `"1001"`.
#[must_use]
pub fn sort_order(label: &str) -> String {
    let mut ordered = String::with_capacity(label.len() + 10);
    let mut digits = String::new();
    for character in label.chars() {
        if character.is_ascii_digit() {
            digits.push(character);
            continue;
        }
        flush_digits(&mut digits, &mut ordered);
        ordered.extend(character.to_lowercase());
    }
    flush_digits(&mut digits, &mut ordered);
    ordered
}

fn flush_digits(digits: &mut String, ordered: &mut String) {
    if !digits.is_empty() {
        ordered.push_str(&format!("{digits:0>10}"));
        digits.clear();
    }
}

#[cfg(test)]
mod tests {
    use super::sort_order;

    #[test]
    fn numbers_in_labels_sort_by_size() {
        let mut labels = ["10A", "2B", "2A", "1001", "204"];
        labels.sort_by_key(|label| sort_order(label));
        assert_eq!(labels, ["2A", "2B", "10A", "204", "1001"]);
    }
}
