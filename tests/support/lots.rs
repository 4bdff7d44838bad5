//! Chance that comes out the same every time.

/// Numbers that look drawn by lot and are the same every time (a linear congruence; constants of
/// Knuth's MMIX, from memory).
pub struct Lots(pub u64);

impl Lots {
    /// A number from 0 up to, without, this.
    pub fn below(&mut self, bound: usize) -> usize {
        self.0 = self
            .0
            .wrapping_mul(6_364_136_223_846_793_005)
            .wrapping_add(1_442_695_040_888_963_407);
        usize::try_from(self.0 >> 33).unwrap() % bound
    }

    /// One of these.
    pub fn of<'a>(&mut self, list: &[&'a str]) -> &'a str {
        list[self.below(list.len())]
    }
}
