//! Gradient descent with Adam (Kingma and Ba 2015, arXiv 1412.6980, with decay of the weights as in
//! Loshchilov and Hutter 2019, arXiv 1711.05101; both from memory).

use super::learner::{Learner, Ready, layers};

/// How to fit.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Plan {
    /// What chance is drawn from.
    pub seed: u64,
    /// Times that every message is seen.
    pub rounds: usize,
    /// Messages between two steps.
    pub batch: usize,
    /// Length of the longest step.
    pub rate: f32,
    /// Share by which weights shrink with a step of length 1.
    pub decay: f32,
    /// Shares that are left out: concepts or vector of a word, what was learned of a word, units.
    pub out: [f32; 3],
    /// Words in fewer messages have nothing learned of their own.
    pub kept_from: usize,
}

/// The size of a slope beyond which it is made shorter.
const STEEPEST: f32 = 1.0;

/// Adam's two shares that are kept of what was, and what keeps it from dividing by zero.
const KEPT: (f32, f32) = (0.9, 0.999);
const LEAST: f32 = 1e-8;

pub(super) fn descend(learner: &mut Learner, ready: &[Ready], plan: Plan) {
    #[expect(clippy::cast_precision_loss, reason = "some thousand steps")]
    let number = |count: usize| count as f32;
    let size = learner.weights.len();
    let (mut mean, mut square) = (vec![0.0_f32; size], vec![0.0_f32; size]);
    let mut order: Vec<usize> = (0..ready.len()).collect();
    let steps = plan.rounds * (ready.len() / plan.batch.max(1));
    let warm = (steps / 15).max(1);
    let mut step = 0;
    for _ in 0..plan.rounds {
        for at in (1..order.len()).rev() {
            order.swap(at, learner.chance.below(at + 1));
        }
        for batch in order.chunks_exact(plan.batch.max(1)) {
            step += 1;
            let layers = layers(&learner.weights);
            learner.slope.fill(0.0);
            for &at in batch {
                learner.learn(&ready[at], &layers);
            }
            let share = 1.0 / number(batch.len());
            let steep = learner
                .slope
                .iter()
                .map(|s| s * s * share * share)
                .sum::<f32>()
                .sqrt();
            let share = share * (STEEPEST / steep.max(STEEPEST));
            let rate = if step <= warm {
                plan.rate * number(step) / number(warm)
            } else {
                let done = number(step - warm) / number((steps - warm).max(1));
                plan.rate * (0.02 + 0.98 * 0.5 * (1.0 + (std::f32::consts::PI * done).cos()))
            };
            let grown = (
                1.0 - KEPT.0.powf(number(step)),
                1.0 - KEPT.1.powf(number(step)),
            );
            for at in 0..size {
                let slope = learner.slope[at] * share;
                mean[at] += (1.0 - KEPT.0) * (slope - mean[at]);
                square[at] += (1.0 - KEPT.1) * (slope * slope - square[at]);
                let way = (mean[at] / grown.0) / ((square[at] / grown.1).sqrt() + LEAST);
                learner.weights[at] -= rate * (way + plan.decay * learner.weights[at]);
            }
        }
    }
}
