//! A run-time for tests that block, too, and so begin it themselves.

/// Runs it to its end.
pub fn run(test: impl Future<Output = ()>) {
    tokio::runtime::Builder::new_current_thread()
        .enable_all()
        .build()
        .expect("a run-time")
        .block_on(test);
}
