//! Slash commands: what is registered, and how a given one reads as a typed line.
//!
//! The bot reads one kind of command: a line that begins with a slash. So a slash command is turned
//! into that line, and who may give it is decided where it always is. The words of commands and
//! options are in [`crate::bot::text::slash`].

use serde_json::{Value, json};

use super::wire::{Data, Given};
use crate::bot::text::slash::{ALL, BIND, COACH_ROLE, FILE, Opt, Part, Says, Slash, Takes, UNBIND};
use crate::message::forms::command::USAGE;

/// Members who may manage the community see the coaches' commands until its managers choose
/// otherwise. *topics/permissions#permissions-bitwise-permission-flags*.
pub const MANAGE_GUILD: u64 = 1 << 5;
/// May do everything. The same page.
pub const ADMINISTRATOR: u64 = 1 << 3;

/// What a given command asks for.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Order {
    /// This line, as if typed.
    Line(String),
    /// A form for the rest of this line.
    Form(String),
    /// This line, and below it the text of the attached file with this id.
    WithFile(String, String),
    /// Bind this channel, or the one it is given in.
    Bind(Option<u64>),
    /// Let it go.
    Unbind(Option<u64>),
    /// This role is the coaches'.
    CoachRole(u64),
}

/// The commands to register, as the platform takes them, all at once.
pub fn registered() -> Value {
    let known = |slash: &&Slash| USAGE.iter().any(|(word, _)| *word == slash.word);
    ALL.iter().filter(known).map(command).collect()
}

fn command(slash: &Slash) -> Value {
    let options: Vec<Value> = if slash.parts.is_empty() {
        slash.options.iter().map(option).collect()
    } else {
        slash.parts.iter().map(part).collect()
    };
    let mut command = json!({
        "name": slash.word,
        "type": 1,
        "description": slash.about,
        "options": options,
    });
    if slash.coach {
        // A number going in, by the platform's published description; text coming out.
        command["default_member_permissions"] = json!(MANAGE_GUILD);
        // `contexts`, which is to replace it, takes no value at all by that description: the types
        // of its items are a choice of nothing.
        command["dm_permission"] = json!(false);
    }
    command
}

fn part(part: &Part) -> Value {
    json!({
        "type": 1,
        "name": part.word,
        "description": part.about,
        "options": part.options.iter().map(option).collect::<Vec<_>>(),
    })
}

/// *interactions/application-commands#application-command-object-application-command-option-type*.
fn option(opt: &Opt) -> Value {
    let kind = match opt.takes {
        Takes::Text
        | Takes::Exercise
        | Takes::Muscle
        | Takes::Member
        | Takes::MemberOrTeam
        | Takes::OneOf(_) => 3,
        Takes::Whole => 4,
        Takes::Flag => 5,
        Takes::Channel => 7,
        Takes::Role => 8,
        Takes::Number => 10,
        Takes::File => 11,
    };
    let mut option = json!({
        "type": kind,
        "name": opt.name,
        "description": opt.about,
        "required": opt.required,
    });
    match opt.takes {
        Takes::OneOf(words) => {
            option["choices"] = words
                .iter()
                .map(|word| json!({ "name": word, "value": word }))
                .collect();
        }
        Takes::Exercise | Takes::Muscle | Takes::Member | Takes::MemberOrTeam => {
            option["autocomplete"] = json!(true);
        }
        Takes::Whole => option["min_value"] = json!(1),
        Takes::Number => option["min_value"] = json!(0),
        // Channels for text and news, and threads.
        Takes::Channel => option["channel_types"] = json!([0, 5, 10, 11, 12]),
        Takes::Text | Takes::Flag | Takes::Role | Takes::File => {}
    }
    option
}

