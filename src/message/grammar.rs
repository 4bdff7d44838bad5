//! The grammar of what messages report: every way in which the numbers of a line can be sets, and
//! how well each is borne out.

pub(super) mod notation;
