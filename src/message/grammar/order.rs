//! The orders in which lifters write numbers, and the groups that a line has in each. One order
//! holds for the whole line.

use super::against::{Against, Sign};
use super::atom::{Atom, Joint, MOST_COUNTED, Number, Parting, SURELY_LOAD, Said};

/// What a bare number is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Role {
    Load,
    Reps,
    Sets,
}

/// Two bare numbers, with what speaks against that order.
pub(super) const PAIRS: [([Role; 2], Option<Sign>); 4] = [
    ([Role::Load, Role::Reps], None),
    ([Role::Reps, Role::Load], Some(Sign::RepsLoad)),
    ([Role::Sets, Role::Reps], Some(Sign::SetsReps)),
    ([Role::Reps, Role::Sets], Some(Sign::RepsSets)),
];

/// Three bare numbers.
#[rustfmt::skip]
pub(super) const TRIPLES: [([Role; 3], Option<Sign>); 6] = [
    ([Role::Load, Role::Reps, Role::Sets], None),
    ([Role::Sets, Role::Reps, Role::Load], Some(Sign::SetsRepsLoad)),
    ([Role::Load, Role::Sets, Role::Reps], Some(Sign::LoadSetsReps)),
    ([Role::Sets, Role::Load, Role::Reps], Some(Sign::SetsLoadReps)),
    ([Role::Reps, Role::Load, Role::Sets], Some(Sign::RepsLoadSets)),
    ([Role::Reps, Role::Sets, Role::Load], Some(Sign::RepsSetsLoad)),
];

/// Where a number by itself belongs.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Single {
    /// To the last part of the group before: `80x10, 9, 8`.
    Before,
    /// To its part before the load: `5 at 100, 4, 4`.
    First,
    /// To the first part of the group behind: `40, 50, 60 x 10`.
    Behind,
    /// A part of its own of the group behind: `205 lb, 3x10`.
    Heads,
    /// With the numbers beside it, a part of its own of the group before: `8x3 (80, 85, 87.5)`.
    Own,
    /// To a list in the middle of its group: `3 sets of 8, 8, 7 at 60`.
    Within,
}

/// What slashes and glued dashes do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Between {
    /// `12/60` is one group.
    Joins,
    /// `8/8/7` is a list, one part of a group.
    Lists,
    /// `80/10/9/8`: a part of its own, and a list.
    Heads,
    /// `12x5 / 12x5`.
    Parts,
}

/// One order of a line.
#[derive(Clone, Copy, Debug)]
pub(super) struct Order {
    pub pair: usize,
    pub triple: usize,
    pub single: Single,
    pub slash: Between,
    pub dash: Between,
    /// `35 (8), 40 (6)`: brackets hold a part of the group before.
    pub brackets: bool,
    /// `x 2 fails` are attempts without a repetition.
    pub attempts: bool,
    /// `100 x 8, x 3`: so many sets of it, and not one more of so many repetitions.
    pub times: bool,
}

/// One part of a group: a number, or a list of numbers that play the same part.
#[derive(Clone, Debug, Default)]
pub(super) struct Factor {
    pub numbers: Vec<Number>,
    /// How it is joined to the part before.
    pub joint: Option<Joint>,
    /// A list of its own behind the group: `8x3 (80, 85, 87.5)`.
    pub own: bool,
    /// So many of its numbers came by themselves behind the group: `2x8, 6`.
    pub added: usize,
}

impl Factor {
    fn of(numbers: impl IntoIterator<Item = Number>) -> Self {
        Self {
            numbers: numbers.into_iter().collect(),
            ..Self::default()
        }
    }
}

