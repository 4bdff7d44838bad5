//! What is said when something hurts: fixed, short, read aloud before it was taken in.
//!
//! Each text says first what to do, then whom to call. They never name an emergency number, which
//! differs by country, and never say what is wrong.
//!
//! Sources, from memory unless named otherwise: signs that call for help, ACSM's Guidelines for
//! Exercise Testing and Prescription and the PAR-Q+ topics (Warburton DER et al. 2011, Health Fit J
//! Can 4(2):3-17; topics seen); first aid for somebody who collapsed, bleeding, faintness, heat,
//! allergy, low blood sugar and hurt necks, Zideman DA et al. 2021, European Resuscitation Council
//! Guidelines: first aid, Resuscitation 161:270-290, and Olasveengen TM et al. 2021, basic life
//! support, Resuscitation 161:98-114; blows to the head, Patricios JS et al. 2023, Br J Sports Med
//! 57(11):695-711; spine, Finucane LM et al. 2020, J Orthop Sports Phys Ther 50(7):350-372; dark
//! urine and hot calves, general medical teaching; thoughts of suicide, World Health Organization
//! 2023, Preventing suicide: a resource for media professionals (where to turn, no method named).

use chrono::{DateTime, Utc};

use super::{CAUTION, day, shown_name};
use crate::bot::state::report::Report;
use crate::bot::state::view::View;
use crate::domain::quantities::warning::{Caution, WarningSign};
use crate::message::words::unseen::is_unseen;

/// The question where a message may be a report.
pub const DOES_IT: &str = "Does something hurt?";
/// Its buttons.
pub const YES: &str = "Yes, stop";
/// The other.
pub const NO: &str = "No, go on";
/// The button under an answer to a report.
#[must_use]
pub const fn no_injury(sign: Option<WarningSign>) -> &'static str {
    match sign {
        Some(WarningSign::Suicide) => "I did not mean that",
        Some(WarningSign::Bystander) => "Nobody needs help",
        _ => "That was no injury",
    }
}

/// Said where a report was taken back that withholds nothing any more.
pub const TAKEN_BACK: &str = "Noted: no injury. You get loads again, and your coach can see that you \
said so. If it does hurt, tell me.";

/// Said where another report still withholds loads.
pub const ONE_TAKEN_BACK: &str = "Noted: that one was no injury, and your coach can see that you said so. \
What you reported beside it still stands, and so do the loads I keep back for it.";

/// Said where a warning sign was taken back.
pub const SIGN_TAKEN_BACK: &str = "Noted, and your coach can see that you said so. After words like \
those I still give no loads until a coach clears you. If anything feels wrong, call your local \
emergency number.";

/// Said to a press or a word that comes too late.
pub const NOTHING_TO_TAKE_BACK: &str = "There is no report of yours from the last hour to take back. \
Your coach can lift one with `/clear`.";

/// Why no loads are given after a warning sign.
pub const WITHHELD: &str =
    "No loads from me until a doctor has seen you and a coach clears you. Don't train until then.";

/// Why no loads are given while somebody beside the member needs help.
pub const HELPING: &str = "Somebody beside you needs help first. No loads from me for now: I give them \
again in three hours, or when a coach clears it.";

/// Said where a call for somebody else was taken back.
pub const HELP_TAKEN_BACK: &str = "Noted, and your coach can see that you said so. You get loads again in \
three hours, or when a coach clears it. If somebody does need help, call your local emergency number.";

