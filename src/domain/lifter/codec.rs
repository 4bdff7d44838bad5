//! A row of numbers as bytes and back, bit for bit.
//!
//! What the numbers mean, and the version in front, is the business of the type that is kept.

/// Writes numbers one behind the other, little end first.
#[derive(Debug, Default)]
pub(crate) struct Writer(Vec<u8>);

impl Writer {
    /// Starts with a version.
    pub(crate) fn new(version: u8) -> Self {
        Self(vec![version])
    }

    pub(crate) fn byte(&mut self, value: u8) {
        self.0.push(value);
    }

    pub(crate) fn int(&mut self, value: i64) {
        self.0.extend_from_slice(&value.to_le_bytes());
    }

    pub(crate) fn real(&mut self, value: f64) {
        self.0.extend_from_slice(&value.to_bits().to_le_bytes());
    }

    pub(crate) fn reals<'a>(&mut self, values: impl IntoIterator<Item = &'a f64>) {
        for value in values {
            self.real(*value);
        }
    }

    pub(crate) fn finish(self) -> Vec<u8> {
        self.0
    }
}

/// Reads what [`Writer`] wrote; every read is `None` once the bytes run out.
#[derive(Debug)]
pub(crate) struct Reader<'a>(&'a [u8]);

impl<'a> Reader<'a> {
    /// Reads behind the version, which must be the one given.
    pub(crate) fn new(version: u8, bytes: &'a [u8]) -> Option<Self> {
        let (first, rest) = bytes.split_first()?;
        (*first == version).then_some(Self(rest))
    }

    pub(crate) fn byte(&mut self) -> Option<u8> {
        let (first, rest) = self.0.split_first()?;
        self.0 = rest;
        Some(*first)
    }

    pub(crate) fn int(&mut self) -> Option<i64> {
        let (first, rest) = self.0.split_first_chunk::<8>()?;
        self.0 = rest;
        Some(i64::from_le_bytes(*first))
    }

    /// A number; `None` too where it is not finite, which is never written.
    pub(crate) fn real(&mut self) -> Option<f64> {
        let (first, rest) = self.0.split_first_chunk::<8>()?;
        self.0 = rest;
        let value = f64::from_bits(u64::from_le_bytes(*first));
        value.is_finite().then_some(value)
    }

    pub(crate) fn fill<'v>(&mut self, values: impl IntoIterator<Item = &'v mut f64>) -> Option<()> {
        for value in values {
            *value = self.real()?;
        }
        Some(())
    }

    /// Whether everything was read.
    pub(crate) fn is_done(&self) -> bool {
        self.0.is_empty()
    }
}
