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
//! urine, hot calves and too much of a medicine, general medical teaching; thoughts of suicide, World Health Organization
//! 2023, Preventing suicide: a resource for media professionals (where to turn, no method named).

use chrono::{DateTime, Utc};

use super::table::and;
use super::{CAUTION, count_of, day, shown_name};
use crate::bot::state::Lifted;
use crate::bot::state::report::{PlaceData, Report};
use crate::bot::state::view::View;
use crate::domain::quantities::warning::{Caution, WarningSign};
use crate::message::words::unseen::is_unseen;

/// The question where a message may be a report.
pub const DOES_IT: &str = "Does something hurt?";
/// The question where it may be a warning sign, and a hard set explains it as well.
pub const IS_IT_A_SIGN: &str = "Stop for now, sit down and drink something. Do you feel faint, hot or short of breath, or \
is there pain in your chest?";
/// Its buttons.
pub const YES: &str = "Yes, stop";
/// The other.
pub const NO: &str = "No, go on";
/// The button under an answer to a report.
pub const fn no_injury(sign: Option<WarningSign>) -> &'static str {
    match sign {
        Some(WarningSign::Overdose) => "That was no overdose",
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
Your coach can lift an older one with `/clear`.";

/// Said to an undo beside a new report, where it could mean an earlier one.
pub const NOT_UNDONE: &str = "I undid nothing: what you reported before still stands, too. If it was no \
injury, press the button under my answer to it.";

/// Why no loads are given after a warning sign.
pub const WITHHELD: &str =
    "No loads from me until a doctor has seen you and a coach clears you. Don't train until then.";

/// Why no loads are given after thoughts of suicide: everybody in the channel can read it.
pub const TALK_FIRST: &str = "No loads from me for now. Talk to someone you trust first. Your coach can \
turn them on again.";

/// Said where words about suicide were taken back.
pub const NOT_MEANT: &str = "Thank you for telling me. Your coach can see that you said so and may still \
ask how you are; until then I give no loads. If it gets heavy, talk to someone you trust, a crisis line \
or a doctor.";

/// Why no loads are given while somebody beside the member needs help.
pub const HELPING: &str = "Somebody beside you needs help first. No loads from me for now: I give them \
again in three hours, or when a coach clears it.";

/// Said where a call for somebody else was taken back.
pub const HELP_TAKEN_BACK: &str = "Noted: nobody needs help, and your coach can see that you said so. If \
somebody does, call your local emergency number.";

/// The same where nothing else withholds loads.
pub const HELP_TAKEN_BACK_AND_LOADS: &str = "Noted: nobody needs help, and your coach can see that you \
said so. You get loads again. If somebody does need help, call your local emergency number.";

/// What to do, by the sign.
pub const fn first_aid(sign: WarningSign) -> &'static str {
    match sign {
        WarningSign::Overdose => {
            "Call your local emergency number now, even if you feel fine: it can harm you hours \
             later. Don't stay alone. Take nothing more, and don't make yourself vomit. Tell them \
             what you took, how much and when, and keep the packet. If you meant to hurt yourself, \
             tell them that, too: you don't have to carry it alone. I can't send help."
        }
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
            "Press hard on a wound with a clean cloth and keep pressing. If it spurts or doesn't stop, \
             if you are pregnant, or if you cough up, vomit or pass blood, call your local emergency \
             number now."
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
    /// The member is the only one.
    Oneself,
}

impl Coaches {
    /// The line for the member, behind a sign or none.
    pub const fn line(self, sign: Option<WarningSign>) -> &'static str {
        match (self, sign) {
            (Self::Told(1), _) => "I'm telling your coach now, in private.",
            (Self::Told(_), _) => "I'm telling your coaches now, in private.",
            // They are told to talk to somebody, and to whom.
            (Self::Unknown, Some(WarningSign::Suicide)) => "I can't reach a coach from here.",
            (Self::Unknown, _) => "I can't reach a coach from here: tell yours yourself.",
            (Self::Oneself, Some(WarningSign::Suicide)) => {
                "There is no other coach here whom I could tell."
            }
            (Self::Oneself, _) => {
                "There is no other coach here whom I could tell: tell someone near you."
            }
        }
    }
}

