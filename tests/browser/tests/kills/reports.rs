//! What a page tells the test at the moment it happens: it posts to a small server of the test's own. What lies in the sockets when the
//! browser is killed was sent before, and is still read.

use std::cell::{Cell, RefCell};
use std::convert::Infallible;
use std::rc::Rc;
use std::time::{Duration, Instant};

use anyhow::{Result, ensure};
use http::{Request, Response};
use http_body_util::{BodyExt as _, Empty};
use hyper::body::{Bytes, Incoming};
use hyper::server::conn::http1;
use hyper::service::service_fn;
use hyper_util::rt::TokioIo;
use serde::{Deserialize, Serialize};
use tokio::net::TcpListener;

/// How long the last of what a dead browser had sent may take.
const LAST_WORDS: Duration = Duration::from_secs(2);

/// One report of `hand.js`.
#[derive(Clone, Debug, Deserialize)]
pub(crate) struct Report {
    /// The how many-th of its page.
    pub(crate) number: u64,
    /// What it is about.
    #[serde(flatten)]
    pub(crate) news: News,
}

/// What happened on the page.
#[derive(Clone, Debug, PartialEq, Eq, Deserialize)]
#[serde(tag = "kind", rename_all = "lowercase")]
pub(crate) enum News {
    /// The hand is about to do this, in the same turn of the page.
    About {
        /// What it does.
        what: Deed,
    },
    /// The app shows an entry as kept: the value's place in the list of values, none for a strike.
    Kept {
        /// The value.
        value: Option<usize>,
    },
    /// The pad shows another number, half typed.
    Typed {
        /// The value's place in the list of values.
        value: usize,
        /// What the pad shows of it.
        text: String,
    },
}

/// What the hand does.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub(crate) enum Deed {
    /// It presses a key of the pad.
    Digit,
    /// It presses "keep".
    Keep,
    /// It strikes a reading out.
    Strike,
    /// It goes to another step or comes back.
    Go,
}

type Told = Rc<RefCell<Vec<serde_json::Result<Report>>>>;

/// The server, and what it was told.
pub(crate) struct Reports {
    address: String,
    told: Told,
    open: Rc<Cell<usize>>,
}

impl Reports {
    /// Begins to listen on a free port.
    pub(crate) async fn listen() -> Result<Self> {
        let listener = TcpListener::bind("127.0.0.1:0").await?;
        let address = format!("http://{}/", listener.local_addr()?);
        let reports = Self { address, told: Rc::default(), open: Rc::default() };
        let (told, open) = (Rc::clone(&reports.told), Rc::clone(&reports.open));
        tokio::task::spawn_local(async move {
            while let Ok((stream, _)) = listener.accept().await {
                let (told, open) = (Rc::clone(&told), Rc::clone(&open));
                open.set(open.get() + 1);
                tokio::task::spawn_local(async move {
                    let answer = service_fn(|request| note(request, Rc::clone(&told)));
                    // A browser that dies in the middle of a report has not told it.
                    drop(http1::Builder::new().serve_connection(TokioIo::new(stream), answer).await);
                    open.set(open.get() - 1);
                });
            }
        });
        Ok(reports)
    }

    /// Where a page posts to.
    pub(crate) fn address(&self) -> &str {
        &self.address
    }

    /// How often the hand was about to do this.
    pub(crate) fn begun(&self, deed: Deed) -> usize {
        self.told.borrow().iter().flatten().filter(|report| report.news == News::About { what: deed }).count()
    }

    /// Everything that the browser had told when it was killed, in the order in which it happened; forgotten here.
    pub(crate) async fn take(&self) -> Result<Vec<News>> {
        let begun = Instant::now();
        while self.open.get() > 0 {
            ensure!(begun.elapsed() < LAST_WORDS, "{} connections of a dead browser are open", self.open.get());
            tokio::time::sleep(Duration::from_millis(1)).await;
        }
        let mut told = self.told.take().into_iter().collect::<serde_json::Result<Vec<Report>>>()?;
        told.sort_by_key(|report| report.number);
        Ok(told.into_iter().map(|report| report.news).collect())
    }
}

async fn note(request: Request<Incoming>, told: Told) -> Result<Response<Empty<Bytes>>, Infallible> {
    if let Ok(body) = request.into_body().collect().await {
        told.borrow_mut().push(serde_json::from_slice(&body.to_bytes()));
    }
    Ok(Response::new(Empty::new()))
}