/// What to do, by the sign.
#[must_use]
pub const fn first_aid(sign: WarningSign) -> &'static str {
    match sign {
        WarningSign::Suicide => {
            "I'm glad you said it, and I'm sorry it is this heavy. You don't have to carry it alone. \
             If you might act on it, call your local emergency number now, or go where people are. \
             If not, please talk to someone today: a person you trust, a crisis line where you \
             live, or a doctor. I'm only a program; they are there for you."
        }
        WarningSign::Bystander => {
            "Call your local emergency number now, or point at someone and tell them to call. If the \
             person doesn't respond and doesn't breathe normally, push hard and fast on the middle \
             of the chest, and send someone for a defibrillator. Don't move them unless they are in \
             danger where they lie. Stay with them."
        }
        WarningSign::Chest => {
            "Stop now and sit down. Pain or pressure in the chest can be your heart. Call your local \
             emergency number now. Don't drive yourself, and have someone stay with you."
        }
        WarningSign::Heart => {
            "Stop now and sit down. Have someone stay with you. If your heart keeps racing or \
             skipping, or you feel faint, short of breath or any pain in the chest, call your local \
             emergency number."
        }
        WarningSign::Breath => {
            "Stop now. Sit upright and lean forward a little; use your inhaler if you have one. If \
             your breath doesn't come back at once, call your local emergency number. Don't stay \
             alone."
        }
        WarningSign::Allergy => {
            "This can be a severe allergic reaction. Use your adrenaline pen now if you have one, and \
             call your local emergency number. Lie down; sit up if breathing is hard. Don't wait to \
             see whether it passes."
        }
        WarningSign::Stroke => {
            "Stop now and call your local emergency number: this can be a stroke. Remember the time \
             it began. Don't eat, drink or drive, and have someone stay with you."
        }
        WarningSign::Faint => {
            "Stop now. Lie down before you fall, and tell someone near you. If you passed out, had a \
             seizure, hurt yourself or feel pain in the chest, call your local emergency number. \
             Don't drive."
        }
        WarningSign::Bleeding => {
            "Press hard on the wound with a clean cloth and keep pressing. If it spurts or doesn't \
             stop, or if you cough up, vomit or pass blood, call your local emergency number now."
        }
        WarningSign::Neck => {
            "Don't move your head, your neck or your back, and don't let anyone move you. Stay just as \
             you are. Have someone call your local emergency number now."
        }
        WarningSign::Head => {
            "Stop now and stay where you are. If your neck hurts, too, keep your head still. Don't \
             drive and don't stay alone. If you vomit, get sleepy or confused, see double, can't \
             remember, or your headache grows, call your local emergency number."
        }
        WarningSign::Limb => {
            "Stop now and put no load on it. If it came on suddenly, is on one side or in both legs, \
             or doesn't pass within minutes, call your local emergency number. Don't drive."
        }
        WarningSign::Bladder => {
            "Stop now. This needs a hospital at once, not tomorrow: call your local emergency number, \
             or have someone take you to emergency care."
        }
        WarningSign::Bone => {
            "Stop and leave it as it is. Don't move it, and don't let anyone put it back. Call your \
             local emergency number, or have someone take you to emergency care. Don't eat or drink \
             until you have been seen."
        }
        WarningSign::Heat => {
            "Stop and get out of the heat. Cool down as fast as you can: cold water on the skin, wet \
             cloths, a fan. Call your local emergency number now, and have someone stay with you."
        }
        WarningSign::Sugar => {
            "Sit down and take sugar now, if you can swallow: juice, sweets, glucose. Tell someone \
             near you. If you get drowsy or confused, or it is no better in ten minutes, call your \
             local emergency number."
        }
        WarningSign::Urine => {
            "Stop training and have a doctor or emergency care look at it today: dark urine after \
             hard training can be a sign of muscle damage, which can harm your kidneys. If you feel \
             faint or confused, or can't pass water, call your local emergency number."
        }
        WarningSign::Clot => {
            "Stop, and don't rub or stretch it. Have a doctor or emergency care look at it today. If \
             you get short of breath or feel pain in the chest, call your local emergency number \
             at once."
        }
        WarningSign::Help => {
            "Stop now. Call your local emergency number, or have someone near you call. Don't stay \
             alone. I can't send help."
        }
    }
}

