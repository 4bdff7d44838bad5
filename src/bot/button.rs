//! What a button stands for, and the id that it goes out and comes back under.
//!
//! An id is all that a press brings along, so it holds everything that the press means: under a
//! card the exercise and the day, under a question the answer. It is printed and read here alone.

use std::fmt;

use chrono::NaiveDate;

use super::reply::Button;
use crate::domain::quantities::check::Check;
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::message::forms::command::FORGET_ALL;

/// What a button stands for.
#[derive(Clone, Debug, PartialEq)]
pub enum ButtonId {
    /// Under a card or its bell. Without the card where the id is of an earlier version, or the
    /// exercise's name is too long for an id: then the reply tells which card it is.
    OfCard(CardButton, Option<OnCard>),
    /// Leaves the set out that is asked about.
    Drop,
    /// An unlikely number is meant as written.
    Meant,
    /// Not the load of the set at this place but this one.
    Instead(usize, Mass, Unit),
    /// The exercise that is meant, by name.
    Exercise(String),
    /// The load that is meant.
    Load(Mass, Unit),
    /// The repetitions that were done.
    Reps(u32),
    /// The repetitions that were left; `None` leaves it open.
    Left(Option<Rir>),
    /// The reading that is meant, by its place.
    Pick(usize),
    /// The exercise is kept under this name, as the member's own.
    Own(String),
    /// The member's own exercise of this canonical name is that one.
    Maps(String, String),
    /// Everything of the member is to be erased.
    ForgetAll,
    /// Nothing is to be erased after all.
    Keep,
    /// Whether something hurts, as asked.
    Hurts(bool),
    /// The report of pain with this number was none.
    NoInjury(u32),
    /// Whether a doctor has cleared the member with this author's name, after the reports with these
    /// numbers; none stands for all that are open.
    Doctor(bool, Vec<u32>, String),
    /// Which reports of the member with this author's name are to be lifted: one by its number, or `all`.
    Clear(String, String),
    /// The member with this author's name is not away in the time noted from this day on.
    NotAway(NaiveDate, String),
    /// The member with this author's name does not train light.
    NotLight(String),
}

/// A button under a card.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum CardButton {
    /// All four checks hold.
    Ready,
    /// This check fails.
    Failing(Check),
    /// Takes the card's latest sets back.
    Undo,
}

/// The card that a button belongs to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OnCard {
    /// The exercise, by name.
    pub exercise: String,
    /// The local day.
    pub day: NaiveDate,
}

/// The longest id, in characters: what chat platforms carry.
const LONGEST: usize = 100;

impl ButtonId {
    /// A button under the card of this exercise on this day.
    pub fn of_card(button: CardButton, exercise: &str, day: NaiveDate) -> Self {
        let card = OnCard {
            exercise: exercise.to_owned(),
            day,
        };
        let id = Self::OfCard(button, Some(card));
        match id.to_string().chars().count() <= LONGEST {
            true => id,
            false => Self::OfCard(button, None),
        }
    }

    /// The button with this label.
    pub fn labelled(&self, label: impl Into<String>) -> Button {
        Button {
            id: self.to_string(),
            label: label.into(),
        }
    }

    /// Whether a press leaves or takes something out.
    pub const fn takes_out(&self) -> bool {
        matches!(
            self,
            Self::OfCard(CardButton::Undo, _)
                | Self::Drop
                | Self::ForgetAll
                | Self::NotAway(..)
                | Self::NotLight(_)
        )
    }

