//! A phone: a ledger, files of photos, a disk that survives it, and HTTP by hand over a socket.

use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::future::{Future, ready};
use std::io::{Read as _, Write as _};
use std::net::{SocketAddr, TcpStream};
use std::pin::pin;
use std::task::{Context, Poll, Waker};
use std::time::Duration;

use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use trammel::folder::{Answer, Dropped, Local, Memory, Method, Outcome, Request, Trouble, Wire, bring_into_step};
use trammel::procedure::examples;
use trammel::record::{About, AirframeId, Body, Digest, Entry, EntryId, Photo};
use trammel::report::{photos_of, read_json, write_json};
use uuid::Uuid;

use super::server::{NAME, PASSWORD};
use crate::support::Logbook;

pub(crate) struct Phone {
    book: RefCell<Logbook>,
    /// Under which device its files stand in the folder.
    pub(crate) identity: Uuid,
    pub(crate) jpegs: RefCell<BTreeMap<Digest, Vec<u8>>>,
    pub(crate) memory: Memory,
    pub(crate) wire: Socket,
    /// What this phone said that it had kept.
    pub(crate) acknowledged: BTreeSet<EntryId>,
    /// Its storage takes nothing.
    pub(crate) full: Cell<bool>,
}

impl Phone {
    /// A phone with an airframe and some of its numbers on it, or one with nothing; number 1 to 255.
    pub(crate) fn new(number: u8, with_airframe: bool, at: SocketAddr, folder: &str) -> Self {
        let mut book = Logbook::empty();
        book.device = Uuid::from_u128(0x0192_0000_0000_7000_8000_0000_0000_0000 + u128::from(number));
        if with_airframe {
            let example = &examples()[0];
            book.put(Body::AirframeMade { details: example.details.clone() });
            for (key, value) in example.specification.iter().take(8) {
                book.specify(key, value.clone(), &example.source);
            }
        }
        let wire = Socket {
            at,
            folder: folder.to_owned(),
            password: PASSWORD.to_owned(),
            paused: Cell::new(0),
            sent: Cell::new(0),
            before_put: RefCell::new(None),
        };
        let acknowledged = book.ledger.entries().map(|entry| entry.id).collect();
        Self {
            identity: book.device,
            book: RefCell::new(book),
            jpegs: RefCell::default(),
            memory: Memory::default(),
            wire,
            acknowledged,
            full: Cell::new(false),
        }
    }

    pub(crate) fn note(&mut self, text: String) {
        let about = About { run: None, step: None, entry: None };
        let kept = self.book.borrow_mut().put(Body::NoteMade { about, text, spoken: false });
        self.acknowledged.insert(kept);
    }

    pub(crate) fn photograph(&mut self, (photo, jpeg): (Photo, Vec<u8>)) {
        let about = About { run: None, step: None, entry: None };
        self.jpegs.borrow_mut().insert(photo.digest, jpeg);
        let kept = self.book.borrow_mut().put(Body::PhotoAttached { about, photo, caption: String::new() });
        self.acknowledged.insert(kept);
    }

    pub(crate) fn bring_into_step(&mut self) -> Result<Outcome, Trouble> {
        // As it is kept between two times that the app is open.
        let mut memory = Memory::read(&self.memory.to_string());
        let outcome = wait_for(bring_into_step(&self.wire, self, &mut memory));
        self.memory = memory;
        outcome
    }

    pub(crate) fn ids(&self) -> BTreeSet<EntryId> {
        self.book.borrow().ledger.entries().map(|entry| entry.id).collect()
    }

    /// The whole record as a file.
    pub(crate) fn text(&self) -> String {
        write_json(self.book.borrow().ledger.entries())
    }

    /// It dies and starts again from what is on its disk.
    pub(crate) fn restart(&self) {
        let kept = read_json(&self.text()).expect("what was written");
        let mut book = self.book.borrow_mut();
        book.ledger = trammel::record::Ledger::default();
        book.ledger.merge(kept);
    }
}

impl Local for Phone {
    fn device(&self) -> Uuid {
        self.identity
    }

    fn airframes(&self) -> Vec<AirframeId> {
        self.book.borrow().ledger.airframes().iter().map(|airframe| airframe.id).collect()
    }

    fn entries(&self, airframe: AirframeId) -> Vec<Entry> {
        self.book.borrow().ledger.of(airframe).cloned().collect()
    }

    fn merge(&self, entries: Vec<Entry>) -> impl Future<Output = Result<usize, String>> {
        let full = || Err("The phone's storage is full.".to_owned());
        ready(if self.full.get() { full() } else { Ok(self.book.borrow_mut().ledger.merge(entries).added.len()) })
    }

