//! The model of a lifter and the advice from it: cases, laws, simulated bodies, brute force.

mod domain_properties;
mod fit_brute_force;
mod joint_map;
mod next_set_cases;
mod obeyed;
mod priors;
mod properties;
mod simulated_lifters;
mod simulated_progress;
#[path = "../simulators/mod.rs"]
mod simulators;
#[path = "../support/mod.rs"]
mod support;
mod wide_inputs;
