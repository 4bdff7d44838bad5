//! What a clause without a name says of the exercise at hand.

use super::Misfit;
use super::assemble::{Build, Draft};
use super::clauses::{Clause, Lead};
use super::facts::{Amount, Fact, Found, Load};
use super::finish::in_reserve;
use super::lex::Kind;
use super::numbers::{pair, whole};
use super::words::{ADVICE, FILLERS, SPEECH};
use crate::domain::quantities::catalogue::Basis;
use crate::message::forms::plan::FaultKind;
use crate::message::words::variants::has;

impl Build<'_> {
    /// What a clause says of the exercise at hand, or of all that follow; `of_a_name` for what stands
    /// beside the name of an exercise.
    pub(super) fn nameless(&mut self, clause: &Clause, of_a_name: bool) -> Result<(), Misfit> {
        let numbers = clause
            .facts
            .iter()
            .any(|one| !matches!(one.fact, Fact::Word | Fact::Name(_) | Fact::InTurn));
        let content = self.content(clause);
        let head = clause.head || self.items.is_empty();
        let full = clause
            .facts
            .iter()
            .any(|one| matches!(one.fact, Fact::SetsOf(..)));
        let named = clause
            .facts
            .iter()
            .any(|one| matches!(one.fact, Fact::Name(_)));
        let words = self.first_words(clause);
        let counts = |one: &Found| {
            matches!(
                one.fact,
                Fact::SetsOf(..) | Fact::Sets(_) | Fact::Amount(_) | Fact::Rounds(_)
            )
        };
        // `5 min bike, then squats`: nothing that holds for the exercises behind it.
        if self.items.is_empty() && !clause.head && content > 0 && !clause.facts.iter().any(counts)
        {
            self.note(self.text_of(&clause.facts).to_owned());
            return Ok(());
        }
        if !clause.head
            && !named
            && self.items.is_empty()
            && full
            && let Some(words) = words.clone().or_else(|| self.notes.last().cloned())
        {
            return Err(self.unknown(words));
        }
        if self.headed
            && !of_a_name
            && !head
            && !numbers
            && clause.lead == Lead::Comma
            && !self.says(clause, ADVICE)
            && let Some(words) = words
        {
            // One of a list of exercises that nobody knows.
            return Err(self.unknown(words));
        }
        if full
            && !head
            && let Some(item) = self.items.last_mut()
            && item.sets.is_none()
            && item.amount.is_some()
        {
            // `3 reps @ RPE 9, then 4x5`: one set, then others.
            let sets = match &item.amount {
                Some(Amount::List(list)) => f64::from(u32::try_from(list.len()).unwrap_or(1)),
                _ => 1.0,
            };
            item.sets = Some(pair(sets));
        }
        if !head
            && self.is_next_set(clause)
            && let Some(item) = self.items.last_mut()
        {
            // `5 reps @ 70%, 3 reps @ 80%`: a set each.
            item.sets = Some(pair(1.0));
            self.singles = true;
            self.go_on(true);
        }
        let begun = !head && self.items.last().is_some_and(|item| item.sets.is_some());
        // `10 more without bands` are repetitions of the set.
        let more = |pair: &[Found]| match pair {
            [number, word] => self.word(word) == "more" && self.number(number) >= Some(5.0),
            _ => false,
        };
        if !head && clause.facts.windows(2).any(more) && !self.says(clause, "add if when") {
            let words = self.text_of(&clause.facts).to_owned();
            return Err((words, FaultKind::UnknownWord(None)));
        }
        // Advice with numbers in it: `add 2.5 kg when all sets hit 8`, `a rep more each week till you have 3x10`.
        let told = (self.says(clause, ADVICE) && content > 0
            || content > 2 && !self.in_turn_so_far())
            && (!(full && content <= 1) || self.says(clause, "last final"));
        let loose = clause.facts.iter().any(|one| one.fact == Fact::Loose);
        let more = self.says(clause, "more");
        if !head && begun && numbers && told && (self.says(clause, ADVICE) || loose || more) {
            self.note(self.text_of(&clause.facts).to_owned());
            return Ok(());
        }
        let top_set = clause
            .facts
            .iter()
            .any(|one| matches!(one.fact, Fact::Load(Load::TopSet(_))));
        let sets = clause
            .facts
            .iter()
            .any(|one| matches!(one.fact, Fact::Sets(_)));
        if !head && self.is_next_in_a_row(clause) {
            return Ok(());
        }
        if begun && full && self.is_other_side(clause) {
            return Ok(());
        }
        if begun && full && clause.lead == Lead::Or {
            // `bodyweight 3x10, or +10 kg 3x6`: one of them is planned, the other a word to the lifter.
            self.note(format!("or {}", self.text_of(&clause.facts)));
            return Ok(());
        }
        if begun && full {
            self.other_sets(clause)?;
        }
        if !head && self.in_turn_so_far() && numbers && content > 0 && !full {
            // A station of a circuit that nobody knows is not words to the one before it.
            let words = clause.facts.iter().find(|one| one.fact == Fact::Word);
            let counts = |one: Option<&Found>| {
                one.is_some_and(|one| {
                    matches!(one.fact, Fact::Loose | Fact::Amount(_) | Fact::Time(_))
                })
            };
            let leads = counts(clause.facts.first())
                || counts(clause.facts.last()) && !self.says(clause, ADVICE);
            if let (Some(word), true) = (words, leads) {
                let words = self.text(word.from, clause.facts.last().map_or(word.to, |one| one.to));
                return Err(self.unknown(words.to_owned()));
            }
        }
        if begun && (full || (sets && top_set)) {
            self.go_on(full);
        }
        for one in &clause.facts {
            self.fact(one, clause, head)?;
        }
        self.keep_words(clause, head);
        Ok(())
    }

    /// The first words of a clause that say something.
    pub(super) fn first_words(&self, clause: &Clause) -> Option<String> {
        let says = |found: &&Found| {
            let word = self.word(found);
            found.fact == Fact::Word && word.chars().any(char::is_alphabetic) && !has(FILLERS, word)
        };
        let first = clause.facts.iter().position(|found| says(&found))?;
        // `back sqaut`: what may be the beginning of a name goes with it.
        let before = clause.facts.get(..first)?.iter().rev();
        let of_a_name = |found: &&Found| {
            found.fact == Fact::Word && matches!(self.word(found), "back" | "top" | "up" | "off")
        };
        let from = first - before.take_while(of_a_name).count();
        let run = clause.facts.get(from..)?;
        let count = run
            .iter()
            .take_while(|found| found.fact == Fact::Word)
            .count();
        Some(self.text_of(run.get(..count)?).to_owned())
    }

    /// Whether a clause holds repetitions at a load or an effort of their own, behind such without
    /// sets.
    pub(super) fn is_next_set(&self, clause: &Clause) -> bool {
        let reps = |one: &Found| matches!(one.fact, Fact::Amount(Amount::Reps(_)));
        let hard = |one: &Found| matches!(one.fact, Fact::Load(_) | Fact::Effort(_));
        let open = self.items.last().is_some_and(|item| {
            let alone = item.sets.is_none() && item.amount.is_some();
            let first = self
                .items
                .iter()
                .filter(|other| other.exercise == item.exercise)
                .count()
                > 1;
            (alone || (first && item.sets == Some(pair(1.0))))
                && (item.load.is_some() || item.effort.is_some())
        });
        open && !self.in_turn
            && self.rounds.is_none()
            && clause.facts.iter().any(reps)
            && clause.facts.iter().any(hard)
    }

    /// Repetitions that a bare number behind a name is in a circuit: `3 rounds of: push-up 10`.
    fn reps_in_a_circuit(&self, found: &Found) -> Option<u32> {
        let circuit = self.in_turn || self.rounds.is_some();
        let before = found
            .from
            .checked_sub(1)
            .and_then(|at| self.tokens.get(at))?;
        let alone = found.to == found.from + 1 && before.kind == Kind::Word && !before.is("x");
        match self.tokens.get(found.from)?.kind {
            Kind::Number(value) if circuit && alone => whole(value),
            Kind::Number(_) | Kind::Word | Kind::Sign(_) => None,
        }
    }

    /// Takes one more number of a row of sets: `12 reps, then 10, then 8`.
    fn is_next_in_a_row(&mut self, clause: &Clause) -> bool {
        let [one] = clause.facts.as_slice() else {
            return false;
        };
        if one.fact != Fact::Loose {
            return false;
        }
        // `1+1+1` is one set in parts.
        let before = one.from.checked_sub(1).and_then(|at| self.tokens.get(at));
        if before.is_some_and(|token| token.is("+") || token.is("(")) {
            return false;
        }
        let number = self.number(one).and_then(whole);
        let item = self.items.last_mut().filter(|item| item.sets.is_none());
        let (Some(next), Some(item)) = (number.filter(|reps| *reps > 0), item) else {
            return false;
        };
        let mut list = match &item.amount {
            Some(Amount::Reps((low, high))) if low >= high => match whole(*low) {
                Some(reps) => vec![reps],
                None => return false,
            },
            Some(Amount::List(list)) => list.clone(),
            _ => return false,
        };
        list.push(next);
        item.amount = Some(Amount::List(list));
        true
    }

    /// Whether what was read so far is a circuit: in turn, or repetitions without sets.
    pub(super) fn in_turn_so_far(&self) -> bool {
        let open = |item: &Draft| item.sets.is_none() && item.amount.is_some();
        self.in_turn || self.rounds.is_some() || self.items.last().is_some_and(open)
    }

    /// Sets without a name go on with the exercise at hand, unless a word before them may be the
    /// name of another.
    pub(super) fn other_sets(&self, clause: &Clause) -> Result<(), Misfit> {
        const KINDS: &str = "\
            back off offs backoff backoffs top drop down heavy light volume later sets working \
            main lighter heavier week deload taper same";
        let at = clause
            .facts
            .iter()
            .position(|one| matches!(one.fact, Fact::SetsOf(..)));
        let before = clause.facts.get(..at.unwrap_or(0)).unwrap_or_default();
        let strange = |found: &&Found| {
            let word = self.word(found);
            found.fact == Fact::Word
                && word.chars().any(char::is_alphabetic)
                && !has(FILLERS, word)
                && !has(KINDS, word)
        };
        match before.iter().find(strange) {
            Some(word) => {
                let to = before.last().map_or(word.to, |one| one.to);
                Err(self.unknown(self.text(word.from, to).to_owned()))
            }
            None => Ok(()),
        }
    }

    /// More sets of the exercise at hand, of another kind.
    pub(super) fn go_on(&mut self, full: bool) {
        let Some(last) = self.items.last() else {
            return;
        };
        let next = Draft {
            exercise: last.exercise,
            or: last.or.clone(),
            amount: last.amount.clone().filter(|_| !full),
            side: last.side,
            hand: last.hand,
            ..Draft::default()
        };
        self.items.push(next);
    }

    pub(super) fn fact(
        &mut self,
        found: &Found,
        clause: &Clause,
        head: bool,
    ) -> Result<(), Misfit> {
        let last = self.says(clause, "last final");
        let told = self.text(found.from, found.to).to_owned();
        let content = self.content(clause);
        let in_turn = self.in_turn;
        let times_sign = self.word(found) == "x";
        let every_minute = self.word(found) == "emom";
        let of_circuit = self.reps_in_a_circuit(found);
        // `every 2 minutes, for 10 minutes` and `every 2 min x 5`: how many rounds.
        if head {
            let every = matches!(self.word(found), "every" | "emom" | "e");
            match (&found.fact, self.every) {
                (Fact::Rest(rest), _) if every => self.every = Some(rest.0),
                (Fact::InTurn, None) if every => self.every = Some(60.0),
                (Fact::Time(time), Some(every)) if self.rounds.is_none() => {
                    self.rounds = Some(pair((time.0 / every).floor()));
                    return Ok(());
                }
                (Fact::Amount(Amount::Reps(_)), Some(_)) if self.rounds.is_none() => {
                    // `EMOM 10` is as many rounds as minutes only for one station, told at the end.
                    self.counted_rounds = self.counted_rounds.or(match found.fact {
                        Fact::Amount(Amount::Reps(rounds)) => Some(rounds),
                        _ => None,
                    });
                    return Ok(());
                }
                _ => {}
            }
        }
        let labelled = self.is_labelled(found);
        let before = found.from.checked_sub(1).and_then(|at| self.tokens.get(at));
        let for_all = before.is_some_and(|token| token.is("all") || token.is("both"));
        let item = self.items.last().filter(|item| item.load.is_none());
        let in_hands = item
            .and_then(|item| item.exercise)
            .is_some_and(|id| self.language.catalogue.exercise(id).basis == Basis::PerHand);
        // A number with a bare `s`, as pairs of dumbbells are called.
        let short = self.tokens.get(found.from..found.to).is_some_and(|tokens| {
            matches!(tokens, [number, s] if s.is("s") && s.glued && matches!(number.kind, Kind::Number(value) if value <= 60.0))
        });
        // Behind the sets with nothing between; a comma, or a word, makes a rest of it.
        let with_sets = clause
            .facts
            .iter()
            .any(|one| matches!(one.fact, Fact::SetsOf(..)));
        let in_brackets = clause.lead == Lead::Open && clause.facts.len() == 1;
        let short = short && clause.facts.last() == Some(found) && (with_sets || in_brackets);
        let wrong_load = match (&found.fact, self.items.last()) {
            (Fact::Load(load), Some(item)) if !head => item.exercise.is_some_and(|id| {
                let exercise = self.language.catalogue.exercise(id);
                self.load(*load, item.hand, exercise).is_err()
            }),
            _ => false,
        };
        let target = match head {
            true => &mut self.shared,
            false => match self.items.last_mut() {
                Some(item) => item,
                None => &mut self.shared,
            },
        };
        let mut kept = false;
        match &found.fact {
            Fact::SetsOf(sets, amount) => match (&target.sets, &target.amount) {
                (None, None) => {
                    target.sets = Some(*sets);
                    target.amount = Some(amount.clone());
                }
                (None, Some(Amount::Reps(_))) if matches!(amount, Amount::Reps(_)) => {
                    return Err((told, FaultKind::Twice));
                }
                _ => kept = true,
            },
            Fact::Sets(sets) => match target.sets {
                None => target.sets = Some(*sets),
                // `3x10, 4 sets`.
                Some(own) if content == 0 && own != *sets => return Err((told, FaultKind::Twice)),
                Some(_) => kept = true,
            },
            Fact::Amount(amount) => match (&target.amount, amount) {
                // `x 3` in the head of a circuit of timed stations: how often it is done.
                (Some(Amount::Time(_)), Amount::Reps(times)) if head && in_turn => {
                    self.rounds = Some(*times);
                }
                // `Circuit x3: …`.
                (None, Amount::Reps(times)) if head && in_turn && times_sign => {
                    self.rounds = Some(*times);
                }
                (None, _) => target.amount = Some(amount.clone()),
                _ => kept = true,
            },
            Fact::SideReps(span) => {
                target.amount = Some(Amount::Reps(*span));
                target.side = true;
            }
            Fact::Side => target.side = true,
            Fact::Hand => target.hand = true,
            Fact::Time(time) => match (&target.amount, target.rest) {
                (None, _) => target.amount = Some(Amount::Time(*time)),
                // `hammer curl 3x10 30s`: a pair of dumbbells as likely as a rest.
                (Some(_), None) if !head && in_hands && short => {
                    return Err((told, FaultKind::LoadOrRest));
                }
                (Some(_), None) if time.0 >= 15.0 && !head => target.rest = Some(*time),
                _ => kept = true,
            },
            Fact::Rest(rest) => match target.rest {
                None => target.rest = Some(*rest),
                Some(_) => kept = true,
            },
            Fact::Effort(_) if last => kept = true,
            Fact::Effort(effort) if in_reserve(*effort).is_none() => {
                return Err((told, FaultKind::Effort));
            }
            Fact::Effort(effort) if for_all => self.for_all = Some(*effort),
            Fact::Effort(effort) => match target.effort {
                None => target.effort = Some(*effort),
                Some(_) if content == 0 => return Err((told, FaultKind::Twice)),
                Some(_) => kept = true,
            },
            Fact::Load(load) => match target.load {
                None if wrong_load => return Err((told, FaultKind::Load)),
                None => target.load = Some(*load),
                Some(_) if content == 0 => return Err((told, FaultKind::Twice)),
                Some(_) => kept = true,
            },
            // Behind the sets of an exercise it says when they begin.
            Fact::InTurn if !head && every_minute => kept = true,
            Fact::Manner | Fact::Aside => kept = true,
            // The number of a label: `60 s after A2`.
            Fact::Loose if labelled => kept = true,
            // `3 rounds of: push-up 10, squat 15`.
            Fact::Loose if !head && target.amount.is_none() && of_circuit.is_some() => {
                target.amount = of_circuit.map(|reps| Amount::Reps(pair(f64::from(reps))));
            }
            Fact::Loose => {
                // `2rri`: a slip of a word that goes with a number.
                let unit = self
                    .tokens
                    .get(found.to)
                    .filter(|next| next.glued && next.kind == Kind::Word);
                let slip = unit.and_then(|next| nearest_word(&next.text));
                if slip.is_some() {
                    let words = self.text(found.from, found.to + 1).to_owned();
                    return Err((words, FaultKind::UnknownWord(slip)));
                }
                if content == 0 {
                    return self.asked((told, FaultKind::BareNumber), head);
                }
            }
            Fact::Name(_) => kept = true,
            _ => {}
        }
        if kept {
            self.note(match told.as_str() {
                "+" => "last set: as many reps as possible".to_owned(),
                _ => told,
            });
        }
        Ok(())
    }

    /// The number that a fact begins with.
    fn number(&self, found: &Found) -> Option<f64> {
        match self.tokens.get(found.from)?.kind {
            Kind::Number(value) => Some(value),
            Kind::Word | Kind::Sign(_) => None,
        }
    }

    /// Asks about a number beside an exercise that is whole without it.
    fn asked(&mut self, misfit: Misfit, head: bool) -> Result<(), Misfit> {
        let whole = |item: &Draft| match item.amount {
            Some(Amount::List(_)) => true,
            _ => item.sets.is_some() && item.amount.is_some(),
        };
        if head || !self.items.last().is_some_and(whole) {
            return Err(misfit);
        }
        self.faults.push(misfit);
        Ok(())
    }

    /// Whether a number is glued to a letter before it.
    pub(super) fn is_labelled(&self, found: &Found) -> bool {
        let glued = self.tokens.get(found.from).is_some_and(|token| token.glued);
        let before = found.from.checked_sub(1).and_then(|at| self.tokens.get(at));
        glued && before.is_some_and(|token| token.kind == Kind::Word && !token.is("x"))
    }

    /// Keeps the words of a clause that say something, with the numbers between them.
    pub(super) fn keep_words(&mut self, clause: &Clause, head: bool) {
        let mut runs: Vec<(usize, usize, bool)> = Vec::new();
        for found in &clause.facts {
            let taken = found.fact == Fact::Loose && self.reps_in_a_circuit(found).is_some();
            if taken || !matches!(found.fact, Fact::Word | Fact::Loose) {
                continue;
            }
            let word = self.word(found);
            let says = found.fact == Fact::Loose
                || (word.chars().any(char::is_alphabetic) && !has(FILLERS, word));
            match runs.last_mut() {
                Some((_, to, said)) if *to == found.from => {
                    *to = found.to;
                    *said |= says;
                }
                _ => runs.push((found.from, found.to, says)),
            }
        }
        for (from, to, says) in runs {
            if !says {
                continue;
            }
            let words = self.text(from, to).to_owned();
            // What is asked about is no word to the lifter.
            let asked = words.trim_end_matches('?');
            if self.faults.iter().any(|(words, _)| words == asked) {
                continue;
            }
            let words = match clause.lead == Lead::Or && !head {
                true => format!("or {words}"),
                false => words,
            };
            if let Some(implement) = implement(&words)
                && !head
                && self.done_with(implement)
            {
                continue;
            }
            // `leg curl (the seated one)`.
            if clause.lead == Lead::Open && self.is_more_closely(&words) {
                continue;
            }
            match head {
                true => self.notes.push(words),
                false => self.note(words),
            }
        }
    }

    /// The same exercise with this implement, where that is an exercise of its own.
    pub(super) fn done_with(&mut self, implement: &str) -> bool {
        const IMPLEMENTS: &[&str] = &["barbell ", "dumbbell ", "machine ", "cable ", "kettlebell "];
        let language = self.language;
        let Some(item) = self.items.last_mut() else {
            return false;
        };
        let twin = item.exercise.and_then(|id| {
            let name = &language.catalogue.exercise(id).name;
            let own = IMPLEMENTS.iter().find_map(|word| name.strip_prefix(word));
            let other = own.map(|rest| format!("{implement} {rest}"));
            let other = other.and_then(|name| language.names.named(&name));
            other.or_else(|| language.names.named(&format!("{implement} {name}")))
        });
        item.exercise = twin.or(item.exercise);
        twin.is_some()
    }

    /// Takes words in brackets behind a name that make a known exercise with it.
    fn is_more_closely(&mut self, words: &str) -> bool {
        let language = self.language;
        let Some(item) = self.items.last_mut().filter(|item| item.sets.is_none()) else {
            return false;
        };
        let Some(own) = item.exercise else {
            return false;
        };
        let words = words.to_lowercase();
        let words: Vec<&str> = words
            .split_whitespace()
            .filter(|word| !has(SPEECH, word) && !has(FILLERS, word) && *word != "one")
            .collect();
        let name = &language.catalogue.exercise(own).name;
        // The bare name of a movement is that of its commonest kind: `leg curl` is the lying one.
        let bare = name.split_once(' ').map_or("", |(_, rest)| rest);
        let named = [name.as_str(), bare].into_iter().find_map(|name| {
            let whole = format!("{} {name}", words.join(" "));
            language.names.named(&whole).filter(|id| *id != own)
        });
        if words.is_empty() || named.is_none() {
            return false;
        }
        item.exercise = named;
        true
    }

    /// Whether a clause is the other side of the sets before it: `3x12 L, 3x12 R`.
    fn is_other_side(&mut self, clause: &Clause) -> bool {
        const LEFT: &str = "l left";
        const RIGHT: &str = "r right";
        let sides = |words: &str| {
            let words = words.to_lowercase();
            (has(LEFT, &words), has(RIGHT, &words))
        };
        let other = (self.says(clause, LEFT), self.says(clause, RIGHT));
        let counts = clause.facts.iter().find_map(|one| match &one.fact {
            Fact::SetsOf(sets, amount) => Some((*sets, amount.clone())),
            _ => None,
        });
        let Some(item) = self.items.last_mut() else {
            return false;
        };
        let own = item
            .notes
            .last()
            .map_or((false, false), |words| sides(words));
        let opposite = own != (false, false) && own != other && other != (false, false);
        let same = item.sets.zip(item.amount.clone()) == counts;
        if opposite && same {
            item.notes.pop();
            item.side = true;
        }
        opposite && same
    }
}

