//! Bad weather between a phone and the server: each request may be lost on its way there, cut in the middle, answered by an error
//! that the server never gave, done without its answer coming back, or answered in half.

use std::io::{Read as _, Write as _};
use std::net::{Shutdown, SocketAddr, TcpListener, TcpStream};
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::sync::{Arc, Mutex};
use std::thread;

use fastrand::Rng;

/// What becomes of one request.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Fault {
    LostOnTheWay,
    CutOnTheWay,
    AnswerLost,
    AnswerCut,
    Says(u16),
}

pub(crate) const FAULTS: [Fault; 9] = [
    Fault::LostOnTheWay,
    Fault::CutOnTheWay,
    Fault::AnswerLost,
    Fault::AnswerCut,
    Fault::Says(500),
    Fault::Says(503),
    Fault::Says(429),
    Fault::Says(412),
    Fault::Says(507),
];

/// How bad it is.
struct Weather {
    /// Of a hundred requests, how many meet a fault.
    faults: u32,
    rng: Rng,
}

pub(crate) struct Proxy {
    pub(crate) at: SocketAddr,
    server: Arc<Mutex<SocketAddr>>,
    weather: Arc<Mutex<Weather>>,
    tagless: Arc<AtomicBool>,
    /// How many requests met a fault.
    pub(crate) met: Arc<AtomicUsize>,
}

impl Proxy {
    pub(crate) fn before(server: SocketAddr, seed: u64) -> Self {
        let listener = TcpListener::bind("127.0.0.1:0").expect("a port");
        let at = listener.local_addr().expect("an address");
        let weather = Arc::new(Mutex::new(Weather { faults: 0, rng: Rng::with_seed(seed) }));
        let met = Arc::new(AtomicUsize::new(0));
        let server = Arc::new(Mutex::new(server));
        let tagless = Arc::new(AtomicBool::new(false));
        let (sky, count, there) = (Arc::clone(&weather), Arc::clone(&met), Arc::clone(&server));
        let hides = Arc::clone(&tagless);
        // It ends with the test's process.
        thread::spawn(move || {
            for phone in listener.incoming().flatten() {
                let fault = {
                    let mut sky = sky.lock().expect("nobody panicked");
                    let bad = sky.rng.u32(0..100) < sky.faults;
                    bad.then(|| FAULTS[sky.rng.usize(0..FAULTS.len())])
                };
                count.fetch_add(usize::from(fault.is_some()), Ordering::Relaxed);
                // A phone that hangs up is part of the weather.
                let server = *there.lock().expect("nobody panicked");
                let _ = pass(phone, server, fault, hides.load(Ordering::Relaxed));
            }
        });
        Self { at, server, weather, tagless, met }
    }

    /// From now on the server is one that has no entity tags.
    pub(crate) fn hide_tags(&self) {
        self.tagless.store(true, Ordering::Relaxed);
    }

    /// From now on requests go to another server.
    pub(crate) fn lead_to(&self, server: SocketAddr) {
        *self.server.lock().expect("nobody panicked") = server;
    }

    /// From now on so many of a hundred requests meet a fault.
    pub(crate) fn faults(&self, of_a_hundred: u32) {
        self.weather.lock().expect("nobody panicked").faults = of_a_hundred;
    }
}

fn pass(mut phone: TcpStream, server: SocketAddr, fault: Option<Fault>, tagless: bool) -> std::io::Result<()> {
    let request = whole_request(&mut phone)?;
    match fault {
        Some(Fault::LostOnTheWay) => return Ok(()),
        Some(Fault::Says(status)) => {
            let answer = format!("HTTP/1.1 {status} By the weather\r\nContent-Length: 0\r\nConnection: close\r\n\r\n");
            return phone.write_all(answer.as_bytes());
        }
        _ => {}
    }
    let mut there = TcpStream::connect(server)?;
    if fault == Some(Fault::CutOnTheWay) {
        let body = request.windows(4).position(|four| four == b"\r\n\r\n").map_or(0, |at| at + 4);
        there.write_all(&request[..body + (request.len() - body) / 2])?;
        there.shutdown(Shutdown::Write)?;
        // Until the server is done with what it got.
        let _ = there.read_to_end(&mut Vec::new());
        return Ok(());
    }
    there.write_all(&request)?;
    let mut answer = Vec::new();
    there.read_to_end(&mut answer)?;
    if tagless {
        rename(&mut answer, b"ETag:", b"Gone:");
        rename(&mut answer, b"getetag", b"getgone");
    }
    match fault {
        Some(Fault::AnswerLost) => Ok(()),
        Some(Fault::AnswerCut) => phone.write_all(&answer[..answer.len() / 2]),
        _ => phone.write_all(&answer),
    }
}

/// Writes something else of the same length wherever a name stands.
fn rename(answer: &mut [u8], name: &[u8], other: &[u8]) {
    for at in 0..answer.len().saturating_sub(name.len()) {
        if answer[at..].starts_with(name) {
            answer[at..at + name.len()].copy_from_slice(other);
        }
    }
}

fn whole_request(phone: &mut TcpStream) -> std::io::Result<Vec<u8>> {
    let (mut read, mut piece) = (Vec::new(), [0; 16_384]);
    loop {
        if let Some(head) = read.windows(4).position(|four| four == b"\r\n\r\n") {
            let words = String::from_utf8_lossy(&read[..head]).to_ascii_lowercase();
            let length = words.lines().find_map(|line| line.strip_prefix("content-length:")?.trim().parse().ok());
            if read.len() >= head + 4 + length.unwrap_or(0) {
                return Ok(read);
            }
        }
        match phone.read(&mut piece)? {
            0 => return Err(std::io::ErrorKind::UnexpectedEof.into()),
            count => read.extend_from_slice(&piece[..count]),
        }
    }
}
