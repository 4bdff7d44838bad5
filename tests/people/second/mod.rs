//! Bodies and habits by the second author, who had not seen the model.

mod bodies;
mod habits;
mod months;