/// Who was told.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Coaches {
    /// So many were written to in private.
    Told(usize),
    /// The team has no coach whom the channel could write to.
    Unknown,
}

impl Coaches {
    /// The line for the member.
    #[must_use]
    pub const fn line(self) -> &'static str {
        match self {
            Self::Told(1) => "I'm telling your coach now, in private.",
            Self::Told(_) => "I'm telling your coaches now, in private.",
            Self::Unknown => "I can't reach a coach from here: tell yours yourself.",
        }
    }
}

/// Posted where a coach could not be written to in private.
pub const UNREACHED: &str =
    "I could not reach a coach in private: tell yours yourself what you told me.";

/// The answer to a warning sign.
#[must_use]
pub fn warning(name: &str, sign: WarningSign, coaches: Coaches) -> String {
    let name = shown_name(name);
    let what = first_aid(sign);
    let coaches = coaches.line();
    match sign {
        WarningSign::Suicide | WarningSign::Bystander => format!("{name}: {what} {coaches}"),
        _ => {
            format!("{name}: {what}\n{WITHHELD} {coaches} I'm a program and no emergency service.")
        }
    }
}

/// What a report of pain stops.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stops<'a> {
    /// What loads the place that hurts, as written; planned or recent exercises among it.
    Place(&'a str, Vec<&'a str>),
    /// One exercise.
    Exercise(&'a str),
    /// Everything.
    All,
}

/// The answer to a report of pain without a warning sign.
#[must_use]
pub fn pain(name: &str, stops: &Stops, coaches: Coaches) -> String {
    let name = shown_name(name);
    let what = match stops {
        Stops::All => {
            "stop training, and don't test it with another set. No loads from me until a \
                       coach clears you."
                .to_owned()
        }
        Stops::Exercise(exercise) => format!(
            "stop {exercise}, and don't test it with another set. Leave out whatever else hurts it. \
             No loads for {exercise} from me until a coach clears you."
        ),
        Stops::Place(body, exercises) => {
            let body = shown_name(body);
            let such = match exercises.as_slice() {
                [] => String::new(),
                some => format!(" ({})", some.join(", ")),
            };
            format!(
                "stop whatever loads your {body}, and don't test it with another set. No loads from \
                 me for what loads it{such} until a coach clears you."
            )
        }
    };
    format!(
        "{name}: {what} Strong pain, swelling, numbness, or no better in a few days: see a doctor or \
         physiotherapist. {}\n{CAUTION}",
        coaches.line()
    )
}

/// The member's own words between quotation marks, on one line.
#[must_use]
pub fn own_words(words: &str) -> String {
    let plain = |c: &char| !is_unseen(*c) && !"@`*_~|<>#".contains(*c);
    let line: String = words
        .split_whitespace()
        .collect::<Vec<_>>()
        .join(" ")
        .chars()
        .filter(plain)
        .take(200)
        .collect();
    format!("“{line}”")
}

/// What a coach is told of a report at once.
#[must_use]
pub fn to_coach(name: &str, report: &Report) -> String {
    let name = shown_name(name);
    let words = own_words(&report.words);
    let number = report.number;
    match report.sign() {
        Some(WarningSign::Suicide) => format!(
            "{name} wrote: {words} Please get in touch with them now, in person or by phone. I told \
             them where to turn. No loads from me until you clear them: `/clear {name} {number}`."
        ),
        Some(WarningSign::Bystander) => format!(
            "{name} wrote that somebody needs help: {words} I told them to call the local emergency \
             number. Check on them now."
        ),
        Some(_) => format!(
            "Warning sign from {name}: {words} I told them to stop and whom to call. Check on them \
             now. No loads from me until you clear them: `/clear {name} {number}`."
        ),
        None => format!(
            "{name} reports pain: {words} No loads from me for {} until you clear it: `/clear {name} \
             {number}`.",
            withheld(report)
        ),
    }
}