/// Posted where a coach could not be written to in private.
pub const UNREACHED: &str =
    "I could not reach a coach in private: tell yours yourself what you told me.";

/// The answer to a warning sign.
pub fn warning(name: &str, sign: WarningSign, coaches: Coaches) -> String {
    let name = shown_name(name);
    let what = first_aid(sign);
    let coaches = coaches.line(Some(sign));
    match sign {
        WarningSign::Overdose | WarningSign::Suicide | WarningSign::Bystander => {
            format!("{name}: {what} {coaches}")
        }
        _ => {
            format!("{name}: {what}\n{WITHHELD} {coaches} I'm a program and no emergency service.")
        }
    }
}

/// What a report of pain stops.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Stops<'a> {
    /// What loads the places that hurt, as [`places`] has them; planned or recent exercises among it.
    Place(String, Vec<&'a str>),
    /// One exercise.
    Exercise(&'a str),
    /// Everything.
    All,
}

/// The places of a report, for its member: `your left knee and the front of your thigh`.
pub fn places(report: &Report) -> Option<String> {
    let first = report.body.iter();
    let first = first.map(|body| format!("your {}", shown_name(body)));
    let named = usize::from(report.body.is_some());
    let others = report.places.iter().skip(named).map(your);
    let all: Vec<String> = first.chain(others).collect();
    (!report.places.is_empty()).then(|| and(&all))
}

/// A place, for the one whose it is.
fn your(place: &PlaceData) -> String {
    let side = match place.side.as_deref() {
        Some(side @ ("left" | "right")) => format!("{side} "),
        _ => String::new(),
    };
    match place.area.split_once(" of the ") {
        Some((part, whole)) => format!("the {part} of your {side}{whole}"),
        None => format!("your {side}{}", place.area),
    }
}

/// Whether the words tell that something tore or snapped: that is looked at on the same day. Common
/// practice, no source.
pub fn is_tear(words: &str) -> bool {
    let begins = ["tore", "torn", "tear", "snap", "ruptur"];
    let words = words.to_lowercase();
    let mut words = words.split(|c: char| !c.is_alphabetic());
    words.any(|word| begins.iter().any(|begin| word.starts_with(begin)))
}

/// The answer to a report of pain without a warning sign; `tears` where something tore or snapped.
pub fn pain(name: &str, stops: &Stops, tears: bool, coaches: Coaches) -> String {
    let name = shown_name(name);
    let what = match stops {
        Stops::All => {
            "stop training, and don't test it with another set. No loads from me until a \
                       coach clears you."
                .to_owned()
        }
        Stops::Exercise(exercise) => format!(
            "stop {exercise}, and don't test it with another set. Leave out whatever else brings the \
             pain on. No loads for {exercise} from me until a coach clears you."
        ),
        Stops::Place(places, exercises) => {
            let such = match exercises.as_slice() {
                [] => String::new(),
                some => format!(" ({})", some.join(", ")),
            };
            let it = match places.contains(" and ") {
                true => "them",
                false => "it",
            };
            format!(
                "stop whatever loads {places}, and don't test {it} with another set. No loads from \
                 me for what loads {it}{such} until a coach clears you."
            )
        }
    };
    let doctor = match tears {
        true => {
            "If something tore or snapped, have a doctor look at it today. If you can't use it at \
             all, go to emergency care."
        }
        false => {
            "Strong pain, swelling, numbness, or no better in a few days: see a doctor or \
             physiotherapist."
        }
    };
    format!("{name}: {what} {doctor} {}\n{CAUTION}", coaches.line(None))
}

/// The member's own words between quotation marks, on one line.
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

/// What a coach is told of a report at once, and of the pain that was told beside it.
pub fn to_coach(name: &str, report: &Report, beside: Option<&Report>) -> String {
    let name = shown_name(name);
    let words = own_words(&report.words);
    let number = report.number;
    let text = match (&report.by, report.sign()) {
        (None, None) => format!("{name} reports pain: {words}"),
        (None, Some(WarningSign::Suicide)) => format!("{name} wrote: {words}"),
        (None, Some(WarningSign::Bystander)) => {
            format!("{name} wrote that somebody needs help: {words}")
        }
        (None, Some(_)) => format!("Warning sign from {name}: {words}"),
        (Some(by), Some(sign)) if sign != WarningSign::Suicide => {
            format!(
                "Warning sign of {name}, told by {}: {words}",
                shown_name(&by.name)
            )
        }
        (Some(by), _) => format!("{} wrote about {name}: {words}", shown_name(&by.name)),
    };
    let then = match report.sign() {
        Some(WarningSign::Suicide) => format!(
            "Please get in touch with {name} now, in person or by phone. I told them where to turn. No \
             loads from me until you clear them: `/clear {name} {number}`."
        ),
        Some(WarningSign::Bystander) => {
            "I told them to call the local emergency number. Check on them now.".to_owned()
        }
        Some(_) => format!(
            "I told them to stop and whom to call. Check on them now. No loads from me until you \
             clear them: `/clear {name} {number}`."
        ),
        None => format!(
            "No loads from me for {} until you clear it: `/clear {name} {number}`.",
            withheld(report)
        ),
    };
    let beside = beside.map(|pain| {
        format!(
            " What was said of the {} is report {}, to be cleared by itself.",
            areas(pain).join(" and "),
            pain.number
        )
    });
    format!("{text} {then}{}", beside.unwrap_or_default())
}

/// The areas of a report, each once.
fn areas(report: &Report) -> Vec<&str> {
    let mut areas: Vec<&str> = Vec::new();
    for place in &report.places {
        if !areas.contains(&place.area.as_str()) {
            areas.push(&place.area);
        }
    }
    areas
}

/// What a report without a warning sign withholds, in words.
fn withheld(report: &Report) -> String {
    match (areas(report).as_slice(), report.exercise.as_deref()) {
        ([], None) => "anything".to_owned(),
        ([], Some(exercise)) => exercise.to_owned(),
        (places, _) => format!("what loads the {}", places.join(" and ")),
    }
}

/// What a coach is told when a member takes a report back; whether another of theirs is open.
pub fn taken_back_to_coach(name: &str, report: &Report, others: bool) -> String {
    let name = shown_name(name);
    let words = own_words(&report.words);
    match report.sign() {
        None if others => format!(
            "{name} says that was no injury: {words} Other reports of theirs stay open: `/attention`."
        ),
        None => format!("{name} says that was no injury: {words} They get loads again."),
        Some(WarningSign::Bystander) => {
            format!("{name} says that nobody needs help: {words} Ask them all the same.")
        }
        Some(WarningSign::Suicide) => format!(
            "{name} says that they did not mean it: {words} Please talk with them all the same. I give \
             no loads until you clear them: `/clear {name} {}`.",
            report.number
        ),
        Some(_) => format!(
            "{name} says that was no injury: {words} I still give no loads until you clear them: \
             `/clear {name} {}`.",
            report.number
        ),
    }
}

/// What a report is, for coaches.
pub fn kind(report: &Report) -> String {
    match (
        report.sign(),
        areas(report).as_slice(),
        report.exercise.as_deref(),
    ) {
        (Some(WarningSign::Suicide), ..) => "thoughts of suicide".to_owned(),
        (Some(WarningSign::Bystander), ..) => "a call for help for somebody else".to_owned(),
        (Some(sign), ..) => format!("warning sign ({})", sign.word()),
        (None, [], None) => "pain".to_owned(),
        (None, [], Some(exercise)) => format!("pain ({exercise})"),
        (None, places, _) => format!("pain ({})", places.join(", ")),
    }
}

/// A report for coaches: what it is, and the member's own words on a line below.
pub fn line(report: &Report, view: &View) -> String {
    let since = day(view.calendar.day_of(report.at));
    let denied = match report.denied {
        Some(_) => "\n   Says it was no injury.",
        None => "",
    };
    format!(
        "{}, {since}, report {}{}{denied}",
        kind(report),
        report.number,
        quoted(report)
    )
}

/// A question whether something hurts that stands unanswered, for coaches.
pub fn unanswered(report: &Report, view: &View) -> String {
    format!(
        "perhaps {}, {}, report {}: I asked and got no answer{}",
        kind(report),
        day(view.calendar.day_of(report.at)),
        report.number,
        quoted(report)
    )
}

/// The words of a report on a line of their own, with who wrote them where that was not the member.
fn quoted(report: &Report) -> String {
    let by = report.by.as_ref();
    let by = by.map(|by| format!("{}: ", shown_name(&by.name)));
    match report.words.as_str() {
        "" => String::new(),
        words => format!("\n   {}{}", by.unwrap_or_default(), own_words(words)),
    }
}

/// The reports that a coach can choose from.
pub fn which(name: &str, reports: &[&Report], view: &View) -> String {
    let name = shown_name(name);
    if reports.is_empty() {
        return format!("{name} has no open report of pain. Nothing was changed.");
    }
    format!(
        "No report of {name}'s is called that. Name one by its number or place, or leave it out for \
         all:\n{}",
        list(reports, view)
    )
}

/// Asks which of these reports are to be lifted.
pub fn lift_which(name: &str, open: &[&Report], view: &View) -> String {
    let name = shown_name(name);
    let asks = match open {
        [_] => format!("Lift the open report of {name}?"),
        several => format!(
            "{name} has {} open reports. Which is lifted?",
            several.len()
        ),
    };
    format!("{asks}\n{}", list(open, view))
}

/// The button that lifts one.
pub fn lift_button(report: &Report) -> String {
    format!("Lift {}", kind(report))
}

/// The button that lifts all.
pub const LIFT_ALL: &str = "Lift all";

/// Whose reports are open, where a coach would lift everybody's at once.
pub fn clear_by_name(open: &[(&str, Vec<&Report>)]) -> String {
    let Some((first, _)) = open.first() else {
        return "No report of pain is open in this team.".to_owned();
    };
    let all = open.iter().map(|(name, reports)| {
        let kinds: Vec<String> = reports.iter().map(|report| kind(report)).collect();
        format!("{}: {}", shown_name(name), kinds.join(", "))
    });
    format!(
        "Reports are lifted one member at a time, like `/clear {}`. Open: {}.",
        shown_name(first),
        all.collect::<Vec<_>>().join("; ")
    )
}

fn list(reports: &[&Report], view: &View) -> String {
    let lines = reports.iter();
    let lines = lines.map(|report| format!(" - {}", line(report, view)));
    lines.collect::<Vec<_>>().join("\n")
}

/// Whether all of these tell of thoughts of suicide, on which a doctor's word is not what counts.
fn are_of_suicide(signs: &[&Report]) -> bool {
    let is = |report: &&Report| report.sign() == Some(WarningSign::Suicide);
    !signs.is_empty() && signs.iter().all(is)
}

/// Asks a coach after warning signs; `beside` are the reports that a yes lifts, too, `own` says that
/// the coach is the one asked about.
pub fn seen_by_doctor(
    name: &str,
    signs: &[&Report],
    beside: &[&Report],
    own: bool,
    view: &View,
) -> String {
    let name = shown_name(name);
    let asks = match (are_of_suicide(signs), own) {
        (true, false) => format!(
            "{name} wrote of suicide. Have they talked with someone who can help, such as a doctor or \
             a crisis line?"
        ),
        (true, true) => {
            "Have you talked with someone who can help, such as a doctor or a crisis line?"
                .to_owned()
        }
        (false, false) => {
            format!("{name} reported a warning sign. Has a doctor cleared them to train?")
        }
        (false, true) => {
            "You reported a warning sign. Has a doctor cleared you to train?".to_owned()
        }
    };
    let too = match beside {
        [] => String::new(),
        some => format!("\nA yes lifts this, too:\n{}", list(some, view)),
    };
    format!("{asks}\n{}{too}", list(signs, view))
}

/// The answers to that.
pub fn doctor_buttons(signs: &[&Report]) -> (&'static str, &'static str) {
    match are_of_suicide(signs) {
        true => ("Yes", "No, not yet"),
        false => ("Yes, a doctor has", "No, not yet"),
    }
}

/// Said to a coach who would lift their own warning sign, where there are others.
pub fn another_coach(others: &[&str]) -> String {
    let names: Vec<String> = others.iter().map(|name| shown_name(name)).collect();
    let one = match names.as_slice() {
        [one] => one.clone(),
        several => several.join(" or "),
    };
    format!("That warning sign is your own, so another coach lifts it: ask {one}.")
}

/// Said when a doctor has not.
pub fn not_yet(name: &str, own: bool) -> String {
    match own {
        true => "Noted. You get no loads until then. `/clear` asks again.".to_owned(),
        false => format!(
            "Noted. {} gets no loads until then. `/clear` asks again.",
            shown_name(name)
        ),
    }
}

/// The note on a doctor's word.
pub fn doctors_word(report: &Report, cleared: bool, view: &View) -> String {
    let since = day(view.calendar.day_of(report.at));
    let words = own_words(&report.words);
    match (are_of_suicide(&[report]), cleared) {
        (true, true) => {
            format!("has talked with someone who can help, after the message of {since}")
        }
        (true, false) => {
            format!("has not talked with someone who can help yet, after the message of {since}")
        }
        (false, true) => {
            format!("a doctor has cleared them after the report of {since}: {words}")
        }
        (false, false) => {
            format!("no doctor has cleared them yet after the report of {since}: {words}")
        }
    }
}

/// What was lifted; `open` are the reports that stay.
pub fn lifted(name: &str, gone: &[&Report], open: &[&Report], now: DateTime<Utc>) -> String {
    let name = shown_name(name);
    let gone: Vec<String> = gone.iter().map(|report| kind(report)).collect();
    let gone = match gone.as_slice() {
        [] => String::new(),
        [one] => format!("Lifted: {one}. "),
        several => format!("Lifted {} reports: {}. ", several.len(), several.join(", ")),
    };
    let stay = match open {
        [] => String::new(),
        [one] => format!(" One report stays open: {}.", kind(one)),
        more => {
            let kinds: Vec<String> = more.iter().map(|report| kind(report)).collect();
            format!(" {} reports stay open: {}.", more.len(), kinds.join(", "))
        }
    };
    let holds = |report: &&&Report| report.is_sign() && report.withholds_all(now);
    if let Some(sign) = open.iter().find(holds) {
        let number = sign.number;
        let first = match are_of_suicide(&[sign]) {
            true => "Once they have talked with someone who can help",
            false => "After a doctor's word",
        };
        return format!(
            "Lifted.{stay} {name} still gets no loads. {first}: `/clear {name} {number}`."
        );
    }
    format!(
        "{gone}{name} gets loads again, well under the last at first and back up over three \
         sessions.{stay} {CAUTION}"
    )
}

/// What a member is told whose reports a coach lifted; `open` are the reports that stay.
pub fn lifted_to_member(
    coach: &str,
    lifted: &[Report],
    open: &[&Report],
    now: DateTime<Utc>,
) -> String {
    let coach = shown_name(coach);
    let first = format!("{coach} has cleared you.");
    if lifted
        .iter()
        .any(|one| one.sign() == Some(WarningSign::Suicide))
    {
        return format!(
            "{coach} has turned your loads on again, for whenever you want to train. If it gets heavy, \
             talk to someone you trust, a crisis line or a doctor."
        );
    }
    if open.iter().any(|report| report.withholds_all(now)) {
        return format!(
            "{coach} has cleared one of your reports. Another still holds all loads back."
        );
    }
    let stays: Vec<String> = open
        .iter()
        .filter_map(|report| {
            let loads = places(report).map(|places| format!("what loads {places}"));
            loads.or_else(|| report.exercise.clone())
        })
        .collect();
    let stays = match stays.as_slice() {
        [] => String::new(),
        some => format!(" I still hold back {}.", and(some)),
    };
    format!(
        "{first} You get loads again, light at first and back up over three sessions.{stays} Stop if it \
         hurts again, and tell me."
    )
}

/// Said to a coach where all that stood was a question without an answer.
pub fn question_dropped(name: &str) -> String {
    format!(
        "Done: I no longer ask {} whether something hurts. Nothing was held back for it.",
        shown_name(name)
    )
}

/// What a card says once what held it back is lifted.
pub fn lifted_card(name: &str, exercise: &str) -> String {
    format!(
        "{}, {exercise}: a coach has cleared this. `/next {exercise}` tells you the load.",
        shown_name(name)
    )
}

/// The reports that were open when a coach came: whose, and what.
pub fn to_new_coach(open: &[(&str, &Report)], view: &View) -> String {
    let lines = open
        .iter()
        .map(|(name, report)| format!(" - {}: {}", shown_name(name), line(report, view)));
    let lines: Vec<String> = lines.collect();
    format!(
        "This was reported before you wrote here, and is open:\n{}\n`/attention` shows it again.",
        lines.join("\n")
    )
}

/// What a coach is told of somebody who had everything erased while reports were open.
pub fn erased_to_coach(name: &str, sign: bool) -> String {
    let what = match sign {
        true => "A warning sign was open",
        false => "A report of pain was open",
    };
    format!(
        "{} had everything about them erased. {what}, and I hold nothing back for it any more. Ask them \
         how they are.",
        shown_name(name)
    )
}

/// Said to one who had everything erased while reports were open.
pub const ERASED: &str = "Your report of pain is erased, too, so I no longer hold any load back. See a \
doctor before you train on.";

/// What may be done in place of what is held back: these exercises spare what hurts.
pub fn spared(open: &[&Report], exercises: &[&str]) -> String {
    let held = open.iter().filter_map(|report| {
        let loads = places(report).map(|places| format!("what loads {places}"));
        loads.or_else(|| report.exercise.clone())
    });
    let held: Vec<String> = held.collect();
    let spared = match exercises {
        [] => "Ask your coach what you can do meanwhile.".to_owned(),
        some => format!(
            "This does not load it: {}. If that hurts, too, stop and tell me.",
            some.join(", ")
        ),
    };
    format!(
        "I hold back {} until a coach clears you. {spared}",
        and(&held)
    )
}

/// The answer to whether an exercise may be done that is held back; `spared` says what by, and what else there is.
pub fn may_not(exercise: &str, spared: &str) -> String {
    format!(
        "{} is held back for now. {spared}",
        super::capital(exercise)
    )
}

/// The answer to whether an exercise may be done that does not load what hurts.
pub fn may(exercise: &str, open: &[&Report]) -> String {
    let what: Vec<String> = open.iter().filter_map(|report| places(report)).collect();
    let what = match what.as_slice() {
        [] => "what hurts".to_owned(),
        places => and(places),
    };
    format!(
        "{} is not held back: it does not load {what}. If it hurts, stop and tell me. `/next {exercise}` tells the load.",
        super::capital(exercise)
    )
}

/// What was trained since a report in spite of it.
pub fn trained_anyway(done: &[(&str, u32)]) -> String {
    let done: Vec<String> = done
        .iter()
        .map(|(name, sets)| format!("{name}, {}", count_of(*sets, "set")))
        .collect();
    format!("trained it all the same since: {}", done.join("; "))
}

/// A report that was lifted, as weeks show it.
pub fn was_lifted(one: &Lifted) -> String {
    match one.told == one.on {
        true => format!("{} on {}, cleared the same day", one.what, day(one.told)),
        false => format!(
            "{} on {}, cleared on {}",
            one.what,
            day(one.told),
            day(one.on)
        ),
    }
}

/// The answer to one who tells of another's pain.
pub fn of_another(
    writer: &str,
    is_coach: bool,
    name: &str,
    report: &Report,
    coaches: Coaches,
) -> String {
    let (writer, name) = (shown_name(writer), shown_name(name));
    let others_told = match (coaches, is_coach) {
        (Coaches::Told(_), true) => " I'm telling the other coaches, too.".to_owned(),
        (_, true) => String::new(),
        (coaches, false) => format!(" {}", coaches.line(report.sign())),
    };
    let Some(sign) = report.sign() else {
        return format!(
            "Noted for {name}. I give {name} no loads for {} until a coach clears it.{others_told}\n\
             {CAUTION}",
            withheld(report)
        );
    };
    let what = match sign {
        WarningSign::Suicide => format!(
            "Thank you for telling me. Stay with {name}, or see that somebody does. Ask them openly and \
             listen. If they might act on it, call your local emergency number now. A crisis line can \
             tell you, too, what to do."
        ),
        WarningSign::Urine | WarningSign::Clot => format!(
            "{name} stops training and has a doctor or emergency care look at it today. If {name} gets \
             faint, confused or short of breath, or has pain in the chest, call your local emergency \
             number at once."
        ),
        _ => first_aid(WarningSign::Bystander).to_owned(),
    };
    let until = match sign {
        WarningSign::Suicide => "until a coach turns them on again",
        _ => "until a doctor has seen them and a coach clears them",
    };
    format!(
        "{writer}: {what}\nNo loads for {name} from me {until}.{others_told} I'm a program and no emergency \
         service."
    )
}

/// What a member is told of whose pain another wrote.
pub fn told_by_another(writer: &str, report: &Report) -> String {
    let writer = shown_name(writer);
    let words = own_words(&report.words);
    match report.sign() {
        Some(WarningSign::Suicide) => format!(
            "{writer} is worried about you. You don't have to carry anything alone: talk to a person you \
             trust, a crisis line where you live, or a doctor. If you might act on it, call your local \
             emergency number now."
        ),
        Some(sign) => format!(
            "{writer} wrote about you: {words} If it is so: {}\n{WITHHELD}",
            first_aid(sign)
        ),
        None => format!(
            "{writer} wrote about you: {words} No loads from me for {} until a coach clears it. If it is \
             wrong, say so with the button.\n{CAUTION}",
            withheld(report)
        ),
    }
}

/// What a card says of which the exercise is held back because of what another wrote.
pub fn held_card(name: &str, exercise: &str) -> String {
    format!(
        "{}, {exercise}: no load from me on this one until a coach clears you.",
        shown_name(name)
    )
}

/// What coaches are told where a member says that a doctor has cleared them.
pub fn says_cleared_to_coach(name: &str) -> String {
    let name = shown_name(name);
    format!("{name} says that a doctor has cleared them. Ask them, then: `/clear {name}`.")
}

/// Tells coaches that a member says that it is well again.
pub fn says_well_to_coach(name: &str, words: &str) -> String {
    let name = shown_name(name);
    let words: String = words.chars().take(80).collect();
    format!(
        "{name} says: “{}” Ask them, then: `/clear {name}`.",
        words.replace('`', "'")
    )
}

/// Who can lift a report, for its member; `sign` says that a doctor is asked for first, `told_coaches`
/// whether coaches were told that one has.
pub fn who_clears(coaches: &[String], sign: bool, told_coaches: Option<Coaches>) -> String {
    let names: Vec<String> = coaches.iter().map(|name| shown_name(name)).collect();
    let who = match names.as_slice() {
        [] => "A coach clears you".to_owned(),
        [one] => format!("Your coach clears you: {one}"),
        several => format!("A coach clears you: {}", several.join(" or ")),
    };
    let when = match sign {
        true => " I ask them whether a doctor has seen you and said that you may train.",
        false => " Talk with them about how it is.",
    };
    let told = match told_coaches {
        Some(Coaches::Told(_)) => " I have told them what you said.",
        _ => "",
    };
    format!("{who}, with `/clear`.{when}{told}")
}

/// Said beside it while a report can be taken back.
pub const OR_NO_REPORT: &str = "If I misread you, press `That was no injury` below my answer.";

/// What is said to one who tells something that belongs to a licensed professional.
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
        Caution::Doctor => {
            return "Go by what your doctor or physio told you, and leave out what they ruled out: my loads can't \
                    allow for it. Tell your coach, who can change the plan."
                .to_owned();
        }
        Caution::Fever => {
            return "Don't train with a fever. Rest, and ask your doctor when you may train again. I can't take it into \
                    account."
                .to_owned();
        }
        Caution::Illness => {
            return "You speak of an illness: ask your doctor whether you may train. If you may, start light, stop each \
                    set far from failure, and stop at once if you feel worse. For a week my loads stop about 5 reps short of failure."
                .to_owned();
        }
    };
    format!(
        "{what} a licensed professional, such as your doctor, before you train on. I can't take it \
         into account."
    )
}

