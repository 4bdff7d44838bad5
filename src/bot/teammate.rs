//! Pain of another member of the team, told by one who names them: `zoe has chest pain`.
//!
//! Whether something hurts is the reader's to say: it reads the words as if the one who is named had written
//! them. What is done then stands in `handlers::teammate`.

use super::state::view::View;
use crate::message::Context;
use crate::message::reading::{Hurt, Reading};
use crate::message::words::variants::List;

/// What may be told of another: by whichever of these names they go, and what would be read of their own
/// words.
#[derive(Clone, Debug, PartialEq)]
pub struct OfAnother {
    /// Names in lower case, the longest first.
    pub names: Vec<String>,
    /// What hurts them.
    pub hurt: Hurt,
}

/// What a text tells of the pain of somebody whom it names, where it tells of none of the writer's own.
/// Whether anybody of the team goes by the name is to be seen.
pub fn of_another(view: &View, text: &str) -> Option<OfAnother> {
    let clauses: Vec<&str> = text.split(['.', ',', ';', '!', '?', '\n']).collect();
    let (place, found) = clauses
        .iter()
        .enumerate()
        .find_map(|(place, clause)| Some((place, named(clause)?)))?;
    let read = |text: &str| -> Reading { view.reader.read(text, &Context::alone(view.unit())) };
    // What follows about them belongs to it; what the writer says of themselves does not.
    let mut theirs = String::new();
    for (at, clause) in clauses.iter().enumerate() {
        if at == place {
            continue;
        }
        if speaks_of_self(clause) || at < place {
            let own = read(clause);
            if own.hurt.is_some() || own.may_hurt.is_some() {
                return None;
            }
        } else {
            theirs.push_str(", ");
            theirs.push_str(&as_own(clause));
        }
    }
    let hurt = found.said.iter().find_map(|said| {
        let whole = read(&format!("{said}{theirs}")).hurt;
        whole.or_else(|| read(said).hurt)
    })?;
    Some(OfAnother {
        names: found.names,
        hurt,
    })
}

/// A clause that tells of somebody by name.
struct Named {
    names: Vec<String>,
    /// What they may have said of themselves, the likelier words first.
    said: Vec<String>,
}

fn named(clause: &str) -> Option<Named> {
    let words: Vec<&str> = clause.split_whitespace().collect();
    let leads = words.iter();
    let leads = leads.take_while(|word| LEADS.has(&word.to_lowercase()));
    let words = words.get(leads.count()..)?;
    for length in [2, 1] {
        let (Some(name), Some(rest)) = (words.get(..length), words.get(length..)) else {
            continue;
        };
        if rest.is_empty() || speaks_of_self(&rest.join(" ")) {
            continue;
        }
        let name = name.join(" ").to_lowercase().replace('’', "'");
        let is_name = |name: &str| {
            let mut letters = name.chars();
            letters.all(|c| c.is_alphanumeric() || " -_.".contains(c)) && !NOBODY.has(name)
        };
        let plain = name.trim_start_matches(['<', '@', '!']);
        let plain = plain.trim_end_matches('>');
        if let Some(owner) = plain.strip_suffix("'s")
            && is_name(owner)
        {
            let rest = as_own(&rest.join(" "));
            return Some(Named {
                names: vec![owner.to_owned()],
                said: ["my", "i am", "i have"]
                    .map(|begins| format!("{begins} {rest}"))
                    .to_vec(),
            });
        }
        let verb = rest[0].to_lowercase().replace('’', "'");
        if !is_name(plain) || !VERBS.has(&verb) {
            continue;
        }
        let after = as_own(&rest[1..].join(" "));
        let said = match verb.as_str() {
            "has" => format!("i have {after}"),
            "is" => format!("i am {after}"),
            "isn't" | "isnt" => format!("i'm not {after}"),
            "feels" => format!("i feel {after}"),
            "hurts" => format!("i hurt {after}"),
            "needs" => format!("i need {after}"),
            "keeps" => format!("i keep {after}"),
            "says" | "said" | "reckons" | "thinks" => after,
            _ => format!("i {verb} {after}"),
        };
        return Some(Named {
            names: vec![plain.to_owned()],
            said: vec![said],
        });
    }
    None
}

/// The words about somebody as their own: `her shoulder hurts` becomes `my shoulder hurts`.
pub(crate) fn as_own(words: &str) -> String {
    let own = words.split_whitespace().map(|word| {
        match word.to_lowercase().replace('’', "'").as_str() {
            "he" | "she" | "they" => "i",
            "his" | "her" | "their" => "my",
            "him" | "them" => "me",
            "himself" | "herself" | "themselves" => "myself",
            "he's" | "she's" => "i'm",
            "they're" => "i'm",
            _ => word,
        }
        .to_owned()
    });
    own.collect::<Vec<_>>().join(" ")
}

/// Whether words are of a writer about themselves.
pub(crate) fn speaks_of_self(words: &str) -> bool {
    let words = words.to_lowercase().replace('’', "'");
    let mut words = words.split(|c: char| !c.is_alphanumeric() && c != '\'');
    words.any(|word| OWN.contains(&word))
}

/// Words of a writer about themselves.
const OWN: &[&str] = &[
    "i", "my", "me", "mine", "myself", "i'm", "im", "i've", "ive", "i'd", "i'll",
];

/// What goes before a name.
static LEADS: List = List::of(
    "help, hey, hi, guys, coach, fyi, so, and, but, now, oh, omg, i, think, our, my, mate, friend, teammate, \
     looks, like, just, heads, up, please, urgent",
);

/// What stands in a name's place and is none.
static NOBODY: List = List::of(
    "he, she, it, they, this, that, who, what, which, someone, somebody, everyone, everybody, nobody, anyone, \
     one, we, you, there, here, everything, nothing, knee, shoulder, back, neck, elbow, wrist, hip, ankle, chest, \
     arm, leg, foot, hand, head, heart, pain, today, bench, squat, deadlift",
);

/// What follows the name of somebody of whom something is told.
static VERBS: List = List::of(
    "has, had, is, isn't, isnt, was, got, just, hurt, hurts, feels, felt, says, said, reckons, thinks, needs, \
     keeps, can't, cant, cannot, couldn't, tweaked, pulled, tore, popped, snapped, strained, sprained, twisted, \
     rolled, injured, dislocated, broke, fell, fainted, collapsed, passed, blacked, hit, banged, smashed, cut, \
     dropped, threw, put, went, lost, heard, stopped, vomited, wants, might, may, almost, nearly, must, did",
);

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_before_a_verb_is_told_of_and_the_words_become_theirs() {
        for (text, name, said) in [
            ("zoe has chest pain", "zoe", "i have chest pain"),
            ("Ann's knee is bad again", "ann", "my knee is bad again"),
            ("help @zoe collapsed", "zoe", "i collapsed "),
            ("<@123> says her shoulder hurts", "123", "my shoulder hurts"),
            ("Zoe Berg hurt herself", "zoe berg", "i hurt myself"),
        ] {
            let found = named(text).unwrap();
            assert_eq!(
                (found.names[0].as_str(), found.said[0].as_str()),
                (name, said)
            );
        }
        for text in [
            "my knee hurts",
            "zoe, my knee hurts",
            "zoe says my knee is fine",
            "zoe watched me hurt my back",
            "this hurts",
            "bench 80x10",
        ] {
            assert!(named(text).is_none(), "{text}");
        }
    }
}