/// What a report without a warning sign withholds, in words.
fn withheld(report: &Report) -> String {
    let places = report.places.iter();
    let places: Vec<&str> = places.map(|place| place.area.as_str()).collect();
    match (places.as_slice(), report.exercise.as_deref()) {
        ([], None) => "anything".to_owned(),
        ([], Some(exercise)) => exercise.to_owned(),
        (places, _) => format!("what loads the {}", places.join(" and ")),
    }
}

/// What a coach is told when a member takes a report back; whether another of theirs is open.
#[must_use]
pub fn taken_back_to_coach(name: &str, report: &Report, others: bool) -> String {
    let name = shown_name(name);
    let words = own_words(&report.words);
    match report.sign() {
        None if others => format!(
            "{name} says that was no injury: {words} Other reports of theirs stay open: `/attention`."
        ),
        None => format!("{name} says that was no injury: {words} They get loads again."),
        Some(_) => format!(
            "{name} says that was no injury: {words} I still give no loads until you clear them: \
             `/clear {name} {}`.",
            report.number
        ),
    }
}

/// A report for coaches: what it is, and the member's own words on a line below.
#[must_use]
pub fn line(report: &Report, view: &View) -> String {
    let since = day(view.calendar.day_of(report.at));
    let number = report.number;
    let places: Vec<&str> = report.places.iter().map(|one| one.area.as_str()).collect();
    let what = match (report.sign(), places.as_slice(), report.exercise.as_deref()) {
        (Some(sign), ..) => format!("warning sign ({})", sign.word()),
        (None, [], None) => "pain".to_owned(),
        (None, [], Some(exercise)) => format!("pain ({exercise})"),
        (None, places, _) => format!("pain ({})", places.join(", ")),
    };
    let words = match report.words.as_str() {
        "" => String::new(),
        words => format!("\n   {}", own_words(words)),
    };
    let denied = match report.denied {
        Some(_) => "\n   Says it was no injury.",
        None => "",
    };
    format!("{what}, {since}, report {number}{words}{denied}")
}

/// The reports that a coach can choose from.
#[must_use]
pub fn which(name: &str, reports: &[&Report], view: &View) -> String {
    let name = shown_name(name);
    if reports.is_empty() {
        return format!("{name} has no open report of pain. Nothing was changed.");
    }
    let lines: Vec<String> = reports
        .iter()
        .map(|report| format!(" - {}", line(report, view)))
        .collect();
    format!(
        "No report of {name}'s is called that. Name one by its number, or leave it out for all:\n{}",
        lines.join("\n")
    )
}

/// Asks a coach after a warning sign.
#[must_use]
pub fn seen_by_doctor(name: &str, reports: &[&Report], view: &View) -> String {
    let name = shown_name(name);
    let lines: Vec<String> = reports
        .iter()
        .map(|report| format!(" - {}", line(report, view)))
        .collect();
    format!(
        "{name} reported a warning sign. Has a doctor cleared them to train?\n{}",
        lines.join("\n")
    )
}

/// The answers to that.
pub const DOCTOR_YES: &str = "Yes, a doctor has";
/// The other.
pub const DOCTOR_NO: &str = "No, not yet";

/// Said when a doctor has not.
#[must_use]
pub fn not_yet(name: &str) -> String {
    format!(
        "Noted. {} gets no loads until a doctor has cleared them. `/clear` asks again.",
        shown_name(name)
    )
}

/// The note on a doctor's word.
#[must_use]
pub fn doctors_word(report: &Report, cleared: bool, view: &View) -> String {
    let since = day(view.calendar.day_of(report.at));
    let words = own_words(&report.words);
    match cleared {
        true => format!("a doctor has cleared them after the report of {since}: {words}"),
        false => format!("no doctor has cleared them yet after the report of {since}: {words}"),
    }
}

