//! A signature as it was drawn: an SVG path of straight strokes in a box of 1000 by 300. Anything else is refused, so that it can stand
//! in a page and in a file as it is.

/// The most characters of a signature.
pub const LONGEST: usize = 20_000;

/// Whether a text is a path of `M` and `L`, each with two numbers within the box. An empty one is: then only a name was typed.
///
/// # Errors
/// A sentence that says what is wrong with it.
///
/// ```
/// use anglestop::exchange::phone::signature::check;
/// assert!(check("M10 20L30.5 40L12,-0").is_ok());
/// assert!(check("").is_ok());
/// assert!(check("M10 20L30 400").is_err(), "outside of the box");
/// assert!(check("L10 20").is_err(), "a stroke begins somewhere");
/// assert!(check("M1 1\"/><script>").is_err());
/// ```
pub fn check(path: &str) -> Result<(), String> {
    if path.len() > LONGEST {
        return Err(format!(
            "The signature has {} characters; at most {LONGEST} are kept. Clear it and sign in fewer strokes.",
            path.len()
        ));
    }
    if path.is_empty() || is_path(path) {
        return Ok(());
    }
    Err("The signature can't be read. Clear it and sign again, or type the name alone.".to_owned())
}

fn is_path(path: &str) -> bool {
    let Some(strokes) = path.strip_prefix('M') else {
        return false;
    };
    strokes.split(['M', 'L']).all(is_point)
}

/// Two numbers with a space or a comma between them, within the box.
fn is_point(text: &str) -> bool {
    let mut numbers = text.trim().split([' ', ',']).filter(|word| !word.is_empty());
    let (Some(x), Some(y), None) = (numbers.next(), numbers.next(), numbers.next()) else {
        return false;
    };
    within(x, 1000.0) && within(y, 300.0)
}

fn within(text: &str, most: f64) -> bool {
    let is_plain = text.len() <= 12 && text.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | '-'));
    is_plain
        && text
            .parse::<f64>()
            .is_ok_and(|number| (0.0..=most).contains(&number))
}
