//! Sentences of the weekly digest.

use crate::bot::state::Profile;

/// What a member chose of the digest.
#[must_use]
pub fn chosen(profile: &Profile) -> String {
    let line = match profile.unlisted {
        true => "You have no line in the team's digest (`/digest line on` puts it back).",
        false => "You have a line in the team's digest (`/digest line off` leaves it out).",
    };
    let mine = match profile.own_week {
        true => "Your own week comes to you in private each week (`/digest mine off` ends that).",
        false => "`/digest mine on` sends you your own week in private, each week.",
    };
    format!("{line} {mine}")
}
