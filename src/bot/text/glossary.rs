//! Words of the trade, in plain sentences.

use crate::message::intent::talk::Term;

/// What a word means.
pub const fn meaning(term: Term) -> &'static str {
    match term {
        Term::Rir => {
            "RIR means reps in reserve: how many more good reps you could have done when you stopped. \
             Post it as `2 left`, or `to failure` when there were none."
        }
        Term::Rpe => {
            "RPE here is effort on a scale up to 10: 10 is a set to failure, 8 means that about 2 reps \
             were left. I understand `@8`, and show it as reps left."
        }
        Term::Counted => {
            "A set counts when it is hard enough to build muscle: 5 to 30 reps, no more than 3 left, and the target muscle gave out first. It adds 1 to its target muscle \
             and a half to each helper. Ask `did that count?` after a set."
        }
        Term::Direct => {
            "A direct set is one whose target is that muscle: bench press is direct for chest. For \
             triceps, which only help, the same set adds a half."
        }
        Term::Straight => {
            "Straight sets are sets of one exercise at the same load, with a full rest between them. \
             The reps may fall from set to set."
        }
        Term::WarmUp => {
            "A warm-up set is a light set before the first hard one. It is logged when you say so, like \
             `warm-up 40x8`, and never counts. `/warmup squat` shows the way up to your load."
        }
        Term::DropSet => {
            "In a drop set you take weight off and go on without rest. The first part counts as a set, \
             and all that follows counts as one more at most. Post it like `bench 80x8, drop 60x6`."
        }
        Term::RestPause => {
            "In a rest-pause set you stop for a few breaths and go on with the same load. The first part \
             counts as a set, and all that follows counts as one more at most. Post it like `bench \
             80x10+4+3 rest pause`."
        }
        Term::Superset => {
            "A superset is two exercises done in turn. Each of them is logged and counted as a set of its \
             own. Post it like `bench 60x10 superset row 60x12`. It saves time where the two don't tire each other: `/fit 30 pairs` looks for such pairs."
        }
        Term::Block => {
            "A block is a row of weeks that belong together: the coach sets how hard each week is, often \
             with a lighter week at the end. `/block` shows yours."
        }
        Term::Plan => {
            "The plan says which exercises you do on which day, with sets, reps and effort. Your coach \
             writes it; `/plan` shows it, `/today` shows today's part."
        }
        Term::Target => {
            "A target is the number of counted sets a week that your coach wants for a muscle. \
             `/target` shows yours."
        }
        Term::Deload => {
            "A deload is a lighter week on purpose, with fewer or easier sets, so that you recover. A \
             coach sets it in the block. In such a week what counts is that you did what was asked."
        }
        Term::OneRepMax => {
            "Your one-rep max is the most you could lift once. I estimate it from your sets (e1RM), so \
             it always comes with a range; there is no need to test it. `/best bench` shows yours."
        }
        Term::Failure => {
            "A set to failure ends when you can't do another rep. Post it as `to failure`. You don't \
             need it often: sets with 1 to 3 reps left count just as well."
        }
        Term::Volume => {
            "Volume is the number of counted sets for a muscle in a week. `/volume quads` shows one \
             muscle, `/week` all of them."
        }
        Term::Helpers => {
            "Helper muscles assist in a lift without being its target, like triceps in a bench press. \
             A counted set adds a half to each. If they give out first, the set does not count."
        }
        Term::Bell => {
            "The bell is my message when your rest is over. It comes for you alone. `/rest off` turns it \
             off, `/rest private` sends it as a direct message."
        }
        Term::Card => {
            "The card is my answer to a set: what to load next, how long to rest, and today's sets of \
             that exercise. I keep changing the same message, so that the channel stays readable."
        }
        Term::Interval => {
            "A range like 7–10 reps says how sure I am: 8 times in 10 you should end within it. The more \
             sets you post with reps left, the narrower it gets."
        }
        Term::Aim => {
            "The aim is the number of counted sets a week for a muscle: your coach's target, else what \
             the plan asks for, else what studies found useful. `/target` shows yours."
        }
        Term::Hypertrophy => {
            "Hypertrophy means that muscles grow. Training for it is about enough hard sets for each \
             muscle, week after week. `/week` shows how many you had."
        }
        Term::WorkSet => {
            "A work set is a set that is meant to be hard: everything but the warm-up. Post it like \
             `bench 60x10, 2 left`."
        }
        Term::Rep => "A rep is one repetition: down and up once. `60x10` means 10 reps with 60.",
        Term::Checks => {
            "Before a set, ask yourself four things: is the muscle ready, are the helper muscles ready, \
             have you got your breath back, and do you want to go? The buttons under the card say which \
             one is missing. (Common practice.)"
        }
        Term::Amrap => {
            "AMRAP means as many reps as possible: a set to failure, or close to it. Post what came of \
             it, like `60x14 to failure`."
        }
        Term::Tempo => {
            "Tempo is how fast you move, and a paused rep stops for a moment. Such sets are straight \
             sets: post them as usual, like `paused bench 60x8, 2 left`."
        }
        Term::Compound => {
            "A compound exercise moves several joints and trains several muscles, like a squat. An \
             isolation exercise moves one, like a curl. `/catalogue squat` shows which muscles one trains."
        }
    }
}
