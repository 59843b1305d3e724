//! The real server: WsgiDAV of the Python package index, in the versions pinned here, as a process of its own.

use std::io::{BufRead as _, BufReader};
use std::net::SocketAddr;
use std::path::Path;
use std::process::{Child, Command, Stdio};

use crate::libraries;

const LIBRARIES: [(&str, &str); 2] = [("wsgidav", "4.3.3"), ("cheroot", "10.0.1")];
const SCRIPT: &str = include_str!("serve.py");
pub(crate) const NAME: &str = "builder";
pub(crate) const PASSWORD: &str = "plumb:bob";

/// Ends with its value.
pub(crate) struct Server {
    child: Child,
    pub(crate) at: SocketAddr,
}

impl Server {
    /// Serves a folder of the disk; files may not be larger than so many bytes, where that is said.
    pub(crate) fn of(folder: &Path, largest: Option<u32>) -> Self {
        static PYTHON: std::sync::OnceLock<std::path::PathBuf> = std::sync::OnceLock::new();
        let python = PYTHON.get_or_init(|| libraries::python("webdav", &LIBRARIES));
        let mut command = Command::new(python);
        command.args(["-c", SCRIPT]).arg(folder).args([NAME, PASSWORD]).args(largest.map(|bytes| bytes.to_string()));
        let mut child = command.stdout(Stdio::piped()).stderr(Stdio::null()).spawn().expect("python starts");
        let mut line = String::new();
        BufReader::new(child.stdout.take().expect("a pipe")).read_line(&mut line).expect("a line");
        let port: u16 = line.trim().parse().expect("the server says its port: it did not start");
        Self { child, at: SocketAddr::from(([127, 0, 0, 1], port)) }
    }
}

impl Drop for Server {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}