/// Numbers that make sets together.
#[derive(Clone, Debug, Default)]
pub(super) struct Group {
    pub factors: Vec<Factor>,
    pub repeat: Option<f64>,
    pub rir: Option<f64>,
    pub rest_s: Option<u32>,
    /// The body is the load, written before so many factors.
    pub body: Option<usize>,
    /// The set before once more.
    pub again: bool,
    /// `last one 4`: it takes the place of the last of those before.
    pub last: bool,
    /// Reserve of its last set alone.
    pub last_rir: Option<f64>,
    pub warm: bool,
    /// `16kg, 10, 9`: a load, then repetitions by themselves.
    pub headed: bool,
    /// All of it failed.
    pub failed: bool,
    /// The line says what its repetitions, or sets × repetitions, come to.
    pub sum: Option<f64>,
    /// The atom behind its last.
    pub to: usize,
}

impl Group {
    fn is_single(&self) -> bool {
        self.factors.len() == 1
            && self.repeat.is_none()
            && self.factors.iter().all(|f| f.joint.is_none())
            && self.body.is_none()
            && !self.again
            && !self.last
            && !self.warm
    }

    /// `x 8`, `for 8`: it begins with what joins it to something.
    fn is_crossed(&self) -> bool {
        self.body.is_none() && self.factors.first().is_some_and(|f| f.joint.is_some())
    }

    /// Words say that its first number is a load.
    fn begins_with_load(&self) -> bool {
        let first = self.factors.first();
        first.is_some_and(|f| f.numbers.iter().any(|n| n.said == Said::Load))
    }

    /// `10 9`: nothing says what its numbers are.
    fn is_beside(&self) -> bool {
        let last = self.factors.last();
        last.is_some_and(|f| f.joint == Some(Joint::Beside)) && !self.begins_with_load()
    }

    /// `100x8x7x6`: from the fourth number on they are repetitions of a list, and so are all of
    /// `bodyweight x15 x12 x10`.
    fn list_the_rest(&mut self) {
        let joined = |f: &Factor| f.joint == Some(Joint::Times) && f.numbers.len() == 1;
        let all = self.factors.iter().all(joined);
        let from = usize::from(!all);
        // `x15 x12`, but `x15 x 3` are three sets.
        let many = |f: &Factor| f.numbers.iter().all(|n| n.num.value > MOST_COUNTED);
        let two = all && self.factors.len() == 2 && self.factors.iter().all(many);
        if (two || self.factors.len() > 2 + from) && self.factors.iter().skip(from).all(joined) {
            let rest = self.factors.split_off(from + 1);
            if let Some(reps) = self.factors.last_mut() {
                reps.numbers
                    .extend(rest.into_iter().flat_map(|f| f.numbers));
            }
        }
    }

    fn is_empty(&self) -> bool {
        self.factors.is_empty() && self.body.is_none() && !self.again
    }
}

/// Every way to cut these atoms into groups that is worth trying; [`Order::ways`] are the orders in
/// each.
pub(super) fn orders(atoms: &[Atom]) -> Vec<Order> {
    let has = |parting| atoms.contains(&Atom::Parting(parting));
    let ways = [
        Between::Lists,
        Between::Joins,
        Between::Heads,
        Between::Parts,
    ];
    let slashes = if has(Parting::Slash) { 4 } else { 1 };
    let dashes = if has(Parting::Dash) { 3 } else { 1 };
    let parted = [Parting::Comma, Parting::Open, Parting::Break].map(has);
    let beside = atoms.contains(&Atom::Joint(Joint::Beside));
    let parted = parted.contains(&true) || slashes > 1 || beside;
    let singles = [
        Single::Before,
        Single::Behind,
        Single::Heads,
        Single::Own,
        Single::Within,
        Single::First,
    ];
    // Only a load behind its repetitions has a part before it that may go on.
    let led = |two: &[Atom]| match two {
        [Atom::Joint(Joint::At), _] => true,
        [Atom::Joint(_), Atom::Number(number)] => number.said == Said::Load,
        _ => false,
    };
    let ways_of_singles = match (parted, atoms.windows(2).any(led)) {
        (false, _) => 1,
        (true, false) => 5,
        (true, true) => 6,
    };
    let tries = if atoms.contains(&Atom::Attempts) {
        2
    } else {
        1
    };
    let crosses = if atoms.windows(2).any(is_crossing) {
        2
    } else {
        1
    };
    let mut out = Vec::new();
    for &slash in &ways[..slashes] {
        for &dash in &ways[..dashes] {
            for &single in &singles[..ways_of_singles] {
                for attempts in &[false, true][..tries] {
                    for times in &[false, true][..crosses] {
                        out.push(Order {
                            pair: 0,
                            triple: 0,
                            single,
                            slash,
                            dash,
                            brackets: bracketed(atoms) > 1,
                            attempts: *attempts,
                            times: *times,
                        });
                    }
                }
            }
        }
    }
    out
}

