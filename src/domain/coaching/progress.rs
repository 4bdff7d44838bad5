//! How a lift is coming along: change by the week, and whether the lifter is stalled or run down, as
//! probabilities with what speaks for them.
//!
//! Everything is read off the belief ([`crate::domain::lifter::belief`]), which keeps a line through the days'
//! maxima for it. What a coach sees of it, and when it is worth a word, is decided in `bot`. A view of one member asks
//! [`course`] for each lift and [`run_down`] for the member:
//!
//! ```text
//! let course = progress::course(&belief, &model.condition, &population);
//! course.change            per week, with its 80 % interval
//! course.stalled           None: too early to say
//! progress::run_down(&[course, …])
//! ```

use crate::domain::lifter::belief::Belief;
use crate::domain::lifter::condition::Condition;
use crate::domain::lifter::line::Fit;
use crate::domain::lifter::report::below;
use crate::domain::quantities::priors::Population;

/// Half the width of the central 80 % of a normal distribution, standard deviations.
const CENTRAL_80: f64 = 1.2816;
/// Gains under this are none worth the name, log of the maximum a week: over a month and a half not
/// even the smallest step of a usual rack. Trade practice, no source.
const STALL_A_WEEK: f64 = 0.001;
/// Days, and training days among them, before a lift can be called stalled. Trade practice: three
/// weeks are the least in which a trained lifter's gain could show.
const STALL_AFTER: (i32, u32) = (21, 5);
/// Spread of one day's maximum about the line, log, before the lift's own is known, and the days it
/// counts for. Mitter 2022: from test to test alone come 0.7 to 1.1 repetitions, about 2 %.
const DAY_SPREAD: (f64, f64) = (0.025, 10.0);
/// Days' maxima hang together, since each is learned with those before in mind: so many make one that
/// stands by itself. From lifters simulated in two forms other than the model's, of whose intervals
/// 80 % hold the true rate; on three further forms 85 % do.
const TOGETHER: f64 = 1.25;
/// The population's spread of the change a week counts this much wider: what a lift really did
/// weighs more here than what is usual.
const WIDER: f64 = 2.5;
/// A form this far under what the days before let expect, log, is run down; as [`DAY_SPREAD`].
const LOW_FORM: f64 = -0.02;
/// Training days before form can be told from chance: a line through three, and two more.
const FORM_AFTER: u32 = 5;
/// Days a week.
const WEEK: f64 = 7.0;
/// Mean surprise of the last sets from which they took clearly more than they used to, standard
/// deviations.
const TOOK_MORE: f64 = -0.5;
/// Probability from which a sign is named.
pub const NAMED: f64 = 0.6;

/// Change of the one-repetition maximum by the week, shares (0.01 is 1 %).
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Change {
    /// The middle.
    pub middle: f64,
    /// Lower end of the central 80 %.
    pub low: f64,
    /// Upper end of the central 80 %.
    pub high: f64,
}

/// What speaks for a lifter being stalled or run down.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Sign {
    /// The maximum hardly changes from week to week.
    Flat,
    /// The maximum falls from week to week.
    Falling,
    /// The last days were under the usual form.
    LowForm,
    /// The last sets took more than they used to.
    SetsTakeMore,
}

/// How one lift is coming along.
#[derive(Clone, Debug, PartialEq)]
pub struct Course {
    /// By the week.
    pub change: Change,
    /// Probability, 0 to 1, that the lift gains nothing worth the name; `None` before three weeks and
    /// five training days.
    pub stalled: Option<f64>,
    /// Probability, 0 to 1, that the lift falls from week to week; `None` as for `stalled`.
    pub falling: Option<f64>,
    /// Days from its first set to its last.
    pub days: i32,
    /// Probability, 0 to 1, that the last days were clearly under what those before let expect;
    /// `None` before five training days.
    pub low_form: Option<f64>,
    /// The evidence, strongest kind first; empty when all is well.
    pub signs: Vec<Sign>,
    /// Mean deviation of the last days, log, and its spread.
    form: (f64, f64),
}

