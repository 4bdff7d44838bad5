//! Chance that is drawn from a fixed seed, so that the same messages give the same network.

/// Numbers that look drawn: splitmix64 (Steele, Lea and Flood 2014, from memory).
#[derive(Clone, Debug)]
pub(super) struct Chance(pub(super) u64);

impl Chance {
    /// From 0 up to 1.
    pub(super) fn share(&mut self) -> f32 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^= mixed >> 31;
        #[expect(clippy::cast_precision_loss, reason = "24 bits fit")]
        let share = (mixed >> 40) as f32 / (1_u32 << 24) as f32;
        share
    }

    /// From `-most` to `most`.
    pub(super) fn around(&mut self, most: f32) -> f32 {
        (2.0 * self.share() - 1.0) * most
    }

    /// Zero with a chance of `out`, else what makes up for that.
    pub(super) fn kept(&mut self, out: f32) -> f32 {
        if self.share() < out {
            0.0
        } else {
            1.0 / (1.0 - out)
        }
    }

    pub(super) fn below(&mut self, count: usize) -> usize {
        #[expect(
            clippy::cast_possible_truncation,
            clippy::cast_precision_loss,
            clippy::cast_sign_loss,
            reason = "some ten thousand messages"
        )]
        let drawn = (self.share() * count as f32) as usize;
        drawn.min(count.saturating_sub(1))
    }
}
