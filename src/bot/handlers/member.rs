//! Commands of members, and the week.

use serde_json::{Value, json};

use super::work::Work;
use crate::bot::figure;
use crate::bot::intent::WEEKS_BEFORE;
use crate::bot::reply::File;
use crate::bot::state::view::{View, rack_of};
use crate::bot::state::{LogEntry, RackData};
use crate::bot::text;
use crate::domain::advice::next_set::{Advice, grounds};
use crate::domain::coaching::adherence::done_by_exercise;
use crate::domain::coaching::progress::course;
use crate::domain::coaching::week::{self, WeeklyVolume};
use crate::domain::quantities::calendar::Week;
use crate::domain::quantities::id::MuscleId;
use crate::domain::quantities::mass::{Mass, Unit};
use crate::domain::quantities::rack::Rack;
use crate::message::forms::command::{Amount, Bells, Command, RackCommand, Which};

impl Work<'_> {
    /// Carries out a slash word.
    pub(crate) fn obey(&mut self, command: &Command) {
        match command {
            Command::Next { exercise, why } => self.next(exercise.as_deref(), *why),
            Command::Rest(bells) => self.rest(*bells),
            Command::Week(None, Which::This) => self.answer_week(),
            Command::Week(None, which) => self.put_own_week(self.week_named(*which)),
            Command::Week(Some(name), which) => self.week_of(name, self.week_named(*which)),
            Command::Volume(muscle) => self.volume(muscle.as_deref()),
            Command::Plan(order) => self.plan(order),
            Command::Block(order) => self.block(order),
            Command::Target(order) => self.target(order),
            Command::Today(weekday) => self.today(*weekday),
            Command::Fit { minutes, pairs } => self.fit(*minutes, *pairs),
            Command::WarmUp(exercise) => self.warm_up(exercise.as_deref()),
            Command::Team(which) => self.team(self.week_named(*which)),
            Command::Accuracy(name) => self.accuracy(name.as_deref()),
            Command::Attention(command) => self.attention(command),
            Command::Review { member, weeks } => self.review(member.as_deref(), *weeks),
            Command::Note(command) => self.note(command),
            Command::Undo => self.undo(),
            Command::Units(unit) => self.units(*unit),
            Command::Rack(command) => self.rack(command),
            Command::Bodyweight(mass) => self.bodyweight(*mass),
            Command::Experience(months) => self.experience(*months),
            Command::Export => self.export(),
            Command::Forget(sure) => self.forget(*sure),
            // A coach's is taken over outside of the transaction.
            Command::Import { .. } => drop(self.is_coach()),
            Command::Help(about) => self.help(about.as_deref()),
            Command::History(text) => self.history(text.as_deref()),
            Command::Summary(command) => self.summary(*command),
            Command::Best(text) => self.best(text.as_deref()),
            Command::Clear { member, exercise } => self.clear(member, exercise.as_deref()),
            Command::Catalogue(command) => self.catalogue(command),
            Command::Digest(command) => self.digest(*command),
            Command::Settings(setting) => self.settings(setting.as_ref()),
            Command::Misused(line) => self.tell(text::help::misused(line)),
            Command::Unknown(word, nearest) => {
                self.tell(text::unknown_command(word, *nearest));
            }
        }
    }

    pub(crate) fn next(&mut self, exercise: Option<&str>, why: bool) {
        let exercise = match exercise {
            None => self.at_hand(),
            Some(name) => match self.view.reader.names().named(name) {
                Some(exercise) => Some(exercise),
                None => {
                    self.tell(text::unknown_exercise(name));
                    return;
                }
            },
        };
        let Some(exercise) = exercise else {
            self.say(text::NO_SET_YET);
            return;
        };
        let advice = self.advise(exercise);
        self.reply_with(&advice);
        if why && !self.is_held(exercise) {
            self.tell_with(
                self.numbers_behind(&advice),
                None,
                self.picture_of(exercise),
            );
        }
    }

    pub(crate) fn numbers_behind(&self, advice: &Advice) -> String {
        let exercise = advice.exercise;
        let Some(belief) = self.model.beliefs.get(&exercise) else {
            return text::NO_NUMBERS.to_owned();
        };
        let lifter = self.view.lifter();
        let population = lifter.population(self.view.catalogue().exercise(exercise));
        let change = course(belief, &self.model.condition, &population).change;
        let strength = text::numbers_behind(
            self.view.name_of(exercise),
            belief.sets(),
            belief.one_rm(),
            change,
            self.view.unit(),
        );
        match self.ask(exercise, |ask| grounds(ask, advice)) {
            Some(grounds) => format!("{strength}\n{}", text::grounds(&grounds, advice)),
            None => strength,
        }
    }

    pub(crate) fn rest(&mut self, bells: Option<Bells>) {
        let Some(bells) = bells else {
            self.next(None, false);
            return;
        };
        self.member.profile.silent = bells == Bells::Off;
        self.member.profile.bell_private = bells == Bells::Private;
        if bells == Bells::Off {
            self.cancel_bell();
        }
        self.tell(text::bells::set(bells));
    }

    fn units(&mut self, unit: Option<Unit>) {
        if let Some(unit) = unit {
            self.member.profile.unit = Some(unit.symbol().to_owned());
        }
        let unit = unit.unwrap_or_else(|| self.view.unit());
        self.tell(text::unit(unit));
    }

    fn bodyweight(&mut self, mass: Option<Amount>) {
        let Some(stated) = mass else {
            let text = self.view.body_mass().map_or_else(
                || text::NO_BODY_MASS.to_owned(),
                |mass| text::body_mass(mass, self.view.unit()),
            );
            self.tell(text);
            return;
        };
        let unit = stated.unit.unwrap_or_else(|| self.view.unit());
        let plausible = |mass: &Mass| (LIGHTEST_BODY..=HEAVIEST_BODY).contains(mass);
        let Some(mass) = Mass::new(stated.value, unit).ok().filter(plausible) else {
            self.tell(text::UNLIKELY_BODY_MASS);
            return;
        };
        let today = self.view.today();
        let profile = &mut self.member.profile;
        profile.body_mass = Some(mass.tenth_micrograms());
        profile.masses.insert(today, mass.tenth_micrograms());
        while profile.masses.len() > MOST_MASSES {
            profile.masses.pop_first();
        }
        self.relearn_if_any();
        self.tell(text::body_mass(mass, unit));
    }

    fn experience(&mut self, months: Option<u32>) {
        if let Some(months) = months {
            self.member.profile.experience = Some((months, self.view.today()));
            self.relearn_if_any();
        }
        let stated = self.member.profile.experience.map(|(months, _)| months);
        self.tell(text::experience(stated));
    }

    /// What the model starts from changed: everything is learned again.
    fn relearn_if_any(&mut self) {
        if !self.loaded.history.is_empty() {
            let log = self.loaded.history.clone();
            self.relearn(&log);
        }
    }

    // The rack.

    pub(crate) fn rack(&mut self, command: &RackCommand) {
        if let RackCommand::At(place, has) = command {
            self.go_to(place);
            if has.is_empty() {
                let name = text::place(self.member.profile.place.as_deref());
                let rack = self.member.profile.rack.as_ref();
                let rack = rack.and_then(|data| rack_of(data).ok());
                let rack = rack.unwrap_or_else(|| Rack::usual(self.view.unit()));
                self.tell(format!("{name} {}", text::rack(&rack)));
                return;
            }
            self.rack(&RackCommand::Several(has.clone()));
            return;
        }
        let own = self.member.profile.rack.clone();
        let mut data = own.unwrap_or_else(|| unchanged(self.view.unit()));
        change(&mut data, command, self.view.unit());
        match rack_of(&data) {
            Ok(rack) => {
                self.tell(text::rack(&rack));
                let usual = data == unchanged(self.view.unit());
                self.member.profile.rack = (!usual).then_some(data);
            }
            Err(fault) => self.tell(text::no_rack(&fault)),
        }
    }

    /// The member is at a place from now on: its equipment is taken out, that of the place before is
    /// put away. `home`, `usual` and `usual gym` are where one began.
    pub(crate) fn go_to(&mut self, place: &str) {
        let profile = &mut self.member.profile;
        let place = match place {
            "home" | "usual" | "usual place" | "back home" => "",
            place => place,
        };
        let before = profile.place.take().unwrap_or_default();
        if before != place {
            let rack = profile.rack.take();
            profile.places.insert(before, rack);
            profile.rack = profile.places.remove(place).flatten();
            while profile.places.len() > MOST_PLACES {
                profile.places.pop_last();
            }
        }
        profile.place = (!place.is_empty()).then(|| place.to_owned());
    }

    // The week.

    pub(crate) fn answer_week(&mut self) {
        let tally = self.tally(self.view);
        let week = self.view.calendar.week_of(self.view.today());
        let before = self.weeks_before(self.view, week);
        let figure = figure::week(None, week, &tally, &before, self.view.catalogue());
        self.say_week(text::YOUR_WEEK, &tally, &[], vec![figure.into_file()]);
    }

    /// What the last weeks before came to, of whomever the loaded days are, the oldest first.
    pub(crate) fn weeks_before(&self, view: &View, week: Week) -> Vec<WeeklyVolume> {
        let ago = (1..=WEEKS_BEFORE).rev().map(chrono::Duration::weeks);
        ago.map(|ago| {
            let week = self.view.calendar.week_of(week.first_day() - ago);
            let days = self.loaded.days.iter();
            let days: Vec<&LogEntry> = days.filter(|f| week.contains(f.set.day)).collect();
            self.tally_of(view, &days, week)
        })
        .collect()
    }

    pub(crate) fn answer_volume(&mut self, muscles: &[MuscleId]) {
        let tally = self.tally(self.view);
        self.say_week(text::YOUR_WEEK, &tally, muscles, Vec::new());
    }

    fn volume(&mut self, muscle: Option<&str>) {
        let catalogue = self.view.catalogue();
        let muscles: Vec<MuscleId> = muscle
            .into_iter()
            .flat_map(|name| catalogue.muscles_named(name))
            .collect();
        match muscle {
            Some(name) if muscles.is_empty() => {
                let unknown = text::unknown_muscle(name, catalogue);
                self.tell(unknown);
            }
            _ => self.answer_volume(&muscles),
        }
    }

    /// The sets of the week among those loaded, and those of it that this event filed, as the status
    /// of the member they are of has it. Effort that was not stated was judged by the belief when
    /// the set was learned.
    pub(crate) fn tally(&self, view: &View) -> WeeklyVolume {
        let (week, days) = self.days_of_this_week(view);
        self.tally_of(view, &days, week)
    }

    /// The same against the published bands and those of the coach alone.
    pub(crate) fn tally_in_bands(&self, view: &View) -> WeeklyVolume {
        let (week, days) = self.days_of_this_week(view);
        let mut tally = self.added_up(view, &days);
        self.held_by(view.member, week).put_bands(&mut tally);
        tally
    }

    fn days_of_this_week(&self, view: &View) -> (Week, Vec<&LogEntry>) {
        let week = view.calendar.week_of(view.today());
        let new = self
            .filed_now()
            .filter(|filed| week.contains(filed.set.day));
        let in_week = self.loaded.days.iter().filter(|f| week.contains(f.set.day));
        (week, in_week.chain(new).collect())
    }

    fn added_up(&self, view: &View, sets: &[&LogEntry]) -> WeeklyVolume {
        let judged = sets.iter().map(|filed| (&filed.set, filed.judged));
        week::tally(judged, self.view.catalogue(), view.status())
    }

    /// What sets of a week add up to, as the status and the aims of the member have it.
    pub(crate) fn tally_of(&self, view: &View, sets: &[&LogEntry], week: Week) -> WeeklyVolume {
        let mut tally = self.added_up(view, sets);
        let done = done_by_exercise(sets.iter().map(|filed| &filed.set));
        self.held_by(view.member, week).put_aims(
            &mut tally,
            &self.sessions_of(view.member, week),
            &done,
            (week, self.view.today()),
            self.view.catalogue(),
        );
        tally
    }

    /// A week as a table, with its numbers.
    pub(crate) fn say_week(
        &mut self,
        title: &str,
        tally: &WeeklyVolume,
        muscles: &[MuscleId],
        files: Vec<File>,
    ) {
        let week = self.view.calendar.week_of(self.view.today());
        let mut text = text::week(title, week, tally, self.view.catalogue(), muscles);
        let (_, days) = self.days_of_this_week(self.view);
        if let Some(line) = self.plan_line(self.view.member, week, &days) {
            text.push_str(&format!("\n{line}"));
        }
        let data = week_data(self.view, week, tally);
        self.tell_with(text, Some(data), files);
    }
}

