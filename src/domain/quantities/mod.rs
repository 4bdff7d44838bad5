//! Quantities of the trade: masses, loads, efforts, exercises, days, and the population's figures.

pub mod aim;
pub mod body;
pub mod calendar;
pub mod catalogue;
pub mod check;
pub mod effort;
pub mod equations;
pub mod handbook;
pub mod id;
pub mod learned_priors;
pub mod lift_class;
pub mod limits;
pub mod load;
pub mod mass;
pub mod priors;
pub mod rack;
pub mod status;
pub mod warning;
pub mod weekly;
pub(crate) mod worded;