/// `, x`: a cross with no number before it.
fn is_crossing(two: &[Atom]) -> bool {
    matches!(two, [Atom::Parting(_), Atom::Joint(Joint::Times)])
}

impl Order {
    /// What speaks against cutting `atoms` this way.
    pub(super) fn against(self, atoms: &[Atom]) -> Against {
        let mut out = Against::default();
        let has = |parting| atoms.contains(&Atom::Parting(parting));
        let single = match self.single {
            Single::Before | Single::First | Single::Within => None,
            Single::Behind => Some(Sign::Behind),
            Single::Heads => Some(Sign::Heads),
            Single::Own => Some(Sign::Own),
        };
        let between = |between, [joins, heads, parts]: [Sign; 3]| match between {
            Between::Lists => None,
            Between::Joins => Some(joins),
            Between::Heads => Some(heads),
            Between::Parts => Some(parts),
        };
        let slash = between(
            self.slash,
            [Sign::SlashJoins, Sign::SlashHeads, Sign::SlashParts],
        );
        let dash = between(
            self.dash,
            [Sign::DashJoins, Sign::DashHeads, Sign::DashParts],
        );
        let signs = [
            single,
            slash.filter(|_| has(Parting::Slash)),
            dash.filter(|_| has(Parting::Dash)),
            self.times.then_some(Sign::Times),
            self.brackets.then_some(Sign::Brackets),
        ];
        signs
            .into_iter()
            .flatten()
            .for_each(|sign| out.add(sign, 1.0));
        out
    }

    /// This order with every meaning that the numbers of `groups` can have.
    pub(super) fn ways(self, groups: &[Group]) -> impl Iterator<Item = Self> {
        let short = |group: &Group| group.factors.len() < 3;
        let long = |group: &Group| group.factors.len() > 2 || group.body.is_some();
        let said = |group: &Group| {
            let mut numbers = group.factors.iter().flat_map(|f| &f.numbers);
            group.factors.len() > 1 && numbers.any(|number| number.said != Said::Nothing)
        };
        let pairs = if groups.iter().any(short) {
            PAIRS.len()
        } else {
            1
        };
        let many = groups.iter().any(|group| long(group) || said(group));
        let triples = if many { TRIPLES.len() } else { 1 };
        (0..pairs).flat_map(move |pair| {
            (0..triples).map(move |triple| Self {
                pair,
                triple,
                ..self
            })
        })
    }
}

/// How many numbers stand in brackets by themselves right behind another.
fn bracketed(atoms: &[Atom]) -> usize {
    let one = |four: &&[Atom]| {
        matches!(
            four,
            [
                Atom::Number(_),
                Atom::Parting(Parting::Open),
                Atom::Number(_),
                Atom::Parting(Parting::Close)
            ]
        )
    };
    let all = atoms.windows(4).filter(one).count();
    // The bracket that ends the line is cut off.
    let cut = atoms.len().checked_sub(3).and_then(|at| atoms.get(at..));
    let ends = matches!(
        cut,
        Some([
            Atom::Number(_),
            Atom::Parting(Parting::Open),
            Atom::Number(_)
        ])
    );
    all + usize::from(ends)
}

