//! Pain and warning signs: what is kept, what stops, who is told, how it is taken back.
//!
//! Nothing here judges what is wrong: it stops, says plainly what to do, and leaves the rest to
//! people. What is said stands in [`text::hurt`], what a report withholds in [`crate::bot::state::report`].

use chrono::TimeDelta;

use super::work::{Work, stop};
use crate::bot::button::ButtonId;
use crate::bot::reply::{Outgoing, Reply, Sign};
use crate::bot::state::report::{HurtAsked, Report, ReportedCaution, TAKEN_BACK_WITHIN};
use crate::bot::state::{Card, Change, Member};
use crate::bot::text;
use crate::bot::text::hurt::{Coaches, Stops};
use crate::domain::advice::next_set::{Advice, Reason};
use crate::domain::coaching::plan::Plan;
use crate::domain::log::LoggedSet;
use crate::domain::quantities::id::{ExerciseId, MemberId};
use crate::domain::quantities::warning::{Caution, WarningSign};
use crate::message::intent::no_injury::Cleared;
use crate::message::intent::talk::words_of;
use crate::message::reading::{Hurt, Reading, SetReading};
use crate::message::words::variants::{List, has};

/// Questions whether something hurts that stand open at a time; the oldest give way.
const MOST_ASKED: usize = 8;
/// Exercises that are named where neither plan nor session has enough that spares what hurts: one for each
/// part of the body. Common practice, no source.
static COMMON: List = List::of(
    "bench press, seated cable row, lat pulldown, leg press, leg extension, lying leg curl, \
     hip thrust, standing calf raise, dumbbell curl, triceps pushdown, cable crunch",
);
/// Exercises named in an answer.
const NAMED: usize = 4;

/// What a caution is good for: drink and an empty stomach pass.
const fn lasts(caution: Caution) -> TimeDelta {
    match caution {
        Caution::Drugs | Caution::Eating => TimeDelta::days(2),
        Caution::Fever | Caution::Illness => TimeDelta::days(7),
        _ => TimeDelta::days(180),
    }
}

/// Whether a load is asked for, also in words that are not read as such: `how much lighter`.
fn asks_for_load(reading: &Reading, words: &str) -> bool {
    let words = words_of(words);
    reading.question.is_some()
        || (words.windows(2)).any(|pair| pair[0] == "how" && has("much heavy light", &pair[1]))
        || words
            .iter()
            .any(|word| has("weight weights load loads kilos", word))
}

