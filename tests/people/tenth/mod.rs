//! Sixty everyday conversations by a tenth hand that knew nothing of the code.
//!
//! What went wrong in every second one, from the first on, was read once, after the first count (47 of 60, of the others 24); the
//! others were never looked at.

use crate::lists::right;

/// So many of the sixty go right, and of those that were not looked at; wanted are 57.
const RIGHT: usize = 51;
const UNSEEN: usize = 24;

#[test]
fn conversations_by_the_tenth_hand_go_as_a_good_coach_would_have_it() {
    let (right, _) = right(include_str!("cases.txt"));
    assert!(
        right[0] + right[1] >= RIGHT && right[1] >= UNSEEN,
        "{right:?}"
    );
}