/// The groups of a line in one order. `None` where numbers stand side by side that nothing joins.
pub(super) fn groups(atoms: &[Atom], order: Order) -> Option<Vec<Group>> {
    let chunks = chunks(atoms, order)?;
    let mut out: Vec<Group> = Vec::new();
    let mut waiting: Vec<Number> = Vec::new();
    let mut own = false;
    let mut rir = None;
    for mut chunk in chunks {
        if !chunk.is_single() {
            if order.single == Single::Heads && !waiting.is_empty() {
                chunk.factors.insert(0, Factor::of(waiting.drain(..)));
                if let Some(next) = chunk.factors.get_mut(1) {
                    next.joint = next.joint.or(Some(Joint::Beside));
                }
            } else if let Some(first) = chunk.factors.first_mut().filter(|_| !waiting.is_empty()) {
                first.numbers.splice(0..0, waiting.drain(..));
            }
            // `100 x 8, x 3`: more sets, or so many of them.
            if order.times
                && chunk.is_crossed()
                && let Some(last) = out.last_mut().filter(|last| !last.is_crossed())
            {
                let [Factor { numbers, joint, .. }] = chunk.factors.as_slice() else {
                    return None;
                };
                let [one] = numbers.as_slice() else {
                    return None;
                };
                let few = one.num.value <= MOST_COUNTED;
                let crossed = *joint == Some(Joint::Times);
                if last.repeat.is_some() || !crossed || !few || chunk.rir.is_some() {
                    return None;
                }
                last.repeat = Some(one.num.value);
                last.to = chunk.to;
                continue;
            }
            own = false;
            out.push(chunk);
            continue;
        }
        // `(200, 270, 360), singles`
        let counted = chunk
            .factors
            .iter()
            .flat_map(|f| &f.numbers)
            .any(|n| matches!(n.said, Said::Reps | Said::Sets));
        let like = |waiting: &Number| {
            let next = chunk.factors.first().and_then(|f| f.numbers.first());
            next.is_some_and(|next| next.said == Said::Reps && is_like(waiting, next))
        };
        if counted && waiting.last().is_some_and(|last| !like(last)) {
            if let Some(last) = chunk.factors.first_mut() {
                last.joint = Some(Joint::Times);
            }
            chunk.factors.insert(0, Factor::of(waiting.drain(..)));
            out.push(chunk);
            continue;
        }
        let numbers = chunk.factors.pop().map(|factor| factor.numbers)?;
        // `80x10, 3 sets`
        if let ([one], Some(last)) = (numbers.as_slice(), out.last_mut())
            && one.said == Said::Sets
            && ![order.slash, order.dash].contains(&Between::Parts)
            && last.factors.len() > 1
            && last.factors.iter().all(|f| f.added == 0)
            && last.repeat.is_none()
            && waiting.is_empty()
        {
            last.repeat = Some(one.num.value);
            last.rir = chunk.rir.or(last.rir);
            last.rest_s = chunk.rest_s.or(last.rest_s);
            last.to = chunk.to;
            continue;
        }
        let loads = |number: &Number| number.said == Said::Load;
        if order.single == Single::Heads && !numbers.iter().any(loads) {
            let heads = !waiting.is_empty() && waiting.iter().all(loads);
            if heads {
                out.push(Group {
                    factors: vec![
                        Factor::of(waiting.drain(..)),
                        Factor {
                            joint: Some(Joint::Times),
                            ..Factor::of(numbers)
                        },
                    ],
                    headed: true,
                    rir: chunk.rir,
                    rest_s: chunk.rest_s,
                    to: chunk.to,
                    ..Group::default()
                });
                continue;
            }
            if let Some(last) = out.last_mut().filter(|g| g.headed && waiting.is_empty()) {
                // `10 r2, 9 r1`: to each its own.
                if last.rir.is_some() {
                    return None;
                }
                last.factors.last_mut()?.numbers.extend(numbers);
                last.rir = chunk.rir;
                last.last_rir = chunk.last_rir;
                last.rest_s = chunk.rest_s.or(last.rest_s);
                last.to = chunk.to;
                continue;
            }
        }
        // `80x10, 9, 60x8`: what may go on in the group before leads no other.
        let goes_on = numbers.first().is_some_and(|first| {
            let last = out.last().and_then(|group| group.factors.last());
            let reps = last.and_then(|factor| factor.numbers.last());
            first.said == Said::Nothing && reps.is_some_and(|reps| is_like(reps, first))
        });
        // `85 kg, 4 sets 8, 8, 8, 6`
        let counted = |f: &Factor| f.numbers.iter().any(|n| n.said == Said::Sets);
        if goes_on
            && order.single == Single::Heads
            && waiting.is_empty()
            && let Some(last) = out.last_mut().filter(|g| g.factors.iter().any(counted))
            && last.rir.is_none()
        {
            let factor = last.factors.last_mut()?;
            factor.added += numbers.len();
            factor.numbers.extend(numbers);
            last.rir = chunk.rir;
            last.last_rir = chunk.last_rir;
            last.rest_s = chunk.rest_s.or(last.rest_s);
            last.to = chunk.to;
            continue;
        }
        if goes_on && matches!(order.single, Single::Behind | Single::Heads) {
            return None;
        }
        // A count of sets, or a load with its unit, begins a group.
        match (out.last_mut(), order.single) {
            (None, _) | (_, Single::Behind | Single::Heads) => {
                // `10 r2, 9 r1`: to each its own.
                if rir.is_some() {
                    return None;
                }
                // `25 20 15, 3x10`
                if order.single == Single::Own && numbers.len() > 1 {
                    out.push(Group {
                        factors: vec![Factor::of(numbers)],
                        rir: chunk.rir,
                        to: chunk.to,
                        ..Group::default()
                    });
                    continue;
                }
                waiting.extend(numbers);
            }
            (Some(last), Single::Before | Single::First | Single::Within) => {
                let factor = match order.single {
                    Single::First => last.factors.first_mut()?,
                    _ => last.factors.last_mut()?,
                };
                factor.added += numbers.len();
                factor.numbers.extend(numbers);
            }
            (Some(last), Single::Own) => {
                if !own {
                    last.factors.push(Factor {
                        joint: Some(Joint::Times),
                        own: true,
                        ..Factor::default()
                    });
                    own = true;
                }
                last.factors.last_mut()?.numbers.extend(numbers);
            }
        }
        rir = chunk.rir.or(rir);
        if let Some(last) = out.last_mut().filter(|_| waiting.is_empty()) {
            // `10 r2, 9 r1`: to each its own.
            if last.rir.is_some() {
                return None;
            }
            last.rir = chunk.rir;
            last.last_rir = chunk.last_rir;
            last.rest_s = chunk.rest_s.or(last.rest_s);
            last.sum = chunk.sum.or(last.sum);
            last.to = chunk.to;
        }
    }
    if !waiting.is_empty() {
        if let Some(last) = out.last_mut() {
            // `3, 3, 3 - 35, 40, 42.5`
            if order.single != Single::Behind {
                return None;
            }
            last.factors.last_mut()?.numbers.extend(waiting);
            last.to = atoms.len();
            return Some(out);
        }
        out.push(Group {
            factors: vec![Factor::of(waiting)],
            rir,
            to: atoms.len(),
            ..Group::default()
        });
    }
    Some(out)
}

