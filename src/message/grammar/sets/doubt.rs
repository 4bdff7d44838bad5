//! Numbers that can be read in more than one way: each reading as drafts, to be offered.

use super::super::core::{self, LoadPart};
use super::super::item::Num;
use super::{GroupFiler, LIGHTEST_BAR};
use crate::domain::quantities::effort::Rir;
use crate::domain::quantities::mass::Mass;
use crate::message::reading::{Draft, Need, is_far_lighter};

impl GroupFiler<'_> {
    /// `8 10` and `10 @ 8`: either number may be the load.
    pub(super) fn two(&mut self, a: f64, b: f64) {
        if self.is_body() && self.group.core.reps.len() == 2 {
            if let Some(load) = self.hung_load() {
                return self.settled(load, &[b]);
            }
            return self.settled(LoadPart::None, &self.group.core.reps.clone());
        }
        let by_at = self.group.core.reps.len() == 1;
        let (first, second) = if by_at { (b, a) } else { (a, b) };
        let number = |value| {
            LoadPart::Num(Num {
                value,
                ..Num::default()
            })
        };
        // `24, 15 reps`
        let told = self.group.core.said_reps && !by_at;
        let mut readings: Vec<Vec<Draft>> = self
            .loads_among([(first, second), (second, first)])
            .filter(|(_, reps)| !told || (reps - b).abs() < 0.1)
            .map(|(load, reps)| vec![self.draft(number(load), reps, 0)])
            .collect();
        if by_at {
            let rir = Rir::from_rpe(b).ok();
            readings.push(vec![Draft {
                rir,
                ..self.draft(LoadPart::None, a, 0)
            }]);
        } else {
            let both = [a, b].map(|reps| self.draft(LoadPart::None, reps, 0));
            readings.push(both.to_vec());
        }
        self.open(readings);
    }

    /// `3x10 @ 8`: the number may be the load, or RPE with the load left out.
    pub(super) fn sets_at(&mut self, number: f64) {
        let reps = self.group.core.reps.clone();
        let load = LoadPart::Num(Num {
            value: number,
            ..Num::default()
        });
        let as_load: Vec<_> = reps.iter().map(|reps| self.draft(load, *reps, 0)).collect();
        let rir = Rir::from_rpe(number).ok();
        let as_rpe = reps
            .iter()
            .map(|reps| Draft {
                rir,
                ..self.draft(LoadPart::None, *reps, 0)
            })
            .collect();
        let as_load = self.loads_among([(number, 0.0)]).map(|_| as_load.clone());
        self.open(as_load.chain([as_rpe]).collect());
    }

    /// `5x100kg x3`: three sets of five or five of three.
    pub(super) fn crossed(&mut self, a: f64, c: f64) {
        let load = self.group.core.load;
        let sets = |count: f64, reps| {
            let count = core::count(count).unwrap_or(1);
            (0..count).map(|_| self.draft(load, reps, 0)).collect()
        };
        let readings = vec![sets(a, c), sets(c, a)];
        self.open(readings);
    }

    /// `100x8 3`: three sets, one more of three, or three in reserve.
    pub(super) fn tail(&mut self, number: f64) {
        let core = &self.group.core;
        let reps = core.reps.first().copied().unwrap_or_default();
        let set = self.draft(core.load, reps, 0);
        let count = core::count(number).unwrap_or(1);
        let next = self.draft(core.load, number, 0);
        let left = Draft {
            rir: Rir::new(number).ok(),
            ..set.clone()
        };
        let sets = vec![set.clone(); count];
        self.open(vec![sets, vec![set, next], vec![left]]);
    }

    pub(super) fn rivals(&mut self, readings: &[(Option<f64>, f64)]) {
        let made = readings
            .iter()
            .map(|(load, reps)| {
                let load = load.map_or(LoadPart::None, |value| {
                    LoadPart::Num(Num {
                        value,
                        ..Num::default()
                    })
                });
                vec![self.draft(load, *reps, 0)]
            })
            .collect();
        self.open(made);
    }

    /// Those numbers that can be the load of this exercise, each with the repetitions beside it. No
    /// bar is so light, and nobody goes down to so little of what was lifted just now; where
    /// nothing was, one of them may be it all the same.
    fn loads_among<const N: usize>(
        &self,
        pairs: [(f64, f64); N],
    ) -> impl Iterator<Item = (f64, f64)> {
        let fits = pairs.map(|(load, _)| self.is_a_load(load));
        let all = self.last().is_none() && !fits.contains(&true);
        pairs
            .into_iter()
            .zip(fits)
            .filter(move |(_, fits)| *fits || all)
            .map(|(pair, _)| pair)
    }

    fn is_a_load(&self, value: f64) -> bool {
        let bar = self.is_on_bar() && value < LIGHTEST_BAR;
        let far = self.last().is_some_and(|last| {
            Mass::new(value, self.filing.unit)
                .is_ok_and(|mass| is_far_lighter(mass, last.load.mass))
        });
        !bar && !far
    }

    /// Offers the readings. One alone that lacks something is what was meant: that is asked for.
    pub(super) fn open(&mut self, readings: Vec<Vec<Draft>>) {
        let lacks_load = |drafts: &Vec<Draft>| drafts.iter().all(|draft| draft.load.is_none());
        if let [only] = readings.as_slice()
            && lacks_load(only)
        {
            self.out.need(Need::Load);
            self.out.drafts.extend_from_slice(only);
            return;
        }
        self.out.need(Need::WhichReading);
        let at = self.out.drafts.len();
        let blank = Draft {
            load: None,
            reps: None,
            ..self.draft(LoadPart::None, 0.0, 0)
        };
        self.out.drafts.push(blank);
        if self.out.rivals.is_empty() {
            self.out.rival_at = Some((at, 1));
            self.out.rivals = readings;
        }
    }
}