/// The numbers behind a week, as the pipe has them.
pub(crate) fn week_data(view: &View, week: Week, tally: &WeeklyVolume) -> Value {
    let muscles: Vec<Value> = tally
        .muscles
        .iter()
        .map(|line| {
            json!({
                "muscle": view.catalogue().muscle(line.muscle).name,
                "counted": line.counted,
                "direct": line.direct,
                "low": line.band.low,
                "high": line.band.high,
                "aim": text::aim_word(line.aim),
                "planned": line.planned,
                "ends_at": line.ends_at(),
            })
        })
        .collect();
    let not_counted: Vec<Value> = tally
        .not_counted
        .iter()
        .map(|(why, n)| json!({ "why": text::why_not(*why), "n": n }))
        .collect();
    json!({
        "week": week.to_string(),
        "from": week.first_day().to_string(),
        "to": week.last_day().to_string(),
        "muscles": muscles,
        "sets": tally.sets,
        "not_counted": not_counted,
    })
}

/// Body masses that are kept: one a week for two years.
const MOST_MASSES: usize = 104;

/// A stated body mass outside this is a slip. Common practice, no source.
const LIGHTEST_BODY: Mass = Mass::from_grams(30_000);
const HEAVIEST_BODY: Mass = Mass::from_grams(300_000);

