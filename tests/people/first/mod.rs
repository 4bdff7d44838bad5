//! Bodies, behaviours and everyday cases by the first author.

mod bodies;
mod cases;
mod habits;
mod weeks;
