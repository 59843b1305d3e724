//! A way out that is watched: a browser that is told to go through it reaches the app's own host, and whatever else it asks for is
//! noted and refused. The page, its workers and the browser itself are seen alike.

use std::io::{self, BufRead as _, BufReader, Write as _};
use std::net::{Ipv4Addr, Shutdown, SocketAddr, TcpListener, TcpStream};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;

use anyhow::{Context, Result};
use url::Url;

/// Whom the browser itself asks, of its own accord and whatever page is open: for updates, the time, suggestions. No file of the app holds
/// one of these names (`Watch::named_in`).
pub(crate) const BROWSERS_OWN: [&str; 4] = [".google.com", ".googleapis.com", ".gvt1.com", ".duckduckgo.com"];

/// A proxy in front of one host. It stands until the test's process ends.
#[derive(Debug)]
pub(crate) struct Gate {
    address: SocketAddr,
    notes: Arc<Notes>,
}

#[derive(Debug)]
struct Notes {
    /// Where requests may go: the address that all of the app's begin with.
    home: String,
    host: SocketAddr,
    passed: Mutex<usize>,
    refused: Mutex<Vec<String>>,
}

impl Gate {
    /// A gate that lets requests to `home` through.
    ///
    /// # Errors
    /// When no port is free, or `home` is no address of a host.
    pub(crate) fn before(home: &Url) -> Result<Self> {
        let listener = TcpListener::bind((Ipv4Addr::LOCALHOST, 0))?;
        let address = listener.local_addr()?;
        let host = *home.socket_addrs(|| None)?.first().context("an address of a host")?;
        let notes = Notes { home: home.to_string(), host, passed: Mutex::default(), refused: Mutex::default() };
        let notes = Arc::new(notes);
        let shared = Arc::clone(&notes);
        thread::spawn(move || {
            for browser in listener.incoming().flatten() {
                let notes = Arc::clone(&shared);
                // A browser that breaks off is no failure of the gate.
                thread::spawn(move || notes.pass(&browser).ok());
            }
        });
        Ok(Self { address, notes })
    }

    /// What Chromium is to be told, so that everything goes through here: even what is asked of this machine.
    #[must_use]
    pub(crate) fn args(&self) -> [String; 2] {
        [format!("--proxy-server=http://{}", self.address), "--proxy-bypass-list=<-loopback>".to_owned()]
    }

    /// How many requests were let through.
    #[must_use]
    pub(crate) fn passed(&self) -> usize {
        *self.notes.passed.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// What else was asked for: method and address of each.
    #[must_use]
    pub(crate) fn refused(&self) -> Vec<String> {
        self.notes.refused.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }
}

impl Notes {
    /// One request and its answer; the connection is not used again, so that each request is seen.
    fn pass(&self, mut browser: &TcpStream) -> io::Result<()> {
        let mut lines = Vec::new();
        for line in BufReader::new(browser).lines() {
            let line = line?;
            if line.is_empty() {
                break;
            }
            lines.push(line);
        }
        let Some(asked) = lines.first() else { return Ok(()) };
        let target = asked.strip_prefix("GET ").unwrap_or_default();
        if !target.starts_with(&self.home) {
            if !BROWSERS_OWN.iter().any(|own| host_of(asked).ends_with(own)) {
                self.refused.lock().unwrap_or_else(PoisonError::into_inner).push(asked.clone());
            }
            return browser.write_all(b"HTTP/1.1 403 Forbidden\r\nContent-Length: 0\r\nConnection: close\r\n\r\n");
        }
        *self.passed.lock().unwrap_or_else(PoisonError::into_inner) += 1;
        let of_connection = |line: &&String| {
            let line = line.to_ascii_lowercase();
            line.starts_with("connection:") || line.starts_with("proxy-connection:")
        };
        let head: Vec<&str> = lines.iter().filter(|line| !of_connection(line)).map(String::as_str).collect();
        let mut host = TcpStream::connect(self.host)?;
        host.write_all(format!("{}\r\nConnection: close\r\n\r\n", head.join("\r\n")).as_bytes())?;
        io::copy(&mut host, &mut browser)?;
        browser.shutdown(Shutdown::Both)
    }
}

/// The host of a request line: of `CONNECT host:443 HTTP/1.1` or `GET http://host/path HTTP/1.1`.
fn host_of(asked: &str) -> &str {
    let target = asked.split(' ').nth(1).unwrap_or_default();
    let target = target.split_once("://").map_or(target, |(_, rest)| rest);
    target.split(['/', ':']).next().unwrap_or_default()
}