    fn photos(&self) -> impl Future<Output = Result<Vec<(Photo, bool)>, String>> {
        let named = photos_of(&self.book.borrow().ledger, &self.airframes());
        ready(Ok(named
            .into_iter()
            .map(|photo| (photo.clone(), self.jpegs.borrow().contains_key(&photo.digest)))
            .collect()))
    }

    fn photo(&self, digest: Digest) -> impl Future<Output = Result<Option<Vec<u8>>, String>> {
        ready(Ok(self.jpegs.borrow().get(&digest).cloned()))
    }

    fn keep_photo(&self, digest: Digest, jpeg: Vec<u8>) -> impl Future<Output = Result<(), String>> {
        self.jpegs.borrow_mut().insert(digest, jpeg);
        ready(Ok(()))
    }
}

/// HTTP/1.1, a connection for each request.
pub(crate) struct Socket {
    pub(crate) at: SocketAddr,
    /// With a slash before and behind.
    pub(crate) folder: String,
    pub(crate) password: String,
    /// How many milliseconds it was told to wait in all. It does not.
    pub(crate) paused: Cell<u32>,
    /// How many requests it made.
    pub(crate) sent: Cell<usize>,
    /// What happens, once, just before it writes a file.
    pub(crate) before_put: RefCell<Option<Box<dyn FnOnce()>>>,
}

impl Socket {
    fn exchange(&self, request: &Request<'_>) -> Option<Answer> {
        self.sent.set(self.sent.get() + 1);
        if request.method == Method::Put
            && let Some(happens) = self.before_put.take()
        {
            happens();
        }
        let mut stream = TcpStream::connect(self.at).ok()?;
        stream.set_read_timeout(Some(Duration::from_secs(20))).ok()?;
        let who = STANDARD.encode(format!("{NAME}:{}", self.password));
        let mut head = format!(
            "{} {}{} HTTP/1.1\r\nHost: {}\r\nAuthorization: Basic {who}\r\nContent-Length: {}\r\nConnection: close\r\n",
            request.method.word(),
            self.folder,
            request.path,
            self.at,
            request.body.len()
        );
        for (name, value) in &request.headers {
            head.push_str(&format!("{name}: {value}\r\n"));
        }
        head.push_str("\r\n");
        stream.write_all(&[head.as_bytes(), request.body].concat()).ok()?;
        let mut read = Vec::new();
        stream.read_to_end(&mut read).ok()?;
        let at = read.windows(4).position(|four| four == b"\r\n\r\n")?;
        let head = String::from_utf8_lossy(&read[..at]).into_owned();
        let field = |name: &str| {
            head.lines()
                .find_map(|line| line.split_once(':').filter(|(field, _)| field.eq_ignore_ascii_case(name)))
                .map(|(_, value)| value.trim())
        };
        let mut body = read.split_off(at + 4);
        if field("Transfer-Encoding") == Some("chunked") {
            body = unchunked(&body)?;
        } else if let Some(length) = field("Content-Length") {
            let length: usize = length.parse().ok()?;
            if body.len() < length || body.len() > request.at_most {
                return None;
            }
        }
        Some(Answer {
            status: head.split(' ').nth(1)?.parse().ok()?,
            etag: field("ETag").map(str::to_owned),
            retry_after: field("Retry-After").and_then(|seconds| seconds.parse().ok()),
            body,
        })
    }
}

fn unchunked(mut coded: &[u8]) -> Option<Vec<u8>> {
    let mut body = Vec::new();
    loop {
        let end = coded.windows(2).position(|two| two == b"\r\n")?;
        let size = usize::from_str_radix(std::str::from_utf8(&coded[..end]).ok()?.trim(), 16).ok()?;
        coded = &coded[end + 2..];
        if size == 0 {
            return Some(body);
        }
        body.extend_from_slice(coded.get(..size)?);
        coded = coded.get(size + 2..)?;
    }
}

impl Wire for Socket {
    fn send(&self, request: &Request<'_>) -> impl Future<Output = Result<Answer, Dropped>> {
        ready(self.exchange(request).ok_or(Dropped))
    }

    fn pause(&self, millis: u32) -> impl Future<Output = ()> {
        self.paused.set(self.paused.get() + millis);
        ready(())
    }

    fn chance(&self) -> f64 {
        0.5
    }
}

/// Nothing here ever has to wait for another task.
fn wait_for<T>(future: impl Future<Output = T>) -> T {
    let mut future = pin!(future);
    match future.as_mut().poll(&mut Context::from_waker(Waker::noop())) {
        Poll::Ready(done) => done,
        Poll::Pending => unreachable!("everything here is ready at once"),
    }
}