/// What a given command asks for; `None` where no such command is known.
pub fn order(data: &Data, coach: bool) -> Option<Order> {
    let slash = ALL.iter().find(|slash| slash.word == data.name)?;
    let mut line = format!("/{}", slash.word);
    let (options, given) = match data.options.first() {
        Some(inner) if !slash.parts.is_empty() => {
            let part = slash.parts.iter().find(|part| part.word == inner.name)?;
            if let Some(order) = of_channel(part.word, &inner.options) {
                return Some(order);
            }
            if !part.says.is_empty() {
                line.push(' ');
                line.push_str(part.says);
            }
            (part.options, inner.options.as_slice())
        }
        _ => (slash.options, data.options.as_slice()),
    };
    for opt in options {
        say(
            opt,
            given.iter().find(|one| one.name == opt.name),
            &mut line,
        );
    }
    let shown = given
        .iter()
        .any(|one| one.name == "show" && one.value == true);
    let file = given.iter().find(|one| one.name == FILE);
    if let Some(file) = file.filter(|_| coach) {
        return Some(Order::WithFile(line, file.word()));
    }
    let for_member = given.iter().any(|one| one.name == "member");
    if (slash.word == "plan" && coach && !shown && for_member) || (slash.word == "import" && coach)
    {
        return Some(Order::Form(line));
    }
    Some(Order::Line(line))
}

/// The parts that are about the channel itself.
fn of_channel(word: &str, given: &[Given]) -> Option<Order> {
    let number = |name: &str| {
        let one = given.iter().find(|one| one.name == name)?;
        one.word().parse().ok().filter(|&id: &u64| id > 0)
    };
    match word {
        BIND => Some(Order::Bind(number("channel"))),
        UNBIND => Some(Order::Unbind(number("channel"))),
        COACH_ROLE => number("role").map(Order::CoachRole),
        _ => None,
    }
}

/// Puts what was given into the line. It stays one line: only a form has room for several.
fn say(opt: &Opt, given: Option<&Given>, line: &mut String) {
    let Some(given) = given else { return };
    let word = given.word().replace(['\n', '\r'], " ");
    if word.is_empty() {
        return;
    }
    match opt.says {
        Says::Plain => line.push_str(&format!(" {word}")),
        Says::After(key) => line.push_str(&format!(" {key} {word}")),
        Says::Before(key) => line.push_str(&format!(" {word} {key}")),
        Says::Joined(sign) => line.push_str(&format!("{sign}{word}")),
        Says::Word(key) if given.value == true => line.push_str(&format!(" {key}")),
        Says::Word(_) | Says::Unsaid => {}
    }
}

/// What is being typed right now: what it is to name, and its text so far.
pub fn typing(data: &Data) -> Option<(Takes, String)> {
    let slash = ALL.iter().find(|slash| slash.word == data.name)?;
    let own = (slash.options, data.options.as_slice());
    let inner = data.options.iter().filter_map(|inner| {
        let part = slash.parts.iter().find(|part| part.word == inner.name)?;
        Some((part.options, inner.options.as_slice()))
    });
    std::iter::once(own)
        .chain(inner)
        .find_map(|(options, given)| {
            let focused = given.iter().find(|one| one.focused)?;
            let opt = options.iter().find(|opt| opt.name == focused.name)?;
            Some((opt.takes, focused.word()))
        })
}

