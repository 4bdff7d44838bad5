//! Bodies, behaviours and everyday cases by the first author.

mod bodies;
pub mod cases;
mod habits;
mod weeks;