    /// The button that goes out under this id; `None` where none does.
    ///
    /// ```
    /// use chalkbell::bot::button::{ButtonId, CardButton};
    ///
    /// let id = "undo:lying leg curl@2026-11-23";
    /// let Some(ButtonId::OfCard(CardButton::Undo, Some(card))) = ButtonId::parse(id) else {
    ///     panic!("an undo");
    /// };
    /// assert_eq!(card.exercise, "lying leg curl");
    /// ```
    pub fn parse(id: &str) -> Option<Self> {
        let (word, value) = match id.split_once(':') {
            Some((word, value)) => (word, Some(value)),
            None => (id, None),
        };
        if let Some(button) = CardButton::parse(word) {
            let card = match value {
                Some(card) => Some(OnCard::parse(card)?),
                None => None,
            };
            return Some(Self::OfCard(button, card));
        }
        Some(match (word, value) {
            ("drop", None) => Self::Drop,
            ("meant", None) => Self::Meant,
            (FORGET_ALL, None) => Self::ForgetAll,
            ("keep", None) => Self::Keep,
            ("hurts", Some(answer)) => Self::Hurts(yes_or_no(answer)?),
            ("no-injury", Some(number)) => Self::NoInjury(number.parse().ok()?),
            ("doctor.yes" | "doctor.no", Some(whom)) => {
                let (numbers, author) = whom.split_once('@')?;
                let numbers = numbers.split(',').filter(|number| !number.is_empty());
                let numbers = numbers.map(|number| number.parse().ok());
                let numbers = numbers.collect::<Option<_>>()?;
                Self::Doctor(word == "doctor.yes", numbers, author.to_owned())
            }
            ("clear", Some(whom)) => {
                let (which, author) = whom.split_once('@')?;
                Self::Clear(which.to_owned(), author.to_owned())
            }
            ("not-away", Some(whom)) => {
                let (day, author) = whom.split_once('@')?;
                Self::NotAway(day.parse().ok()?, author.to_owned())
            }
            ("not-light", Some(author)) => Self::NotLight(author.to_owned()),
            ("exercise", Some(name)) => Self::Exercise(name.to_owned()),
            ("own", Some(name)) => Self::Own(name.to_owned()),
            ("maps", Some(both)) => {
                let (name, exercise) = both.split_once('=')?;
                Self::Maps(name.to_owned(), exercise.to_owned())
            }
            ("load", Some(load)) => {
                let (mass, unit) = load_of(load)?;
                Self::Load(mass, unit)
            }
            ("reps", Some(count)) => Self::Reps(count.parse().ok()?),
            ("left", Some("unsaid")) => Self::Left(None),
            ("left", Some(count)) => Self::Left(Some(Rir::new(count.parse().ok()?).ok()?)),
            ("pick", Some(place)) => Self::Pick(place.parse().ok()?),
            (word, Some(load)) => {
                let place = word.strip_prefix("instead.")?.parse().ok()?;
                let (mass, unit) = load_of(load)?;
                Self::Instead(place, mass, unit)
            }
            _ => return None,
        })
    }
}

impl fmt::Display for ButtonId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::OfCard(button, None) => write!(f, "{button}"),
            Self::OfCard(button, Some(OnCard { exercise, day })) => {
                write!(f, "{button}:{exercise}@{day}")
            }
            Self::Drop => f.write_str("drop"),
            Self::Meant => f.write_str("meant"),
            Self::Instead(place, mass, unit) => {
                write!(f, "instead.{place}:{} {unit}", mass.plain(*unit))
            }
            Self::Exercise(name) => write!(f, "exercise:{name}"),
            Self::Own(name) => write!(f, "own:{name}"),
            Self::Maps(name, exercise) => write!(f, "maps:{name}={exercise}"),
            Self::Load(mass, unit) => write!(f, "load:{} {unit}", mass.plain(*unit)),
            Self::Reps(count) => write!(f, "reps:{count}"),
            Self::Left(None) => f.write_str("left:unsaid"),
            Self::Left(Some(left)) => write!(f, "left:{}", left.reps()),
            Self::Pick(place) => write!(f, "pick:{place}"),
            Self::ForgetAll => f.write_str(FORGET_ALL),
            Self::Keep => f.write_str("keep"),
            Self::Hurts(true) => f.write_str("hurts:yes"),
            Self::Hurts(false) => f.write_str("hurts:no"),
            Self::NoInjury(number) => write!(f, "no-injury:{number}"),
            Self::Doctor(cleared, numbers, author) => {
                let word = if *cleared { "doctor.yes" } else { "doctor.no" };
                let numbers: Vec<String> = numbers.iter().map(u32::to_string).collect();
                write!(f, "{word}:{}@{author}", numbers.join(","))
            }
            Self::Clear(which, author) => write!(f, "clear:{which}@{author}"),
            Self::NotAway(day, author) => write!(f, "not-away:{day}@{author}"),
            Self::NotLight(author) => write!(f, "not-light:{author}"),
        }
    }
}

impl CardButton {
    fn parse(word: &str) -> Option<Self> {
        match word {
            "ready" => Some(Self::Ready),
            "undo" => Some(Self::Undo),
            _ => {
                let check = word.strip_prefix("not.")?;
                let check = Check::ALL.into_iter().find(|one| one.word() == check)?;
                Some(Self::Failing(check))
            }
        }
    }
}

impl fmt::Display for CardButton {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Ready => f.write_str("ready"),
            Self::Undo => f.write_str("undo"),
            Self::Failing(check) => write!(f, "not.{}", check.word()),
        }
    }
}

impl OnCard {
    fn parse(text: &str) -> Option<Self> {
        let (exercise, day) = text.rsplit_once('@')?;
        Some(Self {
            exercise: exercise.to_owned(),
            day: day.parse().ok()?,
        })
    }
}

fn yes_or_no(text: &str) -> Option<bool> {
    match text {
        "yes" => Some(true),
        "no" => Some(false),
        _ => None,
    }
}