/// The words of details, for the nearest to a slip.
const WORDS: &[&str] = &[
    "rir", "rpe", "left", "failure", "with", "each", "hand", "total", "assisted", "added", "bw",
    "kg", "lb",
];

/// The word of a detail of which this is a slip: `rir` of `2rri`.
fn nearest_word(word: &str) -> Option<&'static str> {
    // The number is not what is wrong.
    let letters = word.trim_start_matches(|c: char| !c.is_alphabetic());
    WORDS
        .iter()
        .map(|known| (strsim::osa_distance(known, letters), *known))
        .min()
        .filter(|(distance, known)| *distance <= if known.len() > 3 { 2 } else { 1 })
        .map(|(_, known)| known)
}

/// What an exercise is done with, from words like `with dumbbells`.
fn implement(words: &str) -> Option<&'static str> {
    let words = words.to_lowercase();
    let words = words
        .trim_start_matches("holding ")
        .trim_start_matches("using ");
    match words {
        "dumbbells" | "dumbbell" | "db" | "dbs" => Some("dumbbell"),
        "barbell" | "bb" => Some("barbell"),
        "kettlebell" | "kettlebells" | "kb" | "kbs" => Some("kettlebell"),
        "machine" => Some("machine"),
        "cable" | "cables" => Some("cable"),
        _ => None,
    }
}
