//! Questions beside the reader's own.

use crate::bot::state::view::View;
use crate::domain::quantities::id::ExerciseId;
use crate::message::forms::command;
use crate::message::intent::talk::{Talk, talk};
use crate::message::reading::{Kind, Reading};
use crate::message::words::variants::List;

/// What a message asks beside the reader's own questions. A few questions that the reader takes for
/// one on load are understood better here: `best squat?`, `last bench?`.
pub(super) fn talked(view: &View, text: &str, reading: &Reading) -> Option<Talk> {
    let plain = reading.ended_by.is_none()
        && reading.caution.is_none()
        && reading.readiness.is_none()
        && reading.may_hurt.is_none();
    if !plain {
        return None;
    }
    if reading.kind() == Kind::Chatter
        && let Some(place) = known_place(view, text)
    {
        return Some(Talk::At(place));
    }
    match (&reading.question, reading.kind()) {
        (None, Kind::Chatter) => talk(text, view.reader),
        (Some(question), Kind::Question) if question.what_if.is_none() => talk(text, view.reader)
            .filter(|talk| {
                matches!(
                    talk,
                    Talk::History(..)
                        | Talk::Best(_)
                        | Talk::BestHere
                        | Talk::Progress(_)
                        | Talk::Counted(..)
                        | Talk::Meaning(_)
                        | Talk::Why(_)
                        | Talk::WarmUp(_)
                        | Talk::Rested
                        | Talk::Here
                        | Talk::Plates(..)
                        | Talk::Instead
                )
            }),
        // `only dumbbells up to 35, what instead of squats?` is no set of squats.
        (None, Kind::Unclear) => {
            talk(text, view.reader).filter(|talk| matches!(talk, Talk::Instead))
        }
        _ => None,
    }
}

/// A place that the member has named with `/equipment at` before, where that is all a text says: `at the
/// hotel`, `I'm at the hotel gym`, `back home`.
fn known_place(view: &View, text: &str) -> Option<String> {
    let text = text.trim().trim_end_matches(['.', '!']).to_lowercase();
    let text = ["i'm ", "i am ", "im "]
        .iter()
        .find_map(|begin| text.strip_prefix(begin))
        .unwrap_or(&text);
    let profile = &view.member.profile;
    let away = profile.place.is_some();
    if away
        && matches!(
            text,
            "back home" | "at home" | "back at the usual gym" | "at the usual gym"
        )
    {
        return Some("home".to_owned());
    }
    let name = command::place_name(text.strip_prefix("at ")?)?;
    (profile.places.contains_key(&name) || profile.place.as_ref() == Some(&name)).then_some(name)
}

/// The exercise of a question whether it may be done: `can I squat?`, `ok to squat?`, `should I do the leg press?`. What asks
/// how or how much asks something else.
pub(super) fn may_do(view: &View, text: &str) -> Option<ExerciseId> {
    let lower = text.to_lowercase();
    let words: Vec<&str> = lower
        .split(|c: char| !c.is_alphanumeric() && c != '\'')
        .collect();
    let asks = text.trim_end().ends_with('?') || BEGIN.contains(words.first()?);
    let has = |list: &List| words.iter().any(|word| list.has(word));
    (asks && has(&MAY) && !has(&OTHER) && !lower.contains(|c: char| c.is_ascii_digit()))
        .then(|| view.reader.only_named(text))
        .flatten()
}

/// Words of other questions.
static OTHER: List = List::of("what|how|which|when|where|why|who|much|many");

/// Words that ask leave.
static MAY: List =
    List::of("can|could|may|should|shall|ok|okay|alright|safe|allowed|fine|able|wise|good");
/// What begins a question without its mark.
const BEGIN: &[&str] = &[
    "can", "could", "may", "should", "shall", "am", "is", "ok", "okay",
];
