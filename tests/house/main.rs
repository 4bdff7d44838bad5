//! What holds of the source itself: its rooms, its SQL, and what the README shows.

mod circles;
mod readme;
mod rooms;
mod statements;
