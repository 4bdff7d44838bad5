//! The handbook's table of loads and repetitions, for comparison and tests.
//!
//! It is a table, not a curve: where it has no row there is no answer. The equations are in
//! [`super::equations`], what advice rests on is the learned curve.

use super::mass::{Mass, MassError};

/// Repetitions allowed, and the load in percent of the one-repetition maximum (1RM).
///
/// *Valid for*: 1 to 12 and 15 repetitions; the table has no rows for 13 and 14.
///
/// *Source*: Haff GG, Triplett NT, eds. 2016, Essentials of Strength Training and Conditioning, 4th
/// ed., Champaign IL, chapter 17. The association's one-page load chart prints 70 for 12
/// repetitions where the handbook has 67 (the row of 12 is from memory).
pub const ROWS: [(u32, u32); 13] = [
    (1, 100),
    (2, 95),
    (3, 93),
    (4, 90),
    (5, 87),
    (6, 85),
    (7, 83),
    (8, 80),
    (9, 77),
    (10, 75),
    (11, 70),
    (12, 67),
    (15, 65),
];

/// The load for `reps` repetitions as a share of the 1RM, 0.65 to 1; `None` where the table has no
/// row.
///
/// ```
/// use chalkbell::domain::quantities::handbook;
///
/// assert_eq!(handbook::share(8), Some(0.80));
/// assert_eq!(handbook::share(13), None);
/// ```
pub fn share(reps: u32) -> Option<f64> {
    let row = ROWS.iter().find(|row| row.0 == reps);
    row.map(|&(_, percent)| f64::from(percent) / 100.0)
}

/// The one-repetition maximum of a lifter who can do at most `reps` repetitions with `load`;
/// `None` where the table has no row.
///
/// # Errors
/// [`MassError`] when the result is beyond 100 t.
///
/// ```
/// use chalkbell::domain::quantities::{handbook, mass::Mass};
///
/// let one_rm = handbook::one_rm(Mass::from_kg(80.0)?, 8)?;
/// assert_eq!(one_rm, Some(Mass::from_kg(100.0)?));
/// # Ok::<(), chalkbell::domain::quantities::mass::MassError>(())
/// ```
pub fn one_rm(load: Mass, reps: u32) -> Result<Option<Mass>, MassError> {
    share(reps)
        .map(|share| Mass::from_kg(load.in_kg() / share))
        .transpose()
}
