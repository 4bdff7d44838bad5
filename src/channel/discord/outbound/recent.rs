//! A cache that forgets the oldest entries.

use std::collections::HashMap;
use std::hash::Hash;

/// Entries in a generation.
const KEPT: usize = 20_000;

/// Keeps the latest entries: at least [`KEPT`] of them, at most twice as many.
#[derive(Debug)]
pub struct Recent<K, V> {
    young: HashMap<K, V>,
    old: HashMap<K, V>,
}

impl<K, V> Default for Recent<K, V> {
    fn default() -> Self {
        Self {
            young: HashMap::new(),
            old: HashMap::new(),
        }
    }
}

impl<K: Eq + Hash, V> Recent<K, V> {
    /// Keeps an entry; the one before it under the same key.
    pub fn put(&mut self, key: K, value: V) -> Option<V> {
        if self.young.len() >= KEPT {
            self.old = std::mem::take(&mut self.young);
        }
        let old = self.old.remove(&key);
        self.young.insert(key, value).or(old)
    }

    /// The entry, if it is kept.
    pub fn get(&self, key: &K) -> Option<&V> {
        self.young.get(key).or_else(|| self.old.get(key))
    }

    /// Forgets an entry.
    pub fn remove(&mut self, key: &K) -> Option<V> {
        let old = self.old.remove(key);
        self.young.remove(key).or(old)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_latest_entries_are_kept_and_the_oldest_forgotten() {
        let mut recent = Recent::default();
        for n in 0..3 * KEPT {
            recent.put(n, n);
        }
        assert_eq!(recent.get(&(3 * KEPT - 1)), Some(&(3 * KEPT - 1)));
        assert_eq!(recent.get(&(2 * KEPT)), Some(&(2 * KEPT)));
        assert_eq!(recent.get(&0), None);
        assert_eq!(recent.put(3 * KEPT - 1, 7), Some(3 * KEPT - 1));
    }
}