/// The line cut where commas and line ends part it.
fn chunks(atoms: &[Atom], order: Order) -> Option<Vec<Group>> {
    let mut out = Vec::new();
    let mut group = Group::default();
    let mut joint: Option<Joint> = None;
    let mut list = false;
    let mut of_last = false;
    let mut warm = false;
    let mut warm_run = false;
    let within = order.single == Single::Within;
    let listing = within || matches!(order.single, Single::Heads | Single::Own);
    for (at, atom) in atoms.iter().enumerate() {
        let next = atoms.get(at + 1);
        match *atom {
            // `(10 reps @ 50) x 3`, `(20 reps) 3 sets`
            Atom::Parting(Parting::Close) if matches!(next, Some(Atom::Joint(_))) => {}
            Atom::Parting(Parting::Close)
                if matches!(next, Some(Atom::Number(n)) if n.said == Said::Sets)
                    && !group.is_empty() =>
            {
                joint = Some(Joint::Beside);
            }
            Atom::Number(number) => {
                if list {
                    group.factors.last_mut()?.numbers.push(number);
                } else {
                    let beside = joint == Some(Joint::Beside);
                    let before = group.factors.last().and_then(|f| f.numbers.last());
                    let says = |number: &Number| number.said != Said::Nothing;
                    let bare = !says(&number) && !before.is_some_and(says);
                    // `80: 10 9 8 reps`
                    let listed = group.factors.last().is_some_and(|f| f.numbers.len() > 1);
                    let bare = bare || listed && number.said == Said::Reps;
                    // `80x10 80x9`, `10/180 8/200`
                    let slash = Some(&Atom::Parting(Parting::Slash));
                    let loaded = |f: &Factor| f.joint == Some(Joint::At);
                    let begins = matches!(next, Some(Atom::Joint(Joint::Times)))
                        || next == Some(&Atom::Joint(Joint::At))
                            && group.factors.iter().any(loaded)
                        || next == slash && order.slash != Between::Lists;
                    if beside && begins && group.factors.len() > 1 {
                        close(&mut group, &mut out);
                        joint = None;
                    } else if beside && bare && (group.factors.len() > 1 || listing) {
                        // `80: 10 9 8`, `8 8 7 at 80`
                        let like = before.is_some_and(|last| is_like(last, &number));
                        if like && (listing || !group.is_beside()) {
                            group.factors.last_mut()?.numbers.push(number);
                            group.to = at + 1;
                            joint = None;
                            continue;
                        }
                        if group.factors.len() > 2 || group.is_beside() || listing && like {
                            return None;
                        }
                    }
                    if joint.is_none() && !group.factors.is_empty() {
                        return None;
                    }
                    group.factors.push(Factor {
                        numbers: vec![number],
                        joint,
                        own: false,
                        added: 0,
                    });
                    group.last |= std::mem::take(&mut of_last);
                    group.warm |= std::mem::take(&mut warm) || warm_run;
                }
                joint = None;
                list = false;
            }
            Atom::Joint(next) => {
                // `x @`, `: -`: the stronger word counts.
                joint = match joint {
                    Some(Joint::For | Joint::At | Joint::Of) => joint,
                    _ => Some(next),
                };
            }
            Atom::Parting(Parting::Slash | Parting::Dash) => {
                let between = if *atom == Atom::Parting(Parting::Slash) {
                    order.slash
                } else {
                    order.dash
                };
                let behind = matches!(next, Some(Atom::Number(_) | Atom::Body | Atom::Joint(_)));
                match between {
                    // `100 kg - rpe 8`
                    Between::Joins | Between::Heads if !behind => close(&mut group, &mut out),
                    Between::Joins => joint = Some(Joint::Times),
                    Between::Heads if group.factors.len() == 1 => {
                        joint = Some(if group.begins_with_load() {
                            Joint::Beside
                        } else {
                            Joint::Times
                        });
                    }
                    Between::Lists | Between::Heads => list = !group.factors.is_empty(),
                    Between::Parts => close(&mut group, &mut out),
                }
            }
            Atom::Parting(Parting::Comma)
                if within
                    && !group.is_empty()
                    && joint.is_none()
                    && goes_within(&atoms[at + 1..]) =>
            {
                list = true;
            }
            Atom::Parting(Parting::Open) if order.brackets && joint.is_none() => {
                joint = Some(Joint::Times);
            }
            Atom::Parting(parting) => {
                warm_run &= parting != Parting::Break;
                if joint.is_some() && !group.factors.is_empty() {
                    // `80 x (10, 9)`
                    if *atom != Atom::Parting(Parting::Open) {
                        return None;
                    }
                } else {
                    close(&mut group, &mut out);
                }
            }
            // `8 per side, three times`
            Atom::Repeat(count) if group.is_empty() => {
                let [only] = out.as_mut_slice() else {
                    return None;
                };
                only.repeat.replace(count).is_none().then_some(())?;
            }
            Atom::Repeat(count) => group.repeat = Some(count),
            Atom::Last => {
                close(&mut group, &mut out);
                of_last = true;
            }
            Atom::Warm(false) => warm = true,
            Atom::WarmRun => warm_run = true,
            Atom::Warm(true) => {
                group.warm = !group.is_empty();
                out.iter_mut()
                    .for_each(|group: &mut Group| group.warm = true);
            }
            Atom::Effort(rir) if of_last => {
                behind(&mut group, &mut out)?.last_rir = Some(rir);
                of_last = false;
            }
            Atom::EffortOfLast(rir) => behind(&mut group, &mut out)?.last_rir = Some(rir),
            Atom::Effort(rir) => behind(&mut group, &mut out)?.rir = Some(rir),
            Atom::Failed => behind(&mut group, &mut out)?.rir = Some(0.0),
            Atom::Attempts => {
                group.failed = order.attempts;
                group.rir = Some(0.0);
            }
            Atom::Rest(seconds) => behind(&mut group, &mut out)?.rest_s = Some(seconds),
            Atom::Sum(sum) => behind(&mut group, &mut out)?.sum = Some(sum),
            Atom::Again => {
                close(&mut group, &mut out);
                if joint.is_some() || out.is_empty() {
                    return None;
                }
                group.again = true;
                close(&mut group, &mut out);
            }
            Atom::Body => {
                group.body = Some(group.factors.len());
                joint = None;
            }
        }
        if !group.is_empty() && !matches!(atom, Atom::Joint(_) | Atom::Parting(_)) {
            group.to = at + 1;
        }
    }
    if joint.is_some() || of_last {
        return None;
    }
    close(&mut group, &mut out);
    if order.slash != Between::Joins && order.dash != Between::Joins {
        out.iter_mut().for_each(Group::list_the_rest);
    }
    Some(out)
}

