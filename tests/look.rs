//! The look: text tones keep their contrast in both schemes, the style names no outside thing, templates carry no inline style
//! or script, and every class that a picture or a macro names is known to the style.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

fn templates() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("templates")
}

fn read(path: &str) -> String {
    fs::read_to_string(templates().join(path)).unwrap()
}

fn files(folder: &Path, ending: &str) -> Vec<PathBuf> {
    let mut found = Vec::new();
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            found.extend(files(&path, ending));
        } else if path.extension().is_some_and(|has| has == ending) {
            found.push(path);
        }
    }
    found.sort();
    found
}

/// Relative luminance of `#rrggbb`.
///
/// # Source
/// WCAG 2.2, definition "relative luminance" (W3C Recommendation, 2023), with the threshold 0.04045 of IEC 61966-2-1.
fn luminance(hex: &str) -> f64 {
    let channel = |at: usize| {
        let value = f64::from(u8::from_str_radix(&hex[at..at + 2], 16).unwrap()) / 255.0;
        if value <= 0.04045 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    };
    0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5)
}

/// Contrast ratio of two colours, 1 to 21.
///
/// # Source
/// WCAG 2.2, definition "contrast ratio".
fn contrast(one: &str, other: &str) -> f64 {
    let (a, b) = (luminance(one), luminance(other));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// The colour tokens of one `:root` block after `marker`.
fn scheme(marker: &str) -> BTreeMap<String, String> {
    let text = read("assets/css/tokens.css");
    let from = text.find(marker).unwrap();
    let block = &text[from..];
    let block = &block[block.find(":root").unwrap()..];
    let block = &block[..block.find('}').unwrap()];
    block
        .lines()
        .filter_map(|line| line.trim().strip_prefix("--")?.split_once(": "))
        .filter(|(_, value)| value.starts_with('#'))
        .map(|(name, value)| (name.to_owned(), value.trim_end_matches(';').to_owned()))
        .collect()
}

#[test]
fn the_contrast_formula_agrees_with_published_pairs() {
    // WCAG 2.2: black on white is 21:1. W3C, Understanding SC 1.4.3: #767676 on white is the lightest grey above 4.5:1.
    assert!((contrast("#000000", "#ffffff") - 21.0).abs() < 1e-9);
    assert!(contrast("#767676", "#ffffff") >= 4.5 && contrast("#777777", "#ffffff") < 4.5);
}

#[test]
fn every_text_tone_keeps_seven_to_one_in_both_schemes_and_every_edge_three() {
    for marker in ["tokens", "prefers-color-scheme: dark", "@media print"] {
        let tones = scheme(if marker == "tokens" { ":root" } else { marker });
        for ground in ["sheet", "well"] {
            for tone in ["ink", "soft", "copper", "water"] {
                let ratio = contrast(&tones[tone], &tones[ground]);
                assert!(
                    ratio >= 7.0,
                    "{marker}: {tone} on {ground} is {ratio:.2}:1, under 7"
                );
            }
            let ratio = contrast(&tones["edge"], &tones[ground]);
            assert!(
                ratio >= 3.0,
                "{marker}: edge on {ground} is {ratio:.2}:1, under 3"
            );
        }
    }
}

#[test]
fn colours_are_written_down_in_the_tokens_only() {
    for path in files(&templates().join("assets/css"), "css") {
        let text = fs::read_to_string(&path).unwrap();
        assert!(!text.contains("url("), "{} fetches something", path.display());
        assert!(!text.contains("@import"), "{} fetches something", path.display());
        assert_eq!(
            text.matches('{').count(),
            text.matches('}').count(),
            "{}: a brace is missing",
            path.display()
        );
        let writes_colour = text.lines().any(|line| {
            line.split('#')
                .skip(1)
                .any(|rest| rest.len() >= 3 && rest.chars().take(3).all(|digit| digit.is_ascii_hexdigit()))
        });
        assert_eq!(
            writes_colour,
            path.ends_with("tokens.css"),
            "{}: colours belong in tokens.css",
            path.display()
        );
    }
}

#[test]
fn no_template_carries_inline_style_or_script() {
    for path in files(&templates(), "html") {
        if path.starts_with(templates().join("mail")) {
            continue; // a mail program knows no style sheet
        }
        let text = fs::read_to_string(&path).unwrap();
        for word in [
            " style=\"",
            "<style",
            " onclick",
            " onchange",
            " onsubmit",
            "javascript:",
        ] {
            assert!(!text.contains(word), "{} says `{word}`", path.display());
        }
        for script in text.split("<script").skip(1) {
            assert!(
                script.starts_with(" src=\"/assets/"),
                "{}: a script of its own",
                path.display()
            );
        }
    }
}

#[test]
fn every_piece_of_the_style_is_served() {
    let assets =
        fs::read_to_string(Path::new(env!("CARGO_MANIFEST_DIR")).join("backend/web/assets.rs")).unwrap();
    for path in files(&templates().join("assets/css"), "css") {
        let piece = path.file_stem().unwrap().to_string_lossy().into_owned();
        assert!(
            assets.contains(&format!("\"{piece}\"")),
            "{piece}.css is not in the list of assets.rs"
        );
    }
}

#[test]
fn every_class_of_a_picture_is_known_to_the_style() {
    let style: String = files(&templates().join("assets/css"), "css")
        .iter()
        .map(|path| fs::read_to_string(path).unwrap())
        .collect();
    for path in files(
        &Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pictures"),
        "svg",
    ) {
        let svg = fs::read_to_string(&path).unwrap();
        assert!(
            !svg.contains("style=") && !svg.contains(" id="),
            "{}",
            path.display()
        );
        for classes in svg.split("class=\"").skip(1) {
            for class in classes.split('"').next().unwrap().split(' ') {
                let known = [format!(".{class} "), format!(".{class},"), format!(".{class}:")];
                assert!(
                    known.iter().any(|form| style.contains(form)),
                    "{}: class {class} is not in the style",
                    path.display()
                );
            }
        }
    }
}