/// Places that are kept of a member.
const MOST_PLACES: usize = 8;

/// The usual gym.
fn unchanged(unit: Unit) -> RackData {
    RackData {
        unit: unit.symbol().to_owned(),
        ..RackData::default()
    }
}

/// Puts what was said of the equipment into it; `unit` is the member's own.
fn change(data: &mut RackData, command: &RackCommand, unit: Unit) {
    match command {
        RackCommand::Show => {}
        RackCommand::Usual => *data = unchanged(unit),
        RackCommand::Bar(bar) => {
            speak(data, bar.unit);
            data.bar = Some(bar.value);
        }
        RackCommand::Discs(discs, unit) => {
            speak(data, *unit);
            data.discs = Some(discs.clone());
        }
        RackCommand::Dumbbells([first, step, last], unit) => {
            speak(data, *unit);
            data.dumbbells = Some((*first, *step, *last));
        }
        RackCommand::Stack([first, step, last], unit) => {
            speak(data, *unit);
            data.stack = Some((*first, *step, *last));
        }
        RackCommand::At(..) => {}
        RackCommand::Several(commands) => {
            for command in commands {
                change(data, command, unit);
            }
        }
    }
}

/// Numbers in another unit begin a rack of that unit.
fn speak(data: &mut RackData, unit: Option<Unit>) {
    if let Some(unit) = unit
        && data.unit != unit.symbol()
    {
        *data = unchanged(unit);
    }
}
