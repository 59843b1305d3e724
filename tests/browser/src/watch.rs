//! A browser that is watched while it walks through the app: where its requests go, which rules of the policy it breaks, and what
//! stands in a page that the policy is there to keep out. Chromium only.

use anyhow::{Result, ensure};
use serde_json::json;

use crate::gate::{BROWSERS_OWN, Gate};
use crate::{AppServer, Bench, Launch, Page};

/// Notes what the policy forbade, over all pages of the tab.
const LISTEN: &str = "addEventListener('securitypolicyviolation', (event) => { \
    const all = JSON.parse(sessionStorage.getItem('watch') ?? '[]'); \
    all.push(`${event.effectiveDirective} forbids ${event.blockedURI} ${event.sample} at ${location.pathname}`); \
    sessionStorage.setItem('watch', JSON.stringify(all)); });";

/// What was noted since it was last asked.
const NOTED: &str = "const all = JSON.parse(sessionStorage.getItem('watch') ?? '[]'); \
    sessionStorage.removeItem('watch'); return all;";

/// Scripts, styles and addresses that run something, anywhere in a page.
const INLINE: &str = r"
const found = [];
const say = (it, what) => found.push(`${what} in ${it.outerHTML.slice(0, 120)}`);
for (const it of document.querySelectorAll('script:not([src]), style, iframe, object, embed, base ~ base')) say(it, 'an element');
const runs = /^[\s\u0000-\u001f]*(javascript|vbscript|data:(?!image\/))/i;
for (const it of document.querySelectorAll('*')) {
  for (const { name, value } of it.attributes) {
    if (name === 'style' || name === 'srcdoc' || name.startsWith('on')) say(it, name);
    if (['action', 'data', 'formaction', 'href', 'src', 'xlink:href'].includes(name) && runs.test(value)) say(it, name);
  }
}
return found;";

/// Everything that is forbidden, done once: whether it is seen.
const FORBIDDEN: &str = r"
const it = document.createElement('p');
it.innerHTML = '<i onclick=1 style=color:red></i><a href=javascript:1></a><style></style>';
document.querySelector('main').append(it);
// By the page's own timer: what the devtools run is free of the policy.
await new Promise((done) => setTimeout(() => { try { (0, eval)('1'); } catch { /* forbidden */ } done(); }));
document.head.append(Object.assign(document.createElement('script'), { textContent: '1' }));
await fetch(args[0]).catch(() => null);
await new Promise((done) => Object.assign(new Image(), { onerror: done, onload: done, src: args[0] }));
// What was forbidden is told in a task of its own.
await new Promise((done) => setTimeout(done, 200));";

/// A host that nobody has (RFC 2606, section 2).
const ELSEWHERE: &str = "https://elsewhere.invalid/picture";

/// A watched tab.
#[derive(Debug)]
pub struct Watch {
    /// The tab.
    pub page: Page,
    gate: Gate,
}

impl Watch {
    /// Opens a browser that nothing leaves unseen.
    ///
    /// # Errors
    /// When it does not start.
    pub async fn begin(bench: &Bench, app: &AppServer) -> Result<Self> {
        let gate = Gate::before(app.address())?;
        let args = gate.args();
        let launch = Launch { profile: None, args: &[&args[0], &args[1]] };
        let page = Page::new(bench.engine, bench.session(&launch).await?);
        page.before_every_page(LISTEN).await?;
        Ok(Self { page, gate })
    }

    /// What is wrong with the page as it is, and what was broken on the way to it.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn wrong(&self) -> Result<Vec<String>> {
        let mut wrong: Vec<String> = self.page.run(NOTED, Vec::new()).await?;
        wrong.extend(self.page.run::<Vec<String>>(INLINE, Vec::new()).await?);
        Ok(wrong)
    }

    /// Requests beyond the app's own address.
    #[must_use]
    pub fn requests_elsewhere(&self) -> Vec<String> {
        self.gate.refused()
    }

    /// Files of the built app that hold the name of a host that the browser may ask of its own accord.
    ///
    /// # Errors
    /// When the built app cannot be read.
    pub fn named_in() -> Result<Vec<String>> {
        let (mut found, mut read) = (Vec::new(), 0);
        for folder in [AppServer::folder(), AppServer::folder().join("assets")] {
            for file in std::fs::read_dir(folder)?.flatten().map(|entry| entry.path()).filter(|path| path.is_file()) {
                let bytes = std::fs::read(&file)?;
                let holds = |name: &&str| bytes.windows(name.len()).any(|part| part == name.as_bytes());
                found.extend(
                    BROWSERS_OWN.iter().filter(|name| holds(name)).map(|name| format!("{}: {name}", file.display())),
                );
                read += usize::from(holds(&"trammel"));
            }
        }
        ensure!(read > 2, "the built app was not read");
        Ok(found)
    }

    /// Does everything that is forbidden on a page of the app, and says which of it went unseen.
    ///
    /// # Errors
    /// When the browser does not answer.
    pub async fn unseen(&self) -> Result<Vec<&'static str>> {
        self.page.run_async::<Option<()>>(FORBIDDEN, vec![json!(ELSEWHERE)]).await?;
        let (wrong, elsewhere) = (self.wrong().await?.join("\n"), self.requests_elsewhere().join("\n"));
        let seen: [(&str, bool); 9] = [
            ("a script in an attribute", wrong.contains("onclick in")),
            ("a style in an attribute", wrong.contains("style in") && wrong.contains("style-src-attr forbids inline")),
            ("an address that is a script", wrong.contains("href in")),
            (
                "an element of style",
                wrong.contains("an element in <style>") && wrong.contains("style-src-elem forbids inline"),
            ),
            ("a text run as a script", wrong.contains("script-src forbids eval")),
            ("a script in the page", wrong.contains("script-src-elem forbids inline")),
            ("a picture of another host", wrong.contains("img-src forbids https://elsewhere.invalid")),
            ("a request to another host", elsewhere.contains("CONNECT elsewhere.invalid:443")),
            ("requests to the app's own host", self.gate.passed() > 0),
        ];
        Ok(seen.into_iter().filter(|(_, seen)| !seen).map(|(what, _)| what).collect())
    }
}
