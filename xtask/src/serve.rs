//! Serving `dist/` on this machine, with the headers that a good host sets.

use std::io::Write;
use std::net::{Ipv4Addr, SocketAddr};
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use axum::Router;
use axum::extract::Request;
use axum::http::header::{self, HeaderName, HeaderValue};
use axum::http::{HeaderMap, StatusCode};
use axum::middleware::{Next, from_fn};
use axum::response::{IntoResponse, Redirect, Response};
use axum::routing::get;
use tokio::net::TcpListener;
use tower_http::services::{ServeDir, ServeFile};

use crate::bundle::Care;
use crate::{dist, project};

/// Where to begin when no port is asked for.
const FIRST_PORT: u16 = 8080;
/// How many ports to try from there.
const TRIES: u16 = 50;

/// What a page may ask the device for: to hear a number, to keep the screen lit, to hand a file to the share sheet. A photo comes from the
/// phone's own camera program, which needs no leave. Everything else that could tell of a person or touch a device is shut, for the page and
/// for whatever it might ever hold.
const PERMISSIONS: &str = "microphone=(self), screen-wake-lock=(self), web-share=(self), accelerometer=(), bluetooth=(), \
    browsing-topics=(), camera=(), display-capture=(), encrypted-media=(), geolocation=(), gyroscope=(), hid=(), \
    idle-detection=(), local-fonts=(), magnetometer=(), midi=(), payment=(), publickey-credentials-get=(), serial=(), usb=(), \
    window-management=(), xr-spatial-tracking=()";

/// What `serve` was asked for.
pub(crate) struct Options {
    /// The port; 0 is any free one, none is the first free one from 8080.
    pub(crate) port: Option<u16>,
    /// The base of the app; none is `/`, or that of the last build when there is to be no new one.
    pub(crate) base: Option<String>,
    /// What is served.
    pub(crate) dir: PathBuf,
    /// Whether to build first.
    pub(crate) build: bool,
}

impl Default for Options {
    fn default() -> Self {
        Self { port: None, base: None, dir: project::dist(), build: true }
    }
}

/// Builds, prints the address and serves until the process ends.
///
/// # Errors
/// When the build fails, there is nothing to serve, or no port is free.
pub(crate) fn run(options: &Options) -> Result<()> {
    if options.build {
        let built = dist::build(options.base.as_deref().unwrap_or(dist::ROOT_BASE), Care::Small)?;
        eprint!("{}", built.table());
    }
    let base = base_of(&options.dir)?;
    if options.base.as_ref().is_some_and(|wanted| *wanted != base) {
        bail!("{} was built for the base {base}", options.dir.display());
    }
    let runtime = tokio::runtime::Builder::new_current_thread().enable_all().build()?;
    runtime.block_on(async {
        let listener = listen(options.port).await?;
        let mut out = std::io::stdout();
        writeln!(out, "serving http://{}{}", listener.local_addr()?, base)?;
        out.flush()?;
        Ok(axum::serve(listener, router(&options.dir, &base).into_make_service()).await?)
    })
}

/// The base that the app in `dir` was built for.
fn base_of(dir: &Path) -> Result<String> {
    let page = std::fs::read_to_string(dir.join("index.html"))
        .with_context(|| format!("{} holds no index.html: run `cargo xtask dist` first", dir.display()))?;
    let base = page.split_once("<base href=\"").and_then(|(_, rest)| rest.split_once('"')).map(|(base, _)| base);
    let base = base.with_context(|| format!("index.html in {} does not say its base", dir.display()))?;
    dist::check_base(base)?;
    Ok(base.to_owned())
}

async fn listen(port: Option<u16>) -> Result<TcpListener> {
    let at = |port| TcpListener::bind(SocketAddr::from((Ipv4Addr::LOCALHOST, port)));
    if let Some(port) = port {
        return at(port).await.with_context(|| format!("port {port} cannot be had"));
    }
    for port in FIRST_PORT..FIRST_PORT + TRIES {
        if let Ok(listener) = at(port).await {
            return Ok(listener);
        }
    }
    bail!("no port from {FIRST_PORT} to {} is free", FIRST_PORT + TRIES - 1)
}

fn router(dir: &Path, base: &str) -> Router {
    let page = ServeFile::new(dir.join("index.html")).precompressed_br().precompressed_gzip();
    let pages = from_fn(only_pages);
    let files = ServeDir::new(dir)
        .precompressed_br()
        .precompressed_gzip()
        .fallback(Router::new().fallback_service(page).layer(pages).into_service::<axum::body::Body>());
    let app = Router::new().fallback_service(files).layer(from_fn(with_headers));
    if base == dist::ROOT_BASE {
        return app;
    }
    let home = base.to_owned();
    let to_base = get(move || async move { Redirect::temporary(&home) });
    Router::new().nest_service(base.trim_end_matches('/'), app).route("/", to_base)
}

/// A path that is no file is a page of the app, unless it looks like a file's name.
async fn only_pages(request: Request, next: Next) -> Response {
    let last = request.uri().path().rsplit('/').next().unwrap_or_default();
    if last.contains('.') { StatusCode::NOT_FOUND.into_response() } else { next.run(request).await }
}

async fn with_headers(request: Request, next: Next) -> Response {
    let asset = request.uri().path().starts_with("/assets/");
    let mut response = next.run(request).await;
    let lasting = asset && response.status() != StatusCode::NOT_FOUND;
    set_headers(response.headers_mut(), lasting);
    response
}

fn set_headers(headers: &mut HeaderMap, lasting: bool) {
    let policy = format!("{}; frame-ancestors 'none'", dist::POLICY);
    if let Ok(policy) = HeaderValue::from_str(&policy) {
        headers.insert(header::CONTENT_SECURITY_POLICY, policy);
    }
    let cache = if lasting { "public, max-age=31536000, immutable" } else { "no-cache" };
    let fixed = [
        (header::CACHE_CONTROL, cache),
        (header::X_CONTENT_TYPE_OPTIONS, "nosniff"),
        (header::REFERRER_POLICY, "no-referrer"),
        (HeaderName::from_static("permissions-policy"), PERMISSIONS),
    ];
    for (name, value) in fixed {
        headers.insert(name, HeaderValue::from_static(value));
    }
}

#[cfg(test)]
mod tests;