/// A caution as it is told of somebody else.
const fn told_as(caution: Caution) -> &'static str {
    match caution {
        Caution::Age => "under 18",
        Caution::Pregnancy => "pregnant, or had a baby not long ago",
        Caution::Heart => "a heart condition or blood pressure",
        Caution::Operation => "an operation",
        Caution::Drugs => "alcohol, drugs or strong medicine",
        Caution::Eating => "going without food or water",
        Caution::Doctor => "what a doctor said on training",
        Caution::Fever => "a fever",
        Caution::Illness => "an illness",
    }
}

/// What a coach told of a member that belongs to a professional, once it is kept.
pub fn caution_of(name: &str, caution: Caution) -> String {
    let name = shown_name(name);
    format!(
        "Noted for {name}: {}. I hold no loads back for that and can't take it into account: ask {name} to see a \
         licensed professional, such as a doctor, before training on. `/attention` lists it until you `/clear` it.",
        told_as(caution)
    )
}

/// Asks a coach what their words on a member's health mean.
pub fn what_of(name: &str, words: &str) -> String {
    let name = shown_name(name);
    format!(
        "Is {name} hurt? I hold nothing back yet. Say what hurts, like `{name}'s knee hurts`, and I give no loads \
         for it. Who fainted, hit the head or has pain in the chest sees a doctor before training. To keep this for \
         coaches: `/note {} {}`",
        name.to_lowercase(),
        own_words(words).trim_matches(['“', '”'])
    )
}

/// Said in place of a load that was asked for beside it.
pub const NO_LOAD_FOR_THAT: &str =
    "So I leave the load out here. What I say later is not made for that either.";

/// Said to one who comes back from an illness and asks for a load, where no set is known.
pub const NO_LOAD_AFTER_ILLNESS: &str = "I know no set of yours from before, so I can't name a load. If your doctor lets \
you train, start with a load that you could lift 20 times or more, do 10, and post them.";

/// What a member is told whose caution is taken back.
pub const CAUTION_TAKEN_BACK: &str = "Taken back: I misread you, and my loads go on as usual.";

/// The same after an illness.
pub const NO_LOAD_NOW: &str = "So I leave the load out here.";

/// The line under later loads.
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
            Caution::Doctor => "what your doctor said",
            Caution::Fever => "your fever",
            Caution::Illness => "your illness",
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
            let named = sign != WarningSign::Suicide;
            assert_eq!(text.contains("tell yours yourself"), named, "{text}");
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
