//! The most likely exponential and Weibull lives for looks that leave intervals.
//!
//! Decides figures; leaves to `filter_life` whether looks can tell them at all.
//!
//! With H(t) = exp(a + shape ln t) a span (L, R] is as likely as exp(-H(L)) - exp(-H(R)). The logarithm of that is concave in (a, shape),
//! so Newton's method with steps that are halved until they climb finds the one top there is, if there is one.

use super::{Life, Span, Spread};

/// Steps of Newton's method; it needs about ten.
const MOST_STEPS: usize = 200;

/// No wear is this steep (nearly all filters dirty on one day), and nothing gets cleaner with age.
const SHAPES: std::ops::RangeInclusive<f64> = 0.05..=100.0;

/// Value, gradient and curvature of the log-likelihood in (a, shape).
#[derive(Clone, Copy, Default)]
struct Climb {
    value: f64,
    gradient: [f64; 2],
    /// Second derivatives by a, by both, by shape.
    curve: [f64; 3],
}

/// Of ages in units of `unit`, so that numbers stay near 1.
fn climb(spans: &[Span], unit: f64, a: f64, shape: f64) -> Climb {
    let mut sum = Climb::default();
    let hazard = |days: f64| {
        if days > 0.0 {
            let log = (days / unit).ln();
            ((a + shape * log).exp(), log)
        } else {
            (0.0, 0.0)
        }
    };
    for span in spans {
        let (low, low_log) = hazard(span.after);
        sum.value -= low;
        add(&mut sum, -low, low_log);
        if let Some(by) = span.by {
            let (high, high_log) = hazard(by);
            let between = high - low;
            // What the far end weighs: exp(-H(R)) over what the span is worth.
            let weight = between.exp_m1().recip();
            sum.value += (-(-between).exp_m1()).ln();
            // Far beyond any life the weight is 0, and infinity times nothing must stay nothing.
            if weight > 0.0 {
                add(&mut sum, weight * high, high_log);
                add(&mut sum, -weight * low, low_log);
                let by_shape = high * high_log - low * low_log;
                let bend = -weight * (1.0 + weight);
                sum.curve[0] += bend * between * between;
                sum.curve[1] += bend * between * by_shape;
                sum.curve[2] += bend * by_shape * by_shape;
            }
        }
    }
    sum
}

/// Adds the derivatives of `weighted` = weight x H(t), each of whose derivatives is itself times powers of ln t.
fn add(sum: &mut Climb, weighted: f64, log: f64) {
    sum.gradient[0] += weighted;
    sum.gradient[1] += weighted * log;
    sum.curve[0] += weighted;
    sum.curve[1] += weighted * log;
    sum.curve[2] += weighted * log * log;
}

/// The geometric mean of all ages that are no 0: a unit of time in which logarithms are small.
fn unit(spans: &[Span]) -> f64 {
    let ages = spans
        .iter()
        .flat_map(|span| [Some(span.after), span.by])
        .flatten()
        .filter(|age| *age > 0.0);
    let (count, logs) = ages.fold((0.0, 0.0), |(n, sum), age| (n + 1.0, sum + age.ln()));
    (logs / f64::max(count, 1.0)).exp()
}

/// The most likely Weibull lives; `None` where the top is not reached within the shapes that are taken.
///
/// Wants at least one span that ends, and one that begins after another's end.
pub(super) fn weibull(spans: &[Span]) -> Option<Life> {
    let unit = unit(spans);
    let (a, shape, top) = top(spans, unit, start(spans, unit), true)?;
    let scale = unit * (-a / shape).exp();
    let [aa, both, ss] = top.curve;
    let determinant = aa * ss - both * both;
    let found = SHAPES.contains(&shape) && scale.is_finite() && scale > 0.0 && determinant > 0.0;
    found.then_some(Life::Weibull {
        shape,
        scale,
        log_likelihood: top.value,
        spread: Spread {
            unit,
            variance: [-ss / determinant, both / determinant, -aa / determinant],
        },
    })
}

/// The most likely exponential lives.
///
/// Wants at least one span that ends, and one that begins after 0: then there is one top.
pub(super) fn exponential(spans: &[Span]) -> Life {
    let unit = unit(spans);
    let begin = start(spans, unit);
    // What is not found to be the top is bounded by nothing.
    let (a, value, variance) = top(spans, unit, begin, false).map_or(
        (begin, f64::NEG_INFINITY, f64::INFINITY),
        |(a, _shape, top)| (a, top.value, -top.curve[0].recip()),
    );
    Life::Exponential {
        mean: unit * (-a).exp(),
        log_likelihood: value,
        spread: Spread {
            unit,
            variance: [variance, 0.0, 0.0],
        },
    }
}

/// Where to begin: the logarithm of failures over time at risk, in units.
fn start(spans: &[Span], unit: f64) -> f64 {
    let failures = spans.iter().filter(|span| span.by.is_some()).count() as f64;
    let time: f64 = spans
        .iter()
        .map(|span| span.by.map_or(span.after, |by| span.after.midpoint(by)))
        .sum();
    (failures * unit / time).ln()
}

/// The top from `a` and a shape of 1; the shape stays there unless it is `free`.
fn top(spans: &[Span], unit: f64, a: f64, free: bool) -> Option<(f64, f64, Climb)> {
    let (mut a, mut shape) = (a, 1.0);
    let mut here = climb(spans, unit, a, shape);
    for _ in 0..MOST_STEPS {
        let [by_a, by_shape] = here.gradient;
        let [aa, both, ss] = here.curve;
        let (step_a, step_shape) = if free {
            let determinant = aa * ss - both * both;
            (
                (both * by_shape - ss * by_a) / determinant,
                (both * by_a - aa * by_shape) / determinant,
            )
        } else {
            (-by_a / aa, 0.0)
        };
        if !(step_a.is_finite() && step_shape.is_finite()) {
            return None;
        }
        // What a full step would win, were the top a parabola's.
        let gain = by_a * step_a + by_shape * step_shape;
        if gain.abs() <= 1e-22 * (1.0 + here.value.abs()) {
            return Some((a, shape, here));
        }
        let near = gain.abs() <= 1e-9 * (1.0 + here.value.abs());
        let mut part = 1.0;
        let next = loop {
            let (to_a, to_shape) = (a + part * step_a, shape + part * step_shape);
            let there = climb(spans, unit, to_a, to_shape);
            // Near the top the value has no digits left to tell a climb by, and the full step is right.
            if there.value > here.value || (near && there.value.is_finite()) {
                break (to_a, to_shape, there);
            }
            part /= 2.0;
            if part < 1e-10 {
                return None;
            }
        };
        (a, shape, here) = next;
    }
    None
}