/// `82.5 kg`.
fn load_of(text: &str) -> Option<(Mass, Unit)> {
    let (amount, unit) = text.split_once(' ')?;
    let unit = Unit::from_symbol(unit)?;
    Some((Mass::new(amount.parse().ok()?, unit).ok()?, unit))
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn a_card() -> impl Strategy<Value = Option<OnCard>> {
        // Days of four-digit years, which is all that events can be of.
        let card = ("[a-z@: .'()-]{1,40}", 0..2_900_000_i32).prop_map(|(exercise, day)| OnCard {
            exercise,
            day: NaiveDate::from_num_days_from_ce_opt(366 + day).unwrap(),
        });
        proptest::option::of(card)
    }

    fn a_load() -> impl Strategy<Value = (Mass, Unit)> {
        (0..200_000_u32, any::<bool>()).prop_map(|(hundredths, pounds)| {
            let unit = if pounds { Unit::Lb } else { Unit::Kg };
            (
                Mass::new(f64::from(hundredths) / 100.0, unit).unwrap(),
                unit,
            )
        })
    }

    fn any_button() -> impl Strategy<Value = ButtonId> {
        use ButtonId as Id;
        let of_card = prop_oneof![
            Just(CardButton::Ready),
            Just(CardButton::Undo),
            (0..Check::ALL.len()).prop_map(|place| CardButton::Failing(Check::ALL[place])),
        ];
        let left = (0..=60_u8).prop_map(|halves| Rir::new(f64::from(halves) / 2.0).unwrap());
        prop_oneof![
            (of_card, a_card()).prop_map(|(button, card)| Id::OfCard(button, card)),
            Just(Id::Drop),
            Just(Id::Meant),
            (0..50_usize, a_load())
                .prop_map(|(place, (mass, unit))| Id::Instead(place, mass, unit)),
            "[a-z@: .'()-]{1,40}".prop_map(Id::Exercise),
            "[a-z@: .'()-]{1,40}".prop_map(Id::Own),
            ("[a-z@: .'()-]{1,40}", "[a-z@: .'()-]{1,40}")
                .prop_map(|(name, is)| Id::Maps(name, is)),
            a_load().prop_map(|(mass, unit)| Id::Load(mass, unit)),
            any::<u32>().prop_map(Id::Reps),
            proptest::option::of(left).prop_map(Id::Left),
            any::<usize>().prop_map(Id::Pick),
            Just(Id::ForgetAll),
            Just(Id::Keep),
            any::<bool>().prop_map(Id::Hurts),
            any::<u32>().prop_map(Id::NoInjury),
            (
                any::<bool>(),
                proptest::collection::vec(any::<u32>(), 0..3),
                "[a-z@: .,'()-]{1,30}"
            )
                .prop_map(|(cleared, numbers, author)| Id::Doctor(cleared, numbers, author)),
            ("[0-9]{1,3}|all", "[a-z@: .,'()-]{1,30}")
                .prop_map(|(which, author)| Id::Clear(which, author)),
            (0..2_900_000_i32, "[a-z@: .,'()-]{1,30}").prop_map(|(day, author)| {
                let day = NaiveDate::from_num_days_from_ce_opt(366 + day).unwrap();
                Id::NotAway(day, author)
            }),
            "[a-z@: .,'()-]{1,30}".prop_map(Id::NotLight),
        ]
    }

    proptest! {
        #[test]
        fn what_is_printed_is_read_as_the_same(button in any_button()) {
            prop_assert_eq!(ButtonId::parse(&button.to_string()), Some(button));
        }

        #[test]
        fn any_text_is_read_or_refused(text in "(ready|undo|left|load|instead\\.[0-9])?:?.{0,40}") {
            let read = ButtonId::parse(&text).map(|button| button.to_string());
            prop_assert!(read.is_none_or(|id| ButtonId::parse(&id).is_some()));
        }
    }

    #[test]
    fn ids_of_an_earlier_version_are_read_without_their_card() {
        let undo = ButtonId::OfCard(CardButton::Undo, None);
        assert_eq!(ButtonId::parse("undo"), Some(undo));
        let breath = ButtonId::OfCard(CardButton::Failing(Check::Breath), None);
        assert_eq!(ButtonId::parse("not.breath"), Some(breath));
        for odd in [
            "",
            "undone",
            "undo:",
            "undo:bench",
            "not.",
            "load:80",
            "reps:x",
            "said:80",
        ] {
            assert_eq!(ButtonId::parse(odd), None, "{odd}");
        }
    }

    #[test]
    fn a_name_that_is_too_long_for_an_id_is_left_out() {
        let day = NaiveDate::default();
        let id = |letters| ButtonId::of_card(CardButton::Undo, &"x".repeat(letters), day);
        assert_eq!(id(84).to_string().len(), LONGEST);
        assert_eq!(id(85), ButtonId::OfCard(CardButton::Undo, None));
    }
}
