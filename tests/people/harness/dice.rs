//! A small deterministic generator.

/// Chance from a seed (splitmix64, public domain algorithm).
#[derive(Clone, Debug)]
pub struct Dice(u64);

impl Dice {
    pub fn new(seed: u64) -> Self {
        Self(seed.wrapping_mul(0xD134_2543_DE82_EF95) ^ 0x5851_F42D_4C95_7F2D)
    }

    /// Uniform on 0 to 1.
    pub fn uniform(&mut self) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        ((z ^ (z >> 31)) >> 11) as f64 / (1u64 << 53) as f64
    }

    /// Standard normal.
    pub fn normal(&mut self) -> f64 {
        let (a, b) = (self.uniform().max(1e-12), self.uniform());
        (-2.0 * a.ln()).sqrt() * (std::f64::consts::TAU * b).cos()
    }

    /// Log-normal about `middle`.
    pub fn log_normal(&mut self, middle: f64, spread: f64) -> f64 {
        middle * (spread * self.normal()).exp()
    }

    pub fn chance(&mut self, share: f64) -> bool {
        self.uniform() < share
    }
}
