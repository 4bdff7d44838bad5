//! What strength time away costs.

/// Days away that cost nothing, the time constant of what they cost then, days, and the most that is
/// lost, log; see [`loss`].
const LOSS_AFTER: f64 = 14.0;
const LOSS_DAYS: f64 = 80.0;
const LOSS_MOST: f64 = 0.22;

/// What strength is lost in so many days without training, log of the one-repetition maximum.
///
/// ```text
/// 0                                 up to 14 days
/// 0.22 (1 − e^(−(t − 14)/80))       beyond: 0.07 after six weeks, 0.15 after fifteen
/// ```
///
/// *Valid for*: up to a year. *Source*: Bosquet L et al. 2013, Scand J Med Sci Sports 23(3):e140-e149, doi
/// 10.1111/sms.12047 (maximal force falls by 0.46 standard deviations, 0.37 to 0.54, more the longer; that it begins in
/// the third week: from memory); McMaster DT et al. 2013, Sports Med 43(5):367-384 (some 15 % in 7 weeks, widely
/// spread, in athletes; from memory). The curve is our own, and after seven weeks stands at half of the latter.
///
/// ```
/// use chalkbell::domain::lifter::loss::loss;
/// assert_eq!(loss(10.0), 0.0);
/// assert!((loss(42.0) - 0.065).abs() < 0.001);
/// assert!((loss(105.0) - 0.149).abs() < 0.001);
/// ```
#[must_use]
pub fn loss(days: f64) -> f64 {
    LOSS_MOST * (1.0 - (-(days - LOSS_AFTER).max(0.0) / LOSS_DAYS).exp())
}
