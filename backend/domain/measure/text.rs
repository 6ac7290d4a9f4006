//! Numbers and units as people type them: `14 7/8"`, `2 ft 3 in`, `37,8 cm`, `1 min 20`, `1:20`.
//! Decides where a number ends and a unit begins; knows no quantity.

use super::{MeasureError, Ratio, Unit};

/// A number with the word after it, empty when there is none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Term {
    pub(super) value: Ratio,
    pub(super) word: String,
}

/// The most digits a number may have: more can't be measured.
const MOST_DIGITS: usize = 12;

/// The longest text that is looked at, in characters.
const LONGEST: usize = 40;

struct Reader<'a> {
    given: &'a str,
    unit: Unit,
    rest: Vec<char>,
    at: usize,
}

/// Splits a text into numbers and the words after them, in order.
pub(super) fn terms(given: &str, unit: Unit) -> Result<Vec<Term>, MeasureError> {
    let trimmed = given.trim();
    if trimmed.is_empty() {
        return Err(MeasureError::Empty(unit));
    }
    let rest: Vec<char> = spelled_out(trimmed).chars().collect();
    if rest.len() > LONGEST {
        return Err(MeasureError::Unreadable {
            given: trimmed.chars().take(LONGEST).collect(),
            unit,
        });
    }
    let mut reader = Reader {
        given: trimmed,
        unit,
        rest,
        at: 0,
    };
    let mut terms = Vec::new();
    loop {
        reader.skip_spaces();
        if reader.peek().is_none() {
            return Ok(terms);
        }
        terms.push(reader.term()?);
    }
}

/// Writes the fraction characters out: `14⅞` becomes `14 7/8`.
fn spelled_out(text: &str) -> String {
    let mut out = String::new();
    for c in text.chars() {
        match c {
            '½' => out.push_str(" 1/2"),
            '¼' => out.push_str(" 1/4"),
            '¾' => out.push_str(" 3/4"),
            '⅛' => out.push_str(" 1/8"),
            '⅜' => out.push_str(" 3/8"),
            '⅝' => out.push_str(" 5/8"),
            '⅞' => out.push_str(" 7/8"),
            '\u{2044}' => out.push('/'),
            '\u{2212}' => out.push('-'),
            other => out.push(other),
        }
    }
    out
}

impl Reader<'_> {
    fn peek(&self) -> Option<char> {
        self.rest.get(self.at).copied()
    }

    fn skip_spaces(&mut self) {
        while self.peek().is_some_and(char::is_whitespace) {
            self.at += 1;
        }
    }

    fn unreadable(&self) -> MeasureError {
        MeasureError::Unreadable {
            given: self.given.to_owned(),
            unit: self.unit,
        }
    }

    fn take_digits(&mut self) -> String {
        let mut digits = String::new();
        while let Some(c) = self.peek().filter(char::is_ascii_digit) {
            digits.push(c);
            self.at += 1;
        }
        digits
    }

    fn take(&mut self, wanted: char) -> bool {
        let found = self.peek() == Some(wanted);
        if found {
            self.at += 1;
        }
        found
    }

    fn term(&mut self) -> Result<Term, MeasureError> {
        let negative = self.take('-');
        let value = self.number()?;
        let value = if negative {
            Ratio::ZERO.minus(value).ok_or_else(|| self.too_large())?
        } else {
            value
        };
        self.skip_spaces();
        let word = self.word();
        Ok(Term { value, word })
    }

    fn too_large(&self) -> MeasureError {
        MeasureError::OutOfRange(self.given.to_owned())
    }

    fn number(&mut self) -> Result<Ratio, MeasureError> {
        let whole = self.take_digits();
        let mark = self.peek().filter(|c| matches!(c, '.' | ','));
        if let Some(mark) = mark {
            self.at += 1;
            let decimals = self.take_digits();
            if decimals.is_empty() {
                return Err(self.unreadable());
            }
            if mark == ',' && decimals.len() == 3 && whole != "0" {
                return Err(MeasureError::AmbiguousComma(self.given.to_owned()));
            }
            return self.decimal(&whole, &decimals);
        }
        if whole.is_empty() {
            return Err(self.unreadable());
        }
        if self.take('/') {
            return self.fraction(&whole);
        }
        let value = self.decimal(&whole, "")?;
        match self.fraction_after()? {
            Some(part) => value.plus(part).ok_or_else(|| self.too_large()),
            None => Ok(value),
        }
    }

    /// The fraction of a mixed number, `7/8` in `14 7/8` or `14-7/8`; leaves the place as it was when there is none.
    fn fraction_after(&mut self) -> Result<Option<Ratio>, MeasureError> {
        let before = self.at;
        self.skip_spaces();
        if self.at == before && !self.take('-') {
            return Ok(None);
        }
        let numerator = self.take_digits();
        if numerator.is_empty() || !self.take('/') {
            self.at = before;
            return Ok(None);
        }
        self.fraction(&numerator).map(Some)
    }

    fn fraction(&mut self, numerator: &str) -> Result<Ratio, MeasureError> {
        let denominator = self.take_digits();
        if denominator.is_empty() {
            return Err(self.unreadable());
        }
        let numerator = self.decimal(numerator, "")?;
        let denominator = self.decimal(&denominator, "")?;
        if denominator == Ratio::ZERO {
            return Err(MeasureError::ZeroDenominator(self.given.to_owned()));
        }
        numerator.over(denominator).ok_or_else(|| self.too_large())
    }

    fn decimal(&self, whole: &str, decimals: &str) -> Result<Ratio, MeasureError> {
        if whole.len() + decimals.len() > MOST_DIGITS {
            return Err(self.too_large());
        }
        let mut figure: i128 = 0;
        for digit in whole
            .chars()
            .chain(decimals.chars())
            .filter_map(|c| c.to_digit(10))
        {
            figure = figure * 10 + i128::from(digit);
        }
        let scale = decimals.chars().fold(1_i128, |scale, _| scale * 10);
        Ratio::new(figure, scale).ok_or_else(|| self.too_large())
    }

    /// What stands up to the next number; `fl oz` and `imp gal` keep their space, `m3` its figure.
    fn word(&mut self) -> String {
        let mut word = String::new();
        while let Some(c) = self.peek().filter(|c| !c.is_ascii_digit() && *c != '-') {
            word.push(c);
            self.at += 1;
        }
        if matches!(word.as_str(), "m" | "ft") && self.peek() == Some('3') && self.rest.len() == self.at + 1 {
            word.push('3');
            self.at += 1;
        }
        word.trim_end().to_owned()
    }
}
