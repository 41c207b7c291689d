//! How far chance alone may have moved what was counted: intervals that miss the truth once in twenty times.
//!
//! The only place of this part with figures that are not whole. Each is made of `+ - * /` and square roots, which give
//! the same on every machine, and comes out in whole ten-thousandths or hundredths, the ends rounded outwards.

/// The quantile of the normal distribution of which 95 of 100 lie between it and its negative.
const Z: f64 = 1.959_963_984_540_054;

/// What a figure is, and between which two it may well be.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Debug)]
pub struct Between {
    /// As counted.
    pub value: i64,
    /// The lower end.
    pub low: i64,
    /// The upper end.
    pub high: i64,
}

/// A share of `count` in `of`, in ten-thousandths: Wilson's interval. `None` of nothing.
///
/// `(p + z2/2n -+ z sqrt(p(1-p)/n + z2/4n2)) / (1 + z2/n)`, with `p = count / of`, `n = of`.
/// Source: E. B. Wilson, "Probable inference, the law of succession, and statistical inference", J. Am. Stat. Assoc. 22
/// (1927) 209-212; recommended by R. G. Newcombe, Stat. Med. 17 (1998) 857-872, method 3.
#[must_use]
pub fn share(count: u32, of: u32) -> Option<Between> {
    let (n, x) = (f64::from((of > 0).then_some(of)?), f64::from(count));
    let p = x / n;
    let middle = p + Z * Z / (2.0 * n);
    let half = Z * (p * (1.0 - p) / n + Z * Z / (4.0 * n * n)).sqrt();
    let whole = 1.0 + Z * Z / n;
    // At the ends the formula gives 0 and 1, which rounding must not move.
    let low = if count == 0 { 0.0 } else { (middle - half) / whole };
    let high = if count == of { 1.0 } else { (middle + half) / whole };
    Some(Between { value: near(p * 1e4), low: below(low * 1e4), high: above(high * 1e4).min(10_000) })
}

/// The mean of whole figures, in hundredths: the mean and 1.96 standard errors to each side.
///
/// `m -+ z s / sqrt(n)`, `s` the standard deviation with `n - 1`. It is good for many nights and poor where nearly all
/// figures are the same (central limit theorem). `None` of fewer than two.
#[must_use]
pub fn mean(figures: &[i64]) -> Option<Between> {
    let n = i64::try_from(figures.len()).ok().filter(|&n| n > 1)?;
    let sum: i64 = figures.iter().sum();
    let squares: i128 = figures.iter().map(|&x| i128::from(x) * i128::from(x)).sum();
    // n times the sum of squared distances from the mean, exact.
    let spread = i128::from(n) * squares - i128::from(sum) * i128::from(sum);
    let (count, middle) = (float(n.into()), float(sum.into()) / float(n.into()));
    let error = (float(spread) / (count * (count - 1.0)) / count).sqrt();
    let end = |sign: f64| (middle + sign * Z * error) * 100.0;
    Some(Between { value: near(middle * 100.0), low: below(end(-1.0)), high: above(end(1.0)) })
}

/// The share of nights that one crew covers less the share that another covers, on the same nights, in ten-thousandths.
/// Only nights on which the two differ count: `d -+ z s / sqrt(n)` over the differences -1, 0 and 1.
#[must_use]
pub fn difference(one: &[bool], other: &[bool]) -> Option<Between> {
    let pairs = one.iter().zip(other);
    // In ten-thousandths of a night already, so that the hundredths of `mean` are ten-thousandths again.
    let figures: Vec<i64> = pairs.map(|(&one, &other)| 100 * (i64::from(one) - i64::from(other))).collect();
    mean(&figures)
}

#[expect(clippy::cast_precision_loss, reason = "sums of minutes over some thousand nights stay far below 2 to the 53")]
const fn float(whole: i128) -> f64 {
    whole as f64
}

#[expect(clippy::cast_possible_truncation, reason = "shares and minutes are small")]
const fn whole(figure: f64) -> i64 {
    figure as i64
}

/// What rounding in the last place may have moved.
const SLACK: f64 = 1e-6;

fn near(figure: f64) -> i64 {
    whole(figure.round())
}

fn below(figure: f64) -> i64 {
    whole((figure + SLACK).floor())
}

fn above(figure: f64) -> i64 {
    whole((figure - SLACK).ceil())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ends(count: u32, of: u32) -> (i64, i64) {
        share(count, of).map(|b| (b.low, b.high)).expect("of something")
    }

    /// The four examples of R. G. Newcombe, Stat. Med. 17 (1998) 857-872, table I, method 3 (score), from memory:
    /// 81/263 0.2553 to 0.3662, 15/148 0.0624 to 0.1605, 0/20 0 to 0.1611, 1/29 0.0061 to 0.1718. Ends here are rounded
    /// outwards, there to the nearest.
    #[test]
    fn wilson_agrees_with_published_examples() {
        for (count, of, low, high) in [(81, 263, 2553, 3662), (15, 148, 624, 1605), (0, 20, 0, 1611), (1, 29, 61, 1718)]
        {
            let (l, h) = ends(count, of);
            assert!((low - 1..=low).contains(&l) && (high..=high + 1).contains(&h), "{count}/{of}: {l} to {h}");
        }
    }

    /// With nothing counted the upper end is z2 / (n + z2), by the formula; and an interval seen from the other side is
    /// the same interval.
    #[test]
    fn wilson_agrees_with_its_closed_forms() {
        for of in [1_u32, 10, 385, 1_000] {
            let closed = Z * Z / (f64::from(of) + Z * Z) * 1e4;
            assert_eq!(ends(0, of), (0, above(closed)));
            for count in 0..=of {
                let (low, high) = ends(count, of);
                assert_eq!(ends(of - count, of), (10_000 - high, 10_000 - low));
            }
        }
        assert_eq!(share(0, 0), None);
    }

    /// 1 to 5: mean 3, s2 = 10 / 4, standard error sqrt(2.5 / 5) = 0.70711, times 1.95996 = 1.38591. By hand.
    #[test]
    fn the_mean_agrees_with_a_sum_by_hand() {
        assert_eq!(mean(&[1, 2, 3, 4, 5]), Some(Between { value: 300, low: 161, high: 439 }));
        assert_eq!(mean(&[7, 7, 7]), Some(Between { value: 700, low: 700, high: 700 }));
        assert_eq!((mean(&[]), mean(&[7])), (None, None));
    }

    /// Ten nights, the first crew covers 3 that the other does not: d = 0.3, s2 = (3 - 0.9) / 9 = 0.23333, standard
    /// error sqrt(0.023333) = 0.152753, times 1.95996 = 0.299390. By hand.
    #[test]
    fn a_difference_agrees_with_a_sum_by_hand() {
        let one = [true; 10];
        let other: Vec<bool> = (0..10).map(|night| night > 2).collect();
        assert_eq!(difference(&one, &other), Some(Between { value: 3000, low: 6, high: 5994 }));
        assert_eq!(difference(&one, &one), Some(Between { value: 0, low: 0, high: 0 }));
    }
}
