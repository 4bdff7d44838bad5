//! How right the advice was.

/// Sums over predicted sets of one part of the weeks.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Part {
    pub sets: f64,
    /// Distances from the median said.
    pub error: f64,
    /// Distances from what is expected by one who knows the body but not the chance of the set.
    pub unavoidable: f64,
    /// Signed distances: done over said.
    pub bias: f64,
    /// Sets within the interval said.
    pub held: f64,
    /// Width of those intervals, repetitions.
    pub width: f64,
    /// Sets that count: five to thirty repetitions, three to zero truly left.
    pub counted: f64,
    /// Rests advised before sets at the load of the set before, and those of one who knows the body.
    pub rest: f64,
    pub knowing: f64,
}

impl Part {
    pub fn add(&mut self, other: &Self) {
        self.sets += other.sets;
        self.error += other.error;
        self.unavoidable += other.unavoidable;
        self.bias += other.bias;
        self.held += other.held;
        self.width += other.width;
        self.counted += other.counted;
        self.rest += other.rest;
        self.knowing += other.knowing;
    }

    /// Mean error, repetitions.
    pub fn mean_error(&self) -> f64 {
        self.error / self.sets.max(1.0)
    }

    pub fn mean_unavoidable(&self) -> f64 {
        self.unavoidable / self.sets.max(1.0)
    }

    /// Error over the unavoidable one.
    pub fn ratio(&self) -> f64 {
        self.error / self.unavoidable.max(1e-9)
    }

    pub fn coverage(&self) -> f64 {
        self.held / self.sets.max(1.0)
    }

    pub fn counting(&self) -> f64 {
        self.counted / self.sets.max(1.0)
    }

    pub fn rest_ratio(&self) -> f64 {
        self.rest / self.knowing.max(1.0)
    }

    pub fn line(&self) -> String {
        format!(
            "{:5.0} sets, error {:.2} of {:.2} ({:.2}), bias {:+.2}, held {:.2} (width {:.1}), \
             count {:.2}, rest {:.2}",
            self.sets,
            self.mean_error(),
            self.mean_unavoidable(),
            self.ratio(),
            self.bias / self.sets.max(1.0),
            self.coverage(),
            self.width / self.sets.max(1.0),
            self.counting(),
            self.rest_ratio(),
        )
    }
}

/// What came of one or several people's weeks.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Score {
    /// The first seven days.
    pub first_week: Part,
    /// From the fifteenth day on.
    pub later: Part,
    /// First sessions after three weeks off or more.
    pub after_break: Part,
    /// Logs of true gains and of gains of the opening loads, from the third week to the last.
    pub true_gain: f64,
    pub load_gain: f64,
    /// Questions about true numbers, and sets with true numbers.
    pub needless_questions: f64,
    pub true_sets: f64,
    /// Slips written, and those asked about.
    pub slips: f64,
    pub slips_asked: f64,
}

impl Score {
    pub fn add(&mut self, other: &Self) {
        self.first_week.add(&other.first_week);
        self.later.add(&other.later);
        self.after_break.add(&other.after_break);
        self.true_gain += other.true_gain;
        self.load_gain += other.load_gain;
        self.needless_questions += other.needless_questions;
        self.true_sets += other.true_sets;
        self.slips += other.slips;
        self.slips_asked += other.slips_asked;
    }

    /// Share of the true gain that the opening loads followed.
    pub fn followed(&self) -> f64 {
        self.load_gain / self.true_gain.abs().max(1e-9)
    }

    pub fn show(&self, name: &str) {
        println!("{name}");
        println!("  week one   {}", self.first_week.line());
        println!("  later      {}", self.later.line());
        if self.after_break.sets > 0.0 {
            println!("  after break {}", self.after_break.line());
        }
        println!(
            "  gain {:.3}, followed {:.2}; needless questions {} of {}; slips {} asked {}",
            self.true_gain,
            self.followed(),
            self.needless_questions,
            self.true_sets,
            self.slips,
            self.slips_asked
        );
    }
}
