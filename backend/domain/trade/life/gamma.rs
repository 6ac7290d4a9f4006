//! The gamma function and its incomplete kin, as far as lifetimes need them. Decides nothing of the trade.
//!
//! Series and continued fraction as in Abramowitz and Stegun 6.5.29 and 6.5.31; the logarithm after Lanczos (1964). Good to about
//! twelve digits for the arguments of lifetimes; `tests/life.rs` holds them to tables of others.

/// Terms after which a series is taken as it is.
const MOST_TERMS: u32 = 10_000;
/// Relative change at which a series has settled.
const SETTLED: f64 = 1e-16;

const LANCZOS: [f64; 9] = [
    0.999_999_999_999_809_9,
    676.520_368_121_885_1,
    -1_259.139_216_722_402_8,
    771.323_428_777_653_1,
    -176.615_029_162_140_6,
    12.507_343_278_686_905,
    -0.138_571_095_265_720_12,
    9.984_369_578_019_572e-6,
    1.505_632_735_149_311_6e-7,
];

/// The logarithm of the gamma function of a number above 0.
#[must_use]
pub fn ln_gamma(x: f64) -> f64 {
    if x < 0.5 {
        // Reflection, so that the approximation is used where it is good.
        let sine = (std::f64::consts::PI * x).sin();
        return (std::f64::consts::PI / sine).ln() - ln_gamma(1.0 - x);
    }
    let x = x - 1.0;
    let [first, rest @ ..] = LANCZOS;
    let mut place = 0.0;
    let sum = rest.iter().fold(first, |sum, term| {
        place += 1.0;
        sum + term / (x + place)
    });
    let t = x + 7.5;
    0.5 * std::f64::consts::TAU.ln() + (x + 0.5) * t.ln() - t + sum.ln()
}

/// The gamma function of a number above 0.
#[must_use]
pub fn gamma(x: f64) -> f64 {
    ln_gamma(x).exp()
}

/// The lower incomplete gamma function over the whole one: 0 at 0, 1 far out. `s` above 0, `x` 0 or more.
#[must_use]
pub fn lower_regularised(s: f64, x: f64) -> f64 {
    if x <= 0.0 {
        0.0
    } else if x < s + 1.0 {
        (s * x.ln() - x - ln_gamma(s)).exp() * series(s, x)
    } else {
        1.0 - (s * x.ln() - x - ln_gamma(s)).exp() * fraction(s, x)
    }
}

/// The upper incomplete gamma function times `e^x`, so that it stays in range however far out. `s` above 0, `x` 0 or more.
#[must_use]
pub fn scaled_upper(s: f64, x: f64) -> f64 {
    if x <= 0.0 {
        gamma(s)
    } else if x < s + 1.0 {
        x.exp() * (gamma(s) - (s * x.ln() - x).exp() * series(s, x))
    } else {
        (s * x.ln()).exp() * fraction(s, x)
    }
}

/// The value that a chi-square variable of these degrees of freedom stays below with probability `p`, 0 < p < 1, by bisection.
#[must_use]
pub fn chi_square_quantile(p: f64, degrees: f64) -> f64 {
    let below = |x: f64| lower_regularised(degrees / 2.0, x / 2.0) < p;
    let mut high = degrees.max(1.0);
    while below(high) && high < 1e12 {
        high *= 2.0;
    }
    bisect(0.0, high, below)
}

/// The point between `low` and `high` up to which `holds` is true.
pub(super) fn bisect(mut low: f64, mut high: f64, holds: impl Fn(f64) -> bool) -> f64 {
    for _ in 0..200 {
        let middle = f64::midpoint(low, high);
        if middle <= low || middle >= high {
            break;
        }
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    f64::midpoint(low, high)
}

/// Sum over n of `x^n / (s (s+1) ... (s+n))`.
fn series(s: f64, x: f64) -> f64 {
    let mut term = 1.0 / s;
    let mut sum = term;
    let mut place = s;
    for _ in 0..MOST_TERMS {
        place += 1.0;
        term *= x / place;
        sum += term;
        if term.abs() < sum.abs() * SETTLED {
            break;
        }
    }
    sum
}

/// The continued fraction of `e^x x^-s` times the upper function, by Lentz's method.
fn fraction(s: f64, x: f64) -> f64 {
    const TINY: f64 = 1e-300;
    let mut b = x + 1.0 - s;
    let mut c = 1.0 / TINY;
    let mut d = 1.0 / if b.abs() < TINY { TINY } else { b };
    let mut value = d;
    let mut place = 0.0;
    for _ in 0..MOST_TERMS {
        place += 1.0;
        let a = -place * (place - s);
        b += 2.0;
        d = a * d + b;
        if d.abs() < TINY {
            d = TINY;
        }
        c = b + a / c;
        if c.abs() < TINY {
            c = TINY;
        }
        d = 1.0 / d;
        let step = d * c;
        value *= step;
        if (step - 1.0).abs() < SETTLED * 4.0 {
            break;
        }
    }
    value
}
