//! What a message is, and how sure that is.
//!
//! Learned decisions over words and concepts: `features` says what a message is weighed by, `model` weighs it, `train` fits a
//! model to labelled messages; `net` weighs the words in their order, `net/fit` fits it. `pain`, `report` and `talk/asked`
//! are the decisions made this way. The others read by their words: `ask`, `ready`, `correct`, `amend`, `feel`.

pub mod absence;
pub mod amend;
pub mod announce;
pub(crate) mod ask;
pub mod carry_on;
pub(crate) mod classifier;
pub(crate) mod correct;
pub(super) mod features;
pub mod feel;
pub(crate) mod light;
pub(crate) mod limiting_factor;
pub mod model;
pub(super) mod net;
pub mod next_set;
pub mod no_injury;
pub mod own_name;
pub mod pain;
pub(crate) mod ready;
pub mod report;
pub(crate) mod signs;
pub mod talk;
pub(super) mod train;
