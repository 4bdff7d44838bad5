//! Sentences on names of exercises of a member's own.

use super::quoted;

/// More names than are kept.
pub const TOO_MANY: &str = "You have as many names of your own as I keep. Post the exercise by the name \
that it has here: `/catalogue press` finds one.";

/// A name is kept.
pub fn kept(name: &str, offers: bool) -> String {
    let shown = quoted(name);
    let offer = match offers {
        true => "If it is one of these, press it.",
        false => "",
    };
    let text = format!(
        "I keep {shown} as an exercise of your own. Post it like `{name} 20x10, 2 left`. It counts for \
         no muscle until you or a coach say what it is, like `{name} is a barbell row`. {offer}"
    );
    text.trim_end().to_owned()
}

/// What a name of one's own stands for already.
pub fn stands_for(name: &str, is: &str) -> String {
    format!(
        "{} stands for {is}. Post it like `{name} 20x10, 2 left`.",
        quoted(name)
    )
}

/// A name stands for an exercise from now on; whose it is where it is not one's own.
pub fn mapped(name: &str, is: &str, whose: Option<&str>, sets: usize) -> String {
    let whose = whose.map_or("Your".to_owned(), |whose| format!("{whose}'s"));
    format!(
        "{whose} {} is {is} from now on.{}",
        quoted(name),
        along(sets)
    )
}

/// The same to the member whose name it is.
pub fn mapped_by_coach(name: &str, is: &str, sets: usize) -> String {
    format!(
        "Your coach says that your {} is {is}.{}",
        quoted(name),
        along(sets)
    )
}

fn along(sets: usize) -> String {
    match sets {
        0 => String::new(),
        1 => " The set logged so far counts as that, too.".to_owned(),
        sets => format!(" The {sets} sets logged so far count as that, too."),
    }
}

/// Several have a name like that, or none.
pub fn whose(name: &str, owners: &[String]) -> String {
    match owners {
        [] => no_such_name(name),
        [first, ..] => format!(
            "{} have a {}. Say whose, like `{}'s {name} is a barbell row`.",
            owners.join(" and "),
            quoted(name),
            first.to_lowercase()
        ),
    }
}

/// Nobody has a name like that.
pub fn no_such_name(name: &str) -> String {
    format!(
        "Nobody here has kept the name {}. `/catalogue names` lists those that are.",
        quoted(name)
    )
}

/// Names that are kept: the name, whose it is where it is somebody else's, and what it stands for.
pub fn list(names: &[(String, Option<String>, Option<String>)]) -> String {
    if names.is_empty() {
        return "No exercise has a name of somebody's own yet. Name one like `call this one swing \
                thing`."
            .to_owned();
    }
    let line = |(name, whose, is): &(String, Option<String>, Option<String>)| {
        let whose = whose.as_ref().map_or(String::new(), |w| format!("{w}'s "));
        match is {
            Some(is) => format!("{whose}{} is {is}", quoted(name)),
            None => format!("{whose}{}: nobody has said yet what it is", quoted(name)),
        }
    };
    let lines: Vec<String> = names.iter().map(line).collect();
    let open = names.iter().find(|(_, _, is)| is.is_none());
    let how = open.map(|(name, whose, _)| {
        let whose = whose
            .as_ref()
            .map_or(String::new(), |w| format!("{}'s ", w.to_lowercase()));
        format!("\nSay what one is, like `{whose}{name} is a barbell row`.")
    });
    format!("{}{}", lines.join("\n"), how.unwrap_or_default())
}

/// Below the list of who needs the coach: names that nobody has mapped.
pub fn to_map(count: usize) -> Option<String> {
    match count {
        0 => None,
        1 => Some("1 exercise has a name that nobody has mapped, so it does not count: `/catalogue names`.".to_owned()),
        count => Some(format!(
            "{count} exercises have names that nobody has mapped, so they do not count: `/catalogue names`."
        )),
    }
}

/// A coach adds an exercise by a name that is a member's own.
pub fn is_a_members(name: &str) -> String {
    format!(
        "{} is a member's own name, so the new exercise needs another one. Add it under that, then map \
         the member's to it, like `/catalogue map {name} to barbell row`.",
        quoted(name)
    )
}