/// Whether a number may be the repetitions of the set behind one of so many.
pub(super) fn is_like(last: &Number, next: &Number) -> bool {
    let (last, next) = (last.num.value, next.num.value);
    next * 2.0 >= last && next <= last * 2.0 && next <= SURELY_LOAD
}

/// Whether a list goes on behind a comma up to a load: `8, 7 at 60`.
fn goes_within(atoms: &[Atom]) -> bool {
    let listed = |atom: &&Atom| match atom {
        Atom::Number(number) => number.said != Said::Load,
        atom => **atom == Atom::Parting(Parting::Comma),
    };
    let list = atoms.iter().take_while(listed).count();
    let [joint, Atom::Number(load), ..] = atoms.get(list..).unwrap_or_default() else {
        return false;
    };
    let joins = matches!(
        joint,
        Atom::Joint(_) | Atom::Parting(Parting::Slash | Parting::Dash)
    );
    list > 0 && joins && (load.said == Said::Load || *joint == Atom::Joint(Joint::At))
}

fn close(group: &mut Group, out: &mut Vec<Group>) {
    let done = std::mem::take(group);
    if !done.is_empty() {
        out.push(done);
    }
}

/// The group that what stands behind it belongs to.
fn behind<'g>(group: &'g mut Group, out: &'g mut [Group]) -> Option<&'g mut Group> {
    if group.is_empty() {
        out.last_mut()
    } else {
        Some(group)
    }
}
