//! What a browser gets from the server, over a real socket.

use std::io::{Read, Write};
use std::net::TcpStream;

use super::*;

/// Serves a small `dist/` and gives the head and body of the answer to `GET path`.
fn get_from(base: &str, path: &str, accept: &str) -> (String, String) {
    let dir =
        std::env::temp_dir().join(format!("trammel-serve-{}-{:?}", std::process::id(), std::thread::current().id()));
    std::fs::create_dir_all(dir.join("assets")).unwrap();
    for (name, text) in [
        ("index.html", "the page"),
        ("sw.js", "worker"),
        ("manifest.webmanifest", "{}"),
        ("assets/a.0123456789.wasm", "plain"),
        ("assets/a.0123456789.wasm.br", "small"),
    ] {
        std::fs::write(dir.join(name), text).unwrap();
    }
    let runtime = tokio::runtime::Builder::new_multi_thread().worker_threads(1).enable_all().build().unwrap();
    let listener = runtime.block_on(listen(Some(0))).unwrap();
    let address = listener.local_addr().unwrap();
    let service = router(&dir, base).into_make_service();
    runtime.spawn(async move { axum::serve(listener, service).await });
    let mut stream = TcpStream::connect(address).unwrap();
    write!(stream, "GET {path} HTTP/1.1\r\nHost: x\r\nAccept-Encoding: {accept}\r\nConnection: close\r\n\r\n").unwrap();
    let mut answer = String::new();
    stream.read_to_string(&mut answer).unwrap();
    std::fs::remove_dir_all(&dir).unwrap();
    let (head, body) = answer.split_once("\r\n\r\n").unwrap();
    (head.to_ascii_lowercase(), body.to_owned())
}

#[test]
fn a_program_has_its_type_its_brotli_copy_and_lasts() {
    let (head, body) = get_from("/", "/assets/a.0123456789.wasm", "br, gzip");
    assert!(head.starts_with("http/1.1 200"), "{head}");
    assert!(head.contains("content-type: application/wasm"), "{head}");
    assert!(head.contains("content-encoding: br"), "{head}");
    assert!(head.contains("cache-control: public, max-age=31536000, immutable"), "{head}");
    assert_eq!(body, "small");
}

#[test]
fn a_browser_without_brotli_gets_the_file_itself() {
    let (head, body) = get_from("/", "/assets/a.0123456789.wasm", "identity");
    assert!(!head.contains("content-encoding"), "{head}");
    assert_eq!(body, "plain");
}

/// The directives of the policy in the head of an answer.
fn policy_in(head: &str) -> Vec<(String, Vec<String>)> {
    let (_, rest) = head.split_once("content-security-policy: ").unwrap();
    directives(rest.split_once("\r\n").unwrap().0)
}

fn directives(policy: &str) -> Vec<(String, Vec<String>)> {
    let words = policy.split(';').map(|directive| directive.split_whitespace().map(str::to_owned));
    let mut all: Vec<_> = words.map(|mut words| (words.next().unwrap(), words.collect::<Vec<_>>())).collect();
    all.sort();
    all
}

// Content Security Policy Level 3 (W3C), section 6: what no directive names falls to default-src; three fall to nothing and have to be
// named: base-uri, form-action, frame-ancestors.
#[test]
fn the_policy_lets_nothing_run_but_the_apps_own_files() {
    for path in ["/", "/sw.js", "/a/page", "/assets/a.0123456789.wasm", "/no-such.file"] {
        let (head, _) = get_from("/", path, "identity");
        let policy = policy_in(&head);
        let of = |name: &str| policy.iter().find(|(known, _)| known == name).map(|(_, sources)| sources.join(" "));
        assert_eq!(of("default-src").as_deref(), Some("'none'"), "{path}");
        assert_eq!(of("script-src").as_deref(), Some("'self' 'wasm-unsafe-eval'"), "{path}");
        for own in ["style-src", "worker-src", "font-src", "manifest-src", "base-uri", "form-action"] {
            assert_eq!(of(own).as_deref(), Some("'self'"), "{path}: {own}");
        }
        assert_eq!(of("frame-ancestors").as_deref(), Some("'none'"), "{path}");
        assert_eq!(of("img-src").as_deref(), Some("'self' data: blob:"), "{path}");
        let loose = policy.iter().flat_map(|(_, sources)| sources).find(|source| {
            source.starts_with("'unsafe-") || source.starts_with("'nonce-") || *source == "*" || *source == "http:"
        });
        assert_eq!(loose, None, "{path}");
    }
}

#[test]
fn the_page_carries_the_policy_that_is_served() {
    let mut own = directives(dist::POLICY);
    // A page cannot say this of itself: the header alone can.
    own.push(("frame-ancestors".to_owned(), vec!["'none'".to_owned()]));
    own.sort();
    assert_eq!(policy_in(&get_from("/", "/", "identity").0), own);
}

// Permissions Policy (W3C): `()` is nobody, `(self)` the page's own origin.
#[test]
fn a_page_may_hear_keep_the_screen_lit_and_share_and_no_more() {
    let open: Vec<&str> = PERMISSIONS.split(", ").filter(|one| !one.ends_with("=()")).collect();
    assert_eq!(open, ["microphone=(self)", "screen-wake-lock=(self)", "web-share=(self)"]);
    for shut in
        ["camera=()", "geolocation=()", "usb=()", "bluetooth=()", "serial=()", "hid=()", "midi=()", "payment=()"]
    {
        assert!(PERMISSIONS.split(", ").any(|one| one == shut), "{shut}");
    }
}

#[test]
fn pages_and_the_worker_are_asked_for_again_each_time() {
    for (path, kind) in
        [("/", "text/html"), ("/sw.js", "javascript"), ("/manifest.webmanifest", "application/manifest+json")]
    {
        let (head, _) = get_from("/", path, "identity");
        assert!(head.starts_with("http/1.1 200"), "{head}");
        assert!(head.contains("cache-control: no-cache"), "{head}");
        assert!(head.contains(kind), "{head}");
        assert!(head.contains("x-content-type-options: nosniff"), "{head}");
        assert!(head.contains("referrer-policy: no-referrer"), "{head}");
        assert!(head.contains(&format!("permissions-policy: {PERMISSIONS}\r\n")), "{head}");
    }
}

#[test]
fn a_deep_link_is_the_page_and_a_missing_file_is_missing() {
    let (head, body) = get_from("/", "/airframe/0190/run", "identity");
    assert!(head.starts_with("http/1.1 200"), "{head}");
    assert_eq!(body, "the page");
    let (head, _) = get_from("/", "/assets/gone.0123456789.js", "identity");
    assert!(head.starts_with("http/1.1 404") && head.contains("cache-control: no-cache"), "{head}");
}

#[test]
fn an_app_in_a_sub_folder_answers_there() {
    for path in ["/sub/", "/sub/airframe/0190"] {
        let (head, body) = get_from("/sub/", path, "identity");
        assert!(head.starts_with("http/1.1 200") && body == "the page", "{path}: {head}");
    }
    let (head, _) = get_from("/sub/", "/", "identity");
    assert!(head.contains("location: /sub/"), "{head}");
    let (head, _) = get_from("/sub/", "/sub/assets/a.0123456789.wasm", "br");
    assert!(head.contains("immutable") && head.contains("application/wasm"), "{head}");
}