/// Those of `names` (what is shown, what it stands for) that fit what is typed: first those that
/// begin with it, then those with a word that does, then those that hold it.
pub fn fitting(
    names: impl Iterator<Item = (String, String)>,
    typed: &str,
) -> Vec<(String, String)> {
    let typed = typed.to_lowercase();
    let rank = |name: &str| {
        let name = name.to_lowercase();
        if name.starts_with(&typed) {
            Some(0)
        } else if name.split([' ', '-']).any(|word| word.starts_with(&typed)) {
            Some(1)
        } else if name.contains(&typed) {
            Some(2)
        } else {
            None
        }
    };
    let mut fitting: Vec<_> = names
        .filter_map(|pair| Some((rank(&pair.0)?, pair)))
        .collect();
    fitting.sort();
    fitting.dedup();
    fitting
        .into_iter()
        .map(|(_, pair)| pair)
        .take(super::limits::CHOICES)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn data(json: Value) -> Data {
        serde_json::from_value(json).expect("data of a command")
    }

    fn line(json: Value) -> String {
        match order(&data(json), false) {
            Some(Order::Line(line)) => line,
            other => panic!("no line but {other:?}"),
        }
    }

    #[test]
    fn a_command_reads_as_the_line_that_is_typed_elsewhere() {
        for (given, typed) in [
            (json!({"name": "help"}), "/help"),
            (
                json!({"name": "next", "options": [{"name": "why", "value": true}, {"name": "exercise", "value": "bench press"}]}),
                "/next bench press why",
            ),
            (
                json!({"name": "bodyweight", "options": [{"name": "mass", "value": 82.5}, {"name": "unit", "value": "kg"}]}),
                "/bodyweight 82.5 kg",
            ),
            (
                json!({"name": "experience", "options": [{"name": "years", "value": 3}]}),
                "/experience 3 years",
            ),
            (
                json!({"name": "rack", "options": [{"name": "show", "type": 1}]}),
                "/rack",
            ),
            (
                json!({"name": "rack", "options": [{"name": "dumbbells", "type": 1, "options": [
                    {"name": "lightest", "value": 2}, {"name": "heaviest", "value": 40}, {"name": "step", "value": 2}]}]}),
                "/rack dumbbells 2-40 step 2",
            ),
            (
                json!({"name": "catalogue", "options": [{"name": "add", "type": 1, "options": [
                    {"name": "name", "value": "log press"}, {"name": "like", "value": "overhead press"},
                    {"name": "target", "value": "shoulders"}]}]}),
                "/catalogue add log press like overhead press target shoulders",
            ),
            (
                json!({"name": "settings", "options": [{"name": "zone", "type": 1, "options": [{"name": "name", "value": "Europe/Berlin"}]}]}),
                "/settings zone Europe/Berlin",
            ),
        ] {
            assert_eq!(line(given.clone()), typed, "{given}");
            let read = crate::message::forms::command::read(typed);
            let understood = !matches!(
                read,
                None | Some(
                    crate::message::forms::command::Command::Misused(_)
                        | crate::message::forms::command::Command::Unknown(..)
                )
            );
            assert!(understood, "{typed} is read as {read:?}");
        }
    }

    #[test]
    fn a_line_break_in_an_option_stays_in_its_line() {
        let given = json!({"name": "clear", "options": [{"name": "member", "value": "a\n/settings zone UTC"}]});
        assert_eq!(line(given), "/clear a /settings zone UTC");
    }

    #[test]
    fn binding_and_roles_are_the_channels_own() {
        let bind = data(json!({"name": "settings", "options": [{"name": "bind", "type": 1}]}));
        assert_eq!(order(&bind, true), Some(Order::Bind(None)));
        let role = data(
            json!({"name": "settings", "options": [{"name": "coach-role", "type": 1, "options": [{"name": "role", "value": "77"}]}]}),
        );
        assert_eq!(order(&role, true), Some(Order::CoachRole(77)));
        assert_eq!(order(&data(json!({"name": "dance"})), true), None);
    }

    #[test]
    fn a_coach_who_names_a_member_gets_a_form_for_the_plan() {
        let plan = data(json!({"name": "plan", "options": [{"name": "member", "value": "42"}]}));
        assert_eq!(order(&plan, true), Some(Order::Form("/plan 42".to_owned())));
        assert_eq!(
            order(&plan, false),
            Some(Order::Line("/plan 42".to_owned()))
        );
    }

    #[test]
    fn names_that_begin_with_what_is_typed_come_first() {
        let names = [
            "leg press",
            "bench press",
            "press-up",
            "overhead press",
            "squat",
        ];
        let pairs = names
            .iter()
            .map(|name| ((*name).to_owned(), (*name).to_owned()));
        let shown: Vec<_> = fitting(pairs, "Pre")
            .into_iter()
            .map(|(shown, _)| shown)
            .collect();
        assert_eq!(
            shown,
            ["press-up", "bench press", "leg press", "overhead press"]
        );
    }
}