/// How a lift is coming along, at the last set learned.
///
/// ```text
/// change = line through the days' maxima, half forgotten after a month, with the usual change
/// stalled = P(change < 0.001 a week)
/// low form = P(mean deviation of the last three days from the line before them < −0.02)
/// ```
///
/// - `condition`: the member's, as learned together with `belief`. `population`: of the lift's class
///   and the member's status.
///
/// Returns probabilities and the central 80 % of the change by the week.
///
/// *Valid for*: any belief; what it is too early to say is `None`. *Source*: least squares and the
/// inverse-variance mean; the bounds are trade practice.
pub fn course(belief: &Belief, condition: &Condition, population: &Population) -> Course {
    let lately = belief.lately(condition, population);
    let (slope, slope_spread, day_spread) = a_week(lately.fit(), population);
    let (off, days_off) = lately.form();
    // The deviations share the doubt of the line that they are taken from.
    let form = (off, day_spread * (1.0 / days_off.max(1.0) + 0.25).sqrt());
    let (days, training_days) = STALL_AFTER;
    let long_enough = belief.span_days() >= days && lately.days() >= training_days;
    let stalled = long_enough.then(|| chance_under(STALL_A_WEEK, slope, slope_spread));
    let low_form = (lately.days() >= FORM_AFTER).then(|| chance_under(LOW_FORM, form.0, form.1));
    let falling = chance_under(-STALL_A_WEEK, slope, slope_spread);
    let likely = |chance: Option<f64>| chance.is_some_and(|chance| chance >= NAMED);
    let take_more = lately.days() >= FORM_AFTER && lately.surprise() <= TOOK_MORE;
    let found = [
        (Sign::Falling, stalled.is_some() && falling >= NAMED),
        (Sign::Flat, likely(stalled) && falling < NAMED),
        (Sign::LowForm, likely(low_form)),
        (Sign::SetsTakeMore, take_more),
    ];
    let share = |log: f64| log.exp_m1();
    Course {
        change: Change {
            middle: share(slope),
            low: share(slope - CENTRAL_80 * slope_spread),
            high: share(slope + CENTRAL_80 * slope_spread),
        },
        stalled,
        falling: stalled.map(|_| falling),
        days: belief.span_days(),
        low_form,
        signs: found
            .into_iter()
            .filter_map(|(sign, is)| is.then_some(sign))
            .collect(),
        form,
    }
}

/// Change a week, log, its spread, and the spread of one day about the line.
fn a_week(fit: Option<Fit>, population: &Population) -> (f64, f64, f64) {
    let usual = (population.trend.mean, WIDER * population.trend.spread);
    let (prior, days) = DAY_SPREAD;
    let Some(fit) = fit else {
        return (usual.0, usual.1, prior);
    };
    let freedom = (fit.weight - 2.0).max(0.0) + days;
    let variance = (fit.residual + days * prior * prior) / freedom;
    let (a, b) = (
        fit.leverage / (TOGETHER * variance * WEEK * WEEK),
        1.0 / (usual.1 * usual.1),
    );
    let slope = (fit.slope * WEEK * a + usual.0 * b) / (a + b);
    (slope, (1.0 / (a + b)).sqrt(), variance.sqrt())
}

/// Probability, 0 to 1, that a member is run down, from all lifts of the last weeks together: one
/// lift's bad days are chance, many lifts' are not. `None` where no lift has five training days.
///
/// ```text
/// form = mean of the lifts' forms, weighted by their precision       P(form < −0.02)
/// ```
///
/// *Valid for*: lifts trained within the same weeks. *Source*: inverse-variance mean; the bound is
/// trade practice.
pub fn run_down(courses: &[Course]) -> Option<f64> {
    let (mut weight, mut sum) = (0.0, 0.0);
    for course in courses.iter().filter(|course| course.low_form.is_some()) {
        let (form, spread) = course.form;
        let precision = 1.0 / (spread * spread).max(1e-8);
        weight += precision;
        sum += precision * form;
    }
    (weight > 0.0).then(|| chance_under(LOW_FORM, sum / weight, (1.0 / weight).sqrt()))
}

/// Probability that a number with this middle and spread lies under `bound`.
fn chance_under(bound: f64, middle: f64, spread: f64) -> f64 {
    below(bound - middle, spread.max(1e-9))
}
