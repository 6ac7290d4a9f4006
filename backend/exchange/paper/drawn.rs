//! A signature as it was drawn, read from its path: M and L commands with numbers, in a box of 1000 by 300. Whatever else somebody
//! sends as a path is drawn as nothing.

/// Width of the box in its own units.
pub const WIDTH: f32 = 1000.0;
/// Height of the box in its own units.
pub const HEIGHT: f32 = 300.0;

/// One line of the pen.
pub type Stroke = Vec<(f32, f32)>;

/// The lines of a path, each point within the box; nothing when it is no such path.
///
/// ```
/// use anglestop::exchange::paper::strokes;
/// assert_eq!(strokes("M10 20L30 40 50,60"), vec![vec![(10.0, 20.0), (30.0, 40.0), (50.0, 60.0)]]);
/// assert_eq!(strokes("M-5 2000L30 40"), vec![vec![(0.0, 300.0), (30.0, 40.0)]], "kept within the box");
/// assert!(strokes("M10 20C1 2 3 4 5 6").is_empty() && strokes("L10 20").is_empty() && strokes("").is_empty());
/// ```
#[must_use]
pub fn strokes(path: &str) -> Vec<Stroke> {
    read(path).unwrap_or_default()
}

fn read(path: &str) -> Option<Vec<Stroke>> {
    let mut strokes: Vec<Stroke> = Vec::new();
    let mut rest = path.trim_start();
    while let Some(command) = rest.chars().next() {
        let end = rest
            .get(1..)?
            .find(|c: char| c.is_ascii_alphabetic())
            .map_or(rest.len(), |at| at + 1);
        let points = points(rest.get(1..end)?)?;
        match command {
            'M' => strokes.push(points),
            'L' => strokes.last_mut()?.extend(points),
            _ => return None,
        }
        rest = rest.get(end..)?;
    }
    strokes.retain(|stroke| !stroke.is_empty());
    Some(strokes)
}

fn points(numbers: &str) -> Option<Stroke> {
    let words = numbers
        .split(|c: char| c == ',' || c.is_ascii_whitespace())
        .filter(|word| !word.is_empty());
    let numbers: Vec<f32> = words.map(|word| word.parse().ok()).collect::<Option<_>>()?;
    let pairs = numbers.chunks_exact(2);
    let is_whole = pairs.remainder().is_empty() && numbers.iter().all(|number| number.is_finite());
    let within = pairs.map(|pair| match *pair {
        [x, y] => (x.clamp(0.0, WIDTH), y.clamp(0.0, HEIGHT)),
        _ => (0.0, 0.0),
    });
    is_whole.then(|| within.collect())
}
