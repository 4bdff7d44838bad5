//! Bodies, behaviours and everyday cases by the first author.

mod bodies;
mod habits;
mod weeks;
