//! Chance for random cases: the same every time for a seed.

/// `SplitMix64`: Steele GL, Lea D, Flood CH 2014, Fast splittable pseudorandom number generators,
/// OOPSLA, from memory.
pub struct SplitMix64(pub u64);

impl SplitMix64 {
    fn next(&mut self) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.0;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^ (mixed >> 31)
    }

    /// A number from 0 up to, without, this; 0 for 0.
    pub fn below(&mut self, limit: usize) -> usize {
        let limit = u64::try_from(limit.max(1)).unwrap_or(u64::MAX);
        usize::try_from(self.next() % limit).unwrap_or_default()
    }
}