impl Work<'_> {
    /// Takes what a message tells of pain, and says what to do; whether cards that stand are to be
    /// shown anew. `sets` are what it files beside.
    pub(crate) fn hear(&mut self, reading: &Reading, words: &str, sets: &[SetReading]) -> bool {
        let mut anew = false;
        if let Some(hurt) = &reading.hurt {
            anew = self.report(hurt, words, sets);
        } else if let Some(hurt) = &reading.may_hurt {
            self.ask_whether_it_hurts(hurt, words, sets);
        }
        if let Some(caution) = reading.caution {
            // Who is to call for help now is told nothing else.
            let urgent = reading.hurt.as_ref().is_some_and(Hurt::urgent);
            self.note_caution(caution, asks_for_load(reading, words), urgent);
            anew = true;
        }
        anew
    }

    fn report(&mut self, hurt: &Hurt, words: &str, sets: &[SetReading]) -> bool {
        let (report, beside) = self.reported(hurt, words, sets).apart();
        let same = |known: &Report| {
            !report.message.is_empty()
                && known.message == report.message
                && known.sign == report.sign
                && known.places == report.places
        };
        if self.member.state.hurt.iter().any(same) {
            // The words around it were changed.
            return false;
        }
        self.take(report, beside);
        true
    }

    fn reported(&self, hurt: &Hurt, words: &str, sets: &[SetReading]) -> Report {
        let exercise = self.exercise_of(hurt, sets).map(|id| self.view.name_of(id));
        Report {
            message: self.source.answers.clone().unwrap_or_default(),
            channel: self.source.channel.clone(),
            ..Report::new(hurt, words, exercise, self.view.now)
        }
    }

    /// The exercise that a report stops beside what loads the place: the one it is told of; the one
    /// at hand only where no place is named. One that is merely filed in the same message goes on
    /// where it spares the place.
    fn exercise_of(&self, hurt: &Hurt, sets: &[SetReading]) -> Option<ExerciseId> {
        let filed = |id: ExerciseId| sets.iter().any(|set| set.exercise == id);
        let strains = |id: ExerciseId| {
            let exercise = self.view.catalogue().exercise(id);
            hurt.places.iter().any(|place| exercise.strains(place.area))
        };
        match hurt.exercise {
            Some(id) if hurt.places.is_empty() || strains(id) || !filed(id) => Some(id),
            None if hurt.places.is_empty() && !hurt.urgent() => {
                let last = sets.last().map(|set| set.exercise);
                last.or_else(|| self.at_hand())
            }
            _ => None,
        }
    }

    /// Keeps a report, and the pain that is told beside a warning sign; stops what they withhold, says
    /// what to do, tells the coaches.
    fn take(&mut self, mut report: Report, mut beside: Option<Report>) {
        let reply = self.blank();
        for one in std::iter::once(&mut report).chain(&mut beside) {
            if one.number == 0 {
                one.number = self.member.state.next_report();
            }
            one.reply.clone_from(&reply.id);
            self.close_hurt_questions(|asked| {
                let same = !one.message.is_empty() && asked.report.message == one.message;
                same || asked.report.number == one.number || asked.report.is_within(one)
            });
            self.member.state.hurt.push(one.clone());
        }
        self.member.state.forget_old_reports(self.view.now);
        self.fresh_report = Some(report.number);
        if self.bell_is_held() {
            self.cancel_bell();
        }
        let to_coach = text::hurt::to_coach(&self.member.name, &report, beside.as_ref());
        let coaches = self.tell_coaches(&to_coach, &[]);
        let name = &self.member.name;
        let text = match report.sign() {
            Some(sign) => text::hurt::warning(name, sign, coaches),
            None => {
                let tear = text::hurt::is_tear(&report.words);
                text::hurt::pain(name, &self.stops(&report), tear, coaches)
            }
        };
        let advice = self.advice_with(&report);
        let reply = Reply {
            text,
            advice,
            late: true,
            buttons: vec![
                ButtonId::NoInjury(report.number).labelled(text::hurt::no_injury(report.sign())),
            ],
            ..reply
        };
        // Before what goes to the coaches.
        let first = self.out.len().saturating_sub(match coaches {
            Coaches::Told(count) => count,
            Coaches::Unknown | Coaches::Oneself => 0,
        });
        self.out.insert(first, Outgoing::Reply(reply));
    }

    /// The stop for programs: of the exercise named, else of the one at hand where it is held.
    fn advice_with(&self, report: &Report) -> Option<crate::bot::advice_data::AdviceData> {
        let catalogue = self.view.catalogue();
        let named = report
            .exercise
            .as_deref()
            .and_then(|name| catalogue.named(name));
        let filed = self.view.last().map(|filed| filed.set.exercise);
        let id = named
            .or_else(|| self.at_hand())
            .or(filed)
            .filter(|&id| self.is_held(id))?;
        let advice = self.stopped(id);
        Some(text::advice_data(
            &advice,
            catalogue.exercise(id),
            self.view.unit(),
        ))
    }

    fn stops<'b>(&'b self, report: &'b Report) -> Stops<'b> {
        if report.withholds_all(self.view.now) {
            return Stops::All;
        }
        match (text::hurt::places(report), report.exercise.as_deref()) {
            (Some(places), _) => Stops::Place(places, self.names_held(report)),
            (None, Some(exercise)) => Stops::Exercise(exercise),
            (None, None) => Stops::All,
        }
    }

    /// Exercises of today's plan and session that a report holds back, the first few.
    fn names_held<'b>(&'b self, report: &'b Report) -> Vec<&'b str> {
        let catalogue = self.view.catalogue();
        let holds = |&id: &ExerciseId| report.withholds(catalogue.exercise(id), self.view.now);
        let planned = self.followed().into_iter().flat_map(|day| day.items());
        let planned = planned.map(|item| item.exercise);
        let done = self.session().iter().map(|filed| filed.set.exercise);
        let mut names: Vec<&str> = report.exercise.as_deref().into_iter().collect();
        for id in done.chain(planned).filter(holds) {
            let name = self.view.name_of(id);
            if !names.contains(&name) && names.len() < NAMED {
                names.push(name);
            }
        }
        names
    }

    /// Writes to every coach but the member and these, in private.
    pub(crate) fn tell_coaches(&mut self, text: &str, but: &[MemberId]) -> Coaches {
        let coaches = self.other_coaches();
        let coaches = coaches.filter(|coach| !but.contains(&coach.id));
        let coaches: Vec<String> = coaches.map(|coach| coach.author.clone()).collect();
        let count = coaches.len();
        for coach in coaches {
            self.tell_privately(coach, text.to_owned(), text::hurt::UNREACHED);
        }
        match count {
            0 if self.member.coach => Coaches::Oneself,
            0 => Coaches::Unknown,
            count => Coaches::Told(count),
        }
    }

    /// Tells a coach who writes here for the first time which reports are open: nobody may have been
    /// there to be told of them. `sees` says that the answer shows them.
    pub(crate) fn tell_new_coach(&mut self, sees: bool) {
        let state = &self.member.state;
        let is_new = self.member.coach && !state.told_of_reports && self.source.answers.is_some();
        let erased = self
            .changes
            .iter()
            .any(|one| matches!(one, Change::Erase(_)));
        if !is_new || erased {
            return;
        }
        self.member.state.told_of_reports = true;
        if sees {
            return;
        }
        let own = self.member.id;
        let others = self.loaded.members.iter().filter(|one| one.id != own);
        let open = others.flat_map(|one| {
            let reports = one.state.hurt.iter().filter(|report| report.is_open());
            reports.map(|report| (one.name.as_str(), report))
        });
        let open: Vec<_> = open.collect();
        if !open.is_empty() {
            let text = text::hurt::to_new_coach(&open, self.view);
            let author = self.member.author.clone();
            self.tell_privately(author, text, "");
        }
    }

    /// The coaches of the team but the member.
    pub(crate) fn other_coaches(&self) -> impl Iterator<Item = &Member> {
        let own = self.member.id;
        let members = self.loaded.members.iter();
        members.filter(move |one| one.coach && one.id != own && !one.is_expected())
    }

    /// Writes to somebody of the team in private, however late; `unreached` is said in the channel
    /// where that cannot be done. Returns the id of what is written.
    pub(crate) fn tell_privately(
        &mut self,
        author: String,
        text: String,
        unreached: &str,
    ) -> String {
        let reply = Reply {
            answers: None,
            to: Some(author),
            private: true,
            text,
            late: true,
            unreached: (!unreached.is_empty()).then(|| unreached.to_owned()),
            ..self.blank()
        };
        let id = reply.id.clone();
        self.out.push(Outgoing::Reply(reply));
        id
    }

    // What stops.

    /// Whether pain holds loads for an exercise back.
    pub(crate) fn is_held(&self, exercise: ExerciseId) -> bool {
        let exercise = self.view.catalogue().exercise(exercise);
        let reports = &self.member.state.hurt;
        reports
            .iter()
            .any(|report| report.withholds(exercise, self.view.now))
    }

    /// What is said in place of any advice, while a report withholds everything.
    pub(crate) fn all_withheld(&self) -> Option<&'static str> {
        let reports = &self.member.state.hurt;
        let holds = |report: &Report| report.withholds_all(self.view.now);
        reports.iter().any(holds).then(|| match self.why_held() {
            Reason::WarningSign => text::hurt::WITHHELD,
            Reason::TalkFirst => text::hurt::TALK_FIRST,
            Reason::Helping => text::hurt::HELPING,
            _ => text::HURT,
        })
    }

    /// What is said to a question on other exercises while something is held back: nothing but that
    /// after a warning sign, else what does not load what hurts.
    pub(crate) fn spared(&self) -> Option<String> {
        if let Some(withheld) = self.all_withheld() {
            return Some(withheld.to_owned());
        }
        let catalogue = self.view.catalogue();
        let planned = self.held.plan().into_iter().flat_map(Plan::items);
        let planned = planned.map(|item| item.exercise);
        let done = self.session().iter().map(|filed| filed.set.exercise);
        let common = COMMON.all().iter().filter_map(|name| catalogue.named(name));
        let mut holds = false;
        let mut names: Vec<&str> = Vec::new();
        for id in planned.chain(done).chain(common) {
            let name = self.view.name_of(id);
            if self.is_held(id) {
                holds = true;
            } else if !names.contains(&name) && names.len() < NAMED {
                names.push(name);
            }
        }
        let open = self.member.state.hurt.iter().filter(|one| one.is_open());
        let open: Vec<&Report> = open.collect();
        holds.then(|| text::hurt::spared(&open, &names))
    }

    /// Whether an exercise may be done, where a report of pain is open.
    pub(crate) fn may_do(&self, exercise: ExerciseId) -> Option<String> {
        let open = self.member.state.hurt.iter().filter(|one| one.is_open());
        let open: Vec<&Report> = open.collect();
        let name = self.view.name_of(exercise);
        match self.is_held(exercise) {
            _ if open.is_empty() => None,
            true => Some(match self.all_withheld() {
                Some(withheld) => withheld.to_owned(),
                None => text::hurt::may_not(name, &self.spared().unwrap_or_default()),
            }),
            false => Some(text::hurt::may(name, &open)),
        }
    }

    /// What was done since of what open reports hold back, by exercise, with how many sets.
    pub(crate) fn trained_anyway<'s>(
        &self,
        member: &Member,
        sets: impl IntoIterator<Item = &'s LoggedSet>,
    ) -> Option<String> {
        let mut done: Vec<(&str, u32)> = Vec::new();
        for set in sets {
            let exercise = self.view.catalogue().exercise(set.exercise);
            let holds =
                |report: &Report| report.at < set.at && report.withholds(exercise, self.view.now);
            if !member.state.hurt.iter().any(holds) {
                continue;
            }
            match done.iter_mut().find(|(name, _)| *name == exercise.name) {
                Some((_, count)) => *count += 1,
                None => done.push((&exercise.name, 1)),
            }
        }
        (!done.is_empty()).then(|| text::hurt::trained_anyway(&done))
    }

    /// Why loads are withheld: the gravest of the reports that withhold them.
    fn why_held(&self) -> Reason {
        let now = self.view.now;
        let reports = self.member.state.hurt.iter();
        let signs = reports.filter(|report| report.withholds_all(now));
        let signs = signs.filter_map(Report::sign);
        signs.fold(Reason::Hurt, |why, sign| match sign {
            WarningSign::Bystander if why == Reason::Hurt => Reason::Helping,
            WarningSign::Suicide if why != Reason::WarningSign => Reason::TalkFirst,
            WarningSign::Bystander | WarningSign::Suicide => why,
            _ => Reason::WarningSign,
        })
    }

    /// No load because of pain.
    pub(crate) fn stopped(&self, exercise: ExerciseId) -> Advice {
        Advice {
            reason: self.why_held(),
            ..stop(exercise)
        }
    }

    fn bell_is_held(&self) -> bool {
        let waits = self.view.bell.map(|bell| bell.exercise.as_str());
        let rung = self.member.state.rung.as_ref();
        let names = waits
            .into_iter()
            .chain(rung.map(|rung| rung.exercise.as_str()));
        names
            .filter_map(|name| self.view.catalogue().named(name))
            .any(|id| self.is_held(id))
    }

    /// Changes the cards that stand: those of exercises that are held say so, the one at hand names
    /// nothing held as next, and all of today's say what their loads take no account of.
    pub(crate) fn stop_cards(&mut self) {
        let cards: Vec<(String, Card)> = self.member.state.cards.clone().into_iter().collect();
        for (name, card) in cards {
            let Some(id) = self.view.catalogue().named(&name) else {
                continue;
            };
            let is_card = |one: &Outgoing| match one {
                Outgoing::Reply(reply) | Outgoing::Update(reply) => reply.id == card.reply,
                Outgoing::Mark(_) => false,
            };
            let at_hand = self.at_hand() == Some(id);
            let current = card.day == self.view.today() && (at_hand || self.fresh_caution);
            if self.out.iter().any(is_card) || !(self.is_held(id) || current) {
                continue;
            }
            self.show_on(id, card);
        }
    }

    fn show_on(&mut self, exercise: ExerciseId, card: Card) {
        let advice = self.advise(exercise);
        let more = match self.is_held(exercise) {
            true => Vec::new(),
            false => self.what_follows(&advice),
        };
        let content = self.card_content(&advice, &more);
        self.out.push(Outgoing::Update(Reply {
            id: card.reply,
            channel: card.channel,
            answers: None,
            ..content
        }));
    }

    // The question.

    fn ask_whether_it_hurts(&mut self, hurt: &Hurt, words: &str, sets: &[SetReading]) {
        let mut report = self.reported(hurt, words, sets);
        // Asked once more about the same, the later words stand.
        self.close_hurt_questions(|asked| {
            let same = !report.message.is_empty() && asked.report.message == report.message;
            same || asked.report.is_within(&report)
        });
        report.number = self.member.state.next_report();
        let reply = Reply {
            text: match report.sign() {
                Some(_) => text::hurt::IS_IT_A_SIGN.to_owned(),
                None => text::hurt::DOES_IT.to_owned(),
            },
            buttons: vec![
                ButtonId::Hurts(true).labelled(text::hurt::YES),
                ButtonId::Hurts(false).labelled(text::hurt::NO),
            ],
            late: true,
            ..self.blank()
        };
        if sets.is_empty()
            && let Some(message) = self.source.answers.clone()
        {
            self.mark(&message, Sign::Question);
        }
        let asked = &mut self.member.state.hurt_asked;
        asked.push(HurtAsked {
            reply: reply.id.clone(),
            report,
        });
        let over = asked.len().saturating_sub(MOST_ASKED);
        let over: Vec<u32> = asked
            .iter()
            .take(over)
            .map(|one| one.report.number)
            .collect();
        self.close_hurt_questions(|asked| over.contains(&asked.report.number));
        self.out.push(Outgoing::Reply(reply));
    }

    /// The open question that this reply asks is answered.
    pub(crate) fn hurt_answered(&mut self, yes: bool, reply: &str) {
        let asked = self.member.state.hurt_asked.iter();
        let mut asked = asked.filter(|asked| asked.reply == reply);
        let Some(asked) = asked.next().cloned() else {
            return;
        };
        self.close_hurt_questions(|one| one.reply == reply);
        if yes {
            let (report, beside) = Report {
                at: self.view.now,
                ..asked.report
            }
            .apart();
            let beside = beside.map(|one| Report { number: 0, ..one });
            self.take(report, beside);
            self.stop_cards();
        }
    }

    /// Takes these open questions back.
    pub(crate) fn close_hurt_questions(&mut self, closes: impl Fn(&HurtAsked) -> bool) {
        let asked = std::mem::take(&mut self.member.state.hurt_asked);
        let (closed, open): (Vec<_>, Vec<_>) = asked.into_iter().partition(closes);
        self.member.state.hurt_asked = open;
        for asked in closed {
            self.out.push(Outgoing::Update(Reply {
                id: asked.reply,
                channel: asked.report.channel,
                ..self.unnumbered()
            }));
        }
    }

    // Taking back.

    /// The report that the member can still say was none: the latest of the last hour.
    pub(crate) fn report_to_take_back(&self) -> Option<&Report> {
        let last =
            self.member.state.hurt.iter().rev().find(|report| {
                report.denied.is_none() && Some(report.number) != self.fresh_report
            })?;
        (self.view.now - last.at <= TAKEN_BACK_WITHIN).then_some(last)
    }

    /// The member says that a report was none; that is kept, and coaches are told.
    pub(crate) fn take_back_report(&mut self, number: u32) {
        let now = self.view.now;
        let fresh =
            |report: &Report| report.denied.is_none() && now - report.at <= TAKEN_BACK_WITHIN;
        let mut reports = self.member.state.hurt.iter();
        let Some(meant) = reports
            .find(|one| one.number == number && fresh(one))
            .cloned()
        else {
            self.tell(text::hurt::NOTHING_TO_TAKE_BACK);
            return;
        };
        // What was told in one message is taken back together.
        let mut report = meant.clone();
        for one in &mut self.member.state.hurt {
            let same = !meant.reply.is_empty() && one.reply == meant.reply && fresh(one);
            if one.number == number || same {
                one.denied = Some(now);
                if one.sign.is_some() || one.number == number && report.sign.is_none() {
                    report = one.clone();
                }
            }
        }
        let reports = &self.member.state.hurt;
        let others = reports.iter().any(Report::is_open);
        self.say(match report.sign() {
            None if others => text::hurt::ONE_TAKEN_BACK,
            None => text::hurt::TAKEN_BACK,
            Some(WarningSign::Bystander) if others => text::hurt::HELP_TAKEN_BACK,
            Some(WarningSign::Bystander) => text::hurt::HELP_TAKEN_BACK_AND_LOADS,
            Some(WarningSign::Suicide) => text::hurt::NOT_MEANT,
            Some(_) => text::hurt::SIGN_TAKEN_BACK,
        });
        let to_coach = text::hurt::taken_back_to_coach(&self.member.name, &report, others);
        self.tell_coaches(&to_coach, &[]);
        self.free_cards(&report);
    }

    /// Says who can clear the member; where they say that a doctor has, coaches are told.
    pub(crate) fn about_clearing(&mut self, cleared: Cleared, words: &str) {
        let coaches = match cleared {
            Cleared::Asked => None,
            Cleared::Claimed => {
                let text = text::hurt::says_cleared_to_coach(&self.member.name);
                Some(self.tell_coaches(&text, &[]))
            }
            Cleared::Well => {
                let text = text::hurt::says_well_to_coach(&self.member.name, words);
                Some(self.tell_coaches(&text, &[]))
            }
        };
        let open = self.member.state.hurt.iter();
        let sign = open.filter(|one| one.is_open()).any(Report::is_sign);
        let others: Vec<String> = self.other_coaches().map(|one| one.name.clone()).collect();
        let ways = text::hurt::who_clears(&others, sign, coaches);
        // Beside a sign that can be taken back yet, that way, too.
        let button = self.report_to_take_back().filter(|report| report.is_sign());
        let lines = (self
            .all_withheld()
            .filter(|_| sign)
            .into_iter()
            .map(str::to_owned))
        .chain([ways])
        .chain(button.map(|_| text::hurt::OR_NO_REPORT.to_owned()));
        self.tell(lines.collect::<Vec<_>>().join("\n"));
    }

    /// Shows cards of today anew that only this report held.
    fn free_cards(&mut self, report: &Report) {
        let today = self.view.today();
        let cards = self.member.state.cards.clone().into_iter();
        let cards: Vec<(String, Card)> = cards.filter(|(_, card)| card.day == today).collect();
        let held = Report {
            denied: None,
            ..report.clone()
        };
        for (name, card) in cards {
            let Some(id) = self.view.catalogue().named(&name) else {
                continue;
            };
            let of = self.view.catalogue().exercise(id);
            if held.withholds(of, self.view.now) && !self.is_held(id) {
                self.show_on(id, card);
            }
        }
    }

    // What belongs to a licensed professional.

    fn note_caution(&mut self, caution: Caution, asked: bool, urgent: bool) {
        let (word, at) = (caution.word().to_owned(), self.view.now);
        let cautions = &mut self.member.state.cautions;
        cautions.retain(|one| one.caution != word);
        cautions.push(ReportedCaution { caution: word, at });
        self.fresh_caution = true;
        if urgent {
            return;
        }
        let mut text = text::hurt::pointer(caution);
        if asked {
            let no_load = match caution.is_illness() {
                true => text::hurt::NO_LOAD_NOW,
                false => text::hurt::NO_LOAD_FOR_THAT,
            };
            text = format!("{text} {no_load}");
        }
        let reply = Reply {
            text,
            late: true,
            ..self.blank()
        };
        self.out.push(Outgoing::Reply(reply));
    }

    /// The line under loads that take no account of what the member told.
    pub(crate) fn not_tailored(&self) -> Option<String> {
        let cautions: Vec<Caution> = self.cautions().collect();
        (!cautions.is_empty()).then(|| text::hurt::not_tailored(&cautions))
    }

    fn cautions(&self) -> impl Iterator<Item = Caution> {
        let now = self.view.now;
        self.member.state.cautions.iter().filter_map(move |one| {
            let caution = Caution::from_word(&one.caution)?;
            (now - one.at < lasts(caution)).then_some(caution)
        })
    }

    /// Whether the member told of an illness not long ago.
    pub(crate) fn is_ill(&self) -> bool {
        self.cautions().any(Caution::is_illness)
    }

    /// What was told last was no such thing.
    pub(crate) fn take_back_caution(&mut self) {
        self.member.state.cautions.pop();
        self.fresh_caution = true;
        self.say(text::hurt::CAUTION_TAKEN_BACK);
        self.stop_cards();
    }
}
