//! What goes out into channels: the outbox that nothing is lost from, the queues that it is sent from, and
//! how it looks.
//!
//! ```text
//! posting (in the event's transaction) ─▶ outbox ─▶ send_queue ─▶ replies, signs ─▶ http
//!                                           ▲                        │
//!                            what a run left, taken up later        sent
//! ```
//!
//! - `posting`, `outbox`: rows that are kept until they are sent, and whose they are.
//! - `send_queue`, `expiry`: what waits, in which order, and how long.
//! - `replies`, `signs`: what is asked of the platform, decided from the latest committed text.
//! - `body`, `uploads`, `escape`: how it looks.
//! - `sent`, `recent`: where replies stand.
//! - `permissions`: what is missing where a channel forbids it.
//!
//! *Absent:* answers to interactions (`interactions`), which have their own way and time.

pub mod body;
pub mod escape;
pub(crate) mod expiry;
pub mod outbox;
pub mod permissions;
pub mod posting;
pub mod recent;
pub mod replies;
pub mod send_queue;
pub mod sent;
pub mod signs;
pub mod uploads;
