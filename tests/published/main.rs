//! Checks against figures published outside the project, the source beside each.

#![expect(clippy::unwrap_used, reason = "a helper of tests may fail the test")]

mod calendar;
mod effort;
mod equations;
#[path = "../support/gym.rs"]
mod gym;
mod handbook;
mod left_out;
mod masses;
mod regression;
mod rest_tables;
mod rests;
mod warm_up;
mod week;

/// Asserts that two numbers agree to within `tolerance`.
#[track_caller]
fn assert_near(found: f64, published: f64, tolerance: f64, label: &str) {
    let off = (found - published).abs();
    assert!(off <= tolerance, "{label}: {found} is not {published}");
}
