//! What stands between the bot and its database, and does harm: a TCP proxy on loopback.

use std::io::{Read, Write};
use std::net::{Shutdown, TcpListener, TcpStream};
use std::sync::atomic::{AtomicU8, AtomicU64, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;
use std::time::Duration;

use super::lots::Lots;

/// What becomes of what passes.
#[derive(Clone, Copy)]
#[repr(u8)]
pub enum Weather {
    /// It passes.
    Calm,
    /// Some of it comes late, some connections are cut, and some after half of what was to pass.
    Wild,
    /// Nothing passes, and nobody is told.
    Silent,
}

/// A proxy; it goes on until the process ends.
pub struct Proxy {
    port: u16,
    state: Arc<State>,
}

struct State {
    weather: AtomicU8,
    lots: Mutex<Lots>,
    cut: AtomicU64,
    halved: AtomicU64,
}

/// What is to be done with some bytes.
enum Harm {
    None,
    Late(Duration),
    Cut,
    Halve,
}

impl Proxy {
    /// In front of this port.
    pub fn before(port: u16) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").expect("loopback");
        let own = listener.local_addr().expect("an address").port();
        let state = Arc::new(State {
            weather: AtomicU8::new(Weather::Calm as u8),
            lots: Mutex::new(Lots(23)),
            cut: AtomicU64::new(0),
            halved: AtomicU64::new(0),
        });
        let for_all = Arc::clone(&state);
        thread::spawn(move || {
            for near in listener.incoming().map_while(Result::ok) {
                if let Ok(far) = TcpStream::connect(("127.0.0.1", port)) {
                    join(near, far, &for_all);
                }
            }
        });
        Self { port: own, state }
    }

    /// The port it listens on.
    pub const fn port(&self) -> u16 {
        self.port
    }

    /// From now on.
    pub fn set(&self, weather: Weather) {
        self.state.weather.store(weather as u8, Ordering::Relaxed);
    }

    /// How many connections were cut, and how many of them after half of something.
    pub fn harm(&self) -> (u64, u64) {
        let read = |count: &AtomicU64| count.load(Ordering::Relaxed);
        (read(&self.state.cut), read(&self.state.halved))
    }
}

fn join(near: TcpStream, far: TcpStream, state: &Arc<State>) {
    for stream in [&near, &far] {
        stream.set_nodelay(true).expect("an open socket");
    }
    let again = |stream: &TcpStream| stream.try_clone().expect("one more handle");
    let ways = [(again(&near), again(&far)), (far, near)];
    for (from, to) in ways {
        let state = Arc::clone(state);
        thread::spawn(move || pass(from, to, &state));
    }
}

fn pass(mut from: TcpStream, mut to: TcpStream, state: &State) {
    let mut bytes = [0; 16 * 1024];
    while let Ok(count @ 1..) = from.read(&mut bytes) {
        let some = match state.harm() {
            Harm::None => &bytes[..count],
            Harm::Late(time) => {
                #[expect(clippy::disallowed_methods, reason = "it is late on purpose")]
                thread::sleep(time);
                &bytes[..count]
            }
            Harm::Cut => break,
            Harm::Halve => {
                // The other end gets the beginning of a message, and then the end.
                let _ = to.write_all(&bytes[..count / 2]);
                break;
            }
        };
        if to.write_all(some).is_err() {
            break;
        }
    }
    let _ = to.shutdown(Shutdown::Both);
    let _ = from.shutdown(Shutdown::Both);
}

impl State {
    fn harm(&self) -> Harm {
        let is = |weather: Weather| self.weather.load(Ordering::Relaxed) == weather as u8;
        while is(Weather::Silent) {
            #[expect(clippy::disallowed_methods, reason = "it waits in a thread of its own")]
            thread::sleep(Duration::from_millis(20));
        }
        if is(Weather::Calm) {
            return Harm::None;
        }
        let mut lots = self.lots.lock().expect("nobody panics with it");
        match lots.below(400) {
            0 => {
                self.cut.fetch_add(1, Ordering::Relaxed);
                Harm::Cut
            }
            1 => {
                self.cut.fetch_add(1, Ordering::Relaxed);
                self.halved.fetch_add(1, Ordering::Relaxed);
                Harm::Halve
            }
            2..20 => Harm::Late(Duration::from_millis(lots.below(15) as u64)),
            _ => Harm::None,
        }
    }
}
