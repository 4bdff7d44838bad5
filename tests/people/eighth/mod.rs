//! Sixty everyday conversations by an eighth hand that knew nothing of the code.
//!
//! What went wrong in every second one, from the first on, was read once, after the first count (51 of 60); the
//! others were never looked at. The words for what to do next are put in the program's own, no more.

use crate::lists::right;

/// So many of the sixty go right, and of those that were not looked at; wanted are 57.
const RIGHT: usize = 57;
const UNSEEN: usize = 27;

#[test]
fn conversations_by_the_eighth_hand_go_as_a_good_coach_would_have_it() {
    let (right, _) = right(include_str!("cases.txt"));
    assert!(
        right[0] + right[1] >= RIGHT && right[1] >= UNSEEN,
        "{right:?}"
    );
}