/// What was lifted; `open` are the reports that stay.
#[must_use]
pub fn lifted(name: &str, open: &[&Report], now: DateTime<Utc>) -> String {
    let name = shown_name(name);
    let stay = match open.len() {
        0 => String::new(),
        1 => " One report stays open.".to_owned(),
        more => format!(" {more} reports stay open."),
    };
    let holds = |report: &&&Report| report.sign.is_some() && report.withholds_all(now);
    if let Some(sign) = open.iter().find(holds) {
        let number = sign.number;
        return format!(
            "Lifted.{stay} {name} still gets no loads: report {number} is a warning sign. \
             After a doctor's word: `/clear {name} {number}`."
        );
    }
    format!(
        "{name} gets loads again, well under the last at first and back up over three \
         sessions.{stay} {CAUTION}"
    )
}

/// What is said to one who tells something that belongs to a licensed professional.
#[must_use]
pub fn pointer(caution: Caution) -> String {
    let what = match caution {
        Caution::Age => {
            "You say that you are under 18: train under a qualified adult's eye, and ask"
        }
        Caution::Pregnancy => "You say that you are pregnant or had a baby not long ago: ask",
        Caution::Heart => "You speak of a heart condition or your blood pressure: ask",
        Caution::Operation => "You speak of an operation: ask",
        Caution::Drugs => {
            "You speak of alcohol, drugs or strong medicine: don't lift on them, and ask"
        }
        Caution::Eating => "You speak of going without food or water: ask",
    };
    format!(
        "{what} a licensed professional, such as your doctor, before you train on. I can't take it \
         into account."
    )
}

/// Said in place of a load that was asked for beside it.
pub const NO_LOAD_FOR_THAT: &str =
    "So I leave the load out here. What I say later is not made for that either.";

/// The line under later loads.
#[must_use]
pub fn not_tailored(cautions: &[Caution]) -> String {
    let words: Vec<&str> = cautions
        .iter()
        .map(|caution| match caution {
            Caution::Age => "your age",
            Caution::Pregnancy => "pregnancy",
            Caution::Heart => "your heart",
            Caution::Operation => "your operation",
            Caution::Drugs => "what you took",
            Caution::Eating => "how you eat",
        })
        .collect();
    format!(
        "This takes no account of {}: go by what a licensed professional tells you.",
        words.join(" and ")
    )
}

/// Said in `/today` and the like beside what is held back.
pub const HELD_BACK: &str = "held back: it loads what hurts";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_warning_sign_says_where_to_turn_and_names_no_number() {
        for sign in WarningSign::ALL {
            let text = warning("Ana", sign, Coaches::Unknown);
            assert!(text.contains("local emergency number"), "{text}");
            assert!(!text.contains("for today"), "{text}");
            assert!(!text.chars().any(|c| c.is_ascii_digit()), "{text}");
            assert!(text.chars().count() < 700, "{text}");
            assert!(text.contains("tell yours yourself"), "{text}");
        }
    }

    #[test]
    fn a_hurt_neck_is_not_told_to_sit_down() {
        for sign in [WarningSign::Neck, WarningSign::Head, WarningSign::Bone] {
            let text = first_aid(sign).to_lowercase();
            assert!(
                !text.contains("sit down") && !text.contains("lie down"),
                "{text}"
            );
        }
        assert!(first_aid(WarningSign::Neck).starts_with("Don't move"));
        assert!(first_aid(WarningSign::Bone).contains("Don't move it"));
    }

    #[test]
    fn thoughts_of_suicide_get_their_own_words() {
        let text = warning("Ana", WarningSign::Suicide, Coaches::Told(1));
        for words in [
            "someone",
            "you trust",
            "crisis line",
            "local emergency number",
        ] {
            assert!(text.contains(words), "{text}");
        }
        for words in ["load", "train", "Stop"] {
            assert!(!text.contains(words), "{text}");
        }
    }

    #[test]
    fn own_words_stay_on_one_line_and_mention_nobody() {
        assert_eq!(own_words("my\nknee  @all `x`"), "“my knee all x”");
    }
}
