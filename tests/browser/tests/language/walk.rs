//! A walk over the pages of an example airframe and a run, looking for words that did not come out of the catalogue.

use std::collections::BTreeMap;

use anyhow::{Context, Result, ensure};
use serde_json::json;
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{AppServer, Page};

pub(crate) const DEGREES: Scale = Scale::Decimal(1);
pub(crate) const TAPE: Scale = Scale::Fraction(32);
pub(crate) const RULE: Scale = Scale::Fraction(64);

/// What was typed on the way, came with an example, is a name, or is what the reader of JSON says: it is the same in every language.
const TYPED: [&str; 34] = [
    "alignment",
    "cone upper longeron, marked station",
    "expected ident at line 1 column 2",
    "forward bulkhead, square held against its flange",
    "invented sheet, revision B",
    "invented sheet, page 4-2, revision A",
    "invented sheet, revision A",
    "https://",
    "Veldrin H2",
    "Okalune T1",
    "EXAMPLE-1",
    "EXAMPLE-2",
    "Trammel",
    "English",
    "Deutsch",
    "Français",
    "Español",
    "A. Builder",
    "B. Helper",
    "C. Mentor",
    "Bench level",
    "Level a bench",
    "Straight.",
    "Protractor",
    "Keep off.",
    "What would you move?",
    "Lower it.",
    "It shines.",
    "Look there.",
    "Sheared.",
    "By hand.",
    "Misread.",
    "SI",
    "WebDAV",
];
/// Symbols of units and of sizes of files, and the initials of who was named: the same in every language.
const SYMBOLS: [&str; 21] = [
    "AB", "BH", "C", "CM", "F", "GB", "Hz", "MB", "N", "cm", "d", "daN", "ft", "h", "in", "kB", "kg", "lb", "lbf",
    "min", "mm",
];

/// How the names of files end.
const FILES: [&str; 4] = [".csv", ".html", ".json", ".zip"];

/// Every text of the page with where it stands, and what its attributes say to a person.
const TEXTS: &str = "const found = [['title', document.title]]; \
    const where = (it) => it.closest('[id]')?.id ?? it.tagName; \
    const skipped = 'script, style, noscript, textarea, #spoken, [id^=heard-], .keys-list'; \
    const texts = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT); \
    while (texts.nextNode()) { \
        const it = texts.currentNode; \
        if (it.data.trim() && !it.parentElement.closest(skipped)) found.push([where(it.parentElement), it.data]); \
    } \
    for (const name of ['alt', 'aria-label', 'data-head', 'placeholder', 'title']) { \
        for (const it of document.querySelectorAll(`[${name}]`)) { \
            if (!it.closest(skipped)) found.push([`${where(it)} ${name}`, it.getAttribute(name)]); \
        } \
    } \
    return found;";

/// Where it is, and what was found.
pub(crate) struct Walk<'a> {
    pub(crate) page: Page,
    pub(crate) app: &'a AppServer,
    looked: usize,
    /// Words, and where they were first seen.
    found: BTreeMap<String, String>,
}

/// What of a text stands outside the marks.
fn unmarked(text: &str) -> String {
    let (mut outside, mut depth) = (String::new(), 0_usize);
    for letter in text.chars() {
        match letter {
            '⟦' => {
                outside.push(' ');
                depth += 1;
            }
            // A line of a sentence that began on the line before.
            '⟧' if depth == 0 => outside.clear(),
            '⟧' => depth -= 1,
            letter if depth == 0 => outside.push(letter),
            _ => {}
        }
    }
    let left = TYPED.iter().fold(outside, |left, typed| left.replace(typed, " "));
    let names_a_file = |word: &&str| FILES.iter().any(|ending| word.trim_end_matches([',', '.']).ends_with(ending));
    left.split_whitespace().filter(|word| !names_a_file(word)).collect::<Vec<_>>().join(" ")
}

fn has_words(text: &str) -> bool {
    let mut words = text.split(|letter: char| !letter.is_alphabetic()).filter(|word| !word.is_empty());
    words.any(|word| !SYMBOLS.contains(&word))
}

impl<'a> Walk<'a> {
    pub(crate) fn begin(page: Page, app: &'a AppServer) -> Self {
        Self { page, app, looked: 0, found: BTreeMap::new() }
    }

    pub(crate) async fn look(&mut self, name: &str) -> Result<()> {
        self.looked += 1;
        let texts: Vec<(String, String)> = self.page.run(TEXTS, Vec::new()).await?;
        ensure!(texts.iter().any(|(_, text)| text.contains('⟦')), "{name}: nothing of the catalogue is on the page");
        for (place, text) in texts {
            let left = unmarked(&text);
            // The words of a key are those of its own list.
            if has_words(&left) && !text.contains("with the key: ⟧") {
                self.found.entry(left).or_insert_with(|| format!("{name}, {place}: {text}"));
            }
        }
        Ok(())
    }

    pub(crate) async fn open(&mut self, name: &str, path: &str, there: &str) -> Result<()> {
        self.page.open(&self.app.page(path)).await?;
        self.page.appears(there).await?;
        self.look(name).await
    }

    pub(crate) async fn tap(&mut self, name: &str, button: &str, there: &str) -> Result<()> {
        self.page.tap(button).await?;
        self.page.appears(there).await?;
        self.look(name).await
    }

    pub(crate) async fn said(&mut self, name: &str, button: &str, place: &str) -> Result<()> {
        self.page.tap(button).await?;
        self.page.wait(&format!("document.querySelector({})?.textContent.trim()", json!(place))).await?;
        self.look(name).await
    }

    /// Everything, and what was found on the way.
    pub(crate) async fn all(mut self) -> Result<()> {
        let walked = self.pages().await;
        println!("{} pages and states looked at", self.looked);
        let found: Vec<String> = self.found.into_values().collect();
        let found = format!("{} texts are not of the catalogue:\n{}", found.len(), found.join("\n"));
        walked.with_context(|| found.clone())?;
        ensure!(found.starts_with("0 "), "{found}");
        Ok(())
    }

    async fn pages(&mut self) -> Result<()> {
        self.hangar().await?;
        self.bench().await?;
        let airframe = self.page.make_example(self.app).await?;
        self.look("airframe").await?;
        self.sheets(&airframe).await?;
        self.people(&airframe).await?;
        self.instruments(&airframe).await?;
        self.page.open(&airframe).await?;
        let run = self.page.start_run().await?;
        self.preparation(&run).await?;
        self.judging(&run).await?;
        self.notes(&run).await?;
        self.asking(&run).await?;
        self.overview(&airframe).await?;
        self.writing(&airframe).await
    }

    async fn hangar(&mut self) -> Result<()> {
        self.open("settings", "settings", "#language-de").await?;
        self.tap("folder", "#folder", "#folder-now").await?;
        self.said("folder-refused", "#folder-now", "#folder-result").await?;
        self.open("first-run", "", "#understood").await?;
        self.page.tap("#understood").await?;
        self.page.import_made("words.json", "args[1]", "no record").await?;
        self.page.wait("!document.getElementById('import-result').textContent.includes('…')").await?;
        self.look("hangar").await?;
        self.tap("new-airframe", "#new-airframe", "#make-airframe").await?;
        self.said("new-airframe-refused", "#make-airframe", "form .refusal").await?;
        self.open("no-such-page", "nowhere/at/all", "main a.primary").await?;
        self.open("desk-empty", "desk", "#filter").await
    }

    async fn bench(&mut self) -> Result<()> {
        self.open("bench", "bench", "ul.airframes a").await?;
        let all: Vec<String> =
            self.page.value("[...document.querySelectorAll('ul.airframes a')].map((it) => it.href)").await?;
        for (place, address) in all.iter().enumerate() {
            self.page.open(address).await?;
            self.page.appears("#answer").await?;
            self.look(&format!("bench {place}")).await?;
            let fields: Vec<String> =
                self.page.value("[...document.querySelectorAll('.bench-given input')].map((it) => it.id)").await?;
            for (place, field) in fields.iter().enumerate() {
                let number = if field.ends_with("give-or-take") { "0.1".to_owned() } else { (place + 5).to_string() };
                self.page.paste(field, &number).await?;
            }
            self.look(&format!("bench {place} answered")).await?;
        }
        Ok(())
    }

    async fn sheets(&mut self, airframe: &str) -> Result<()> {
        self.page.open(airframe).await?;
        self.tap("whole-sheet", "#whole-specification", "#keep-shape").await?;
        self.said("shape-kept", "#keep-shape", "#shape-kept").await?;
        self.tap("reread-all", "#reread", "#open").await?;
        self.page.open(airframe).await?;
        self.page.to_mating().await?;
        self.look("work").await?;
        self.tap("sheet", "#specification", "#spec-pitch-number").await?;
        self.page.paste("spec-pitch-number", "steep").await?;
        self.page.paste("spec-twist-tolerance", "0.2").await?;
        self.said("sheet-refused", "#save-specification", "#saved").await?;
        self.page.open(&format!("{airframe}/reread/mate-aft-fuselage")).await?;
        self.page.appears("#compare-pitch").await?;
        self.page.tap("#compare-pitch").await?;
        self.page.paste("again-twist-number", "1").await?;
        self.page.paste("again-twist-tolerance", "1").await?;
        self.page.paste("reader", "B. Helper").await?;
        self.tap("reread", "#compare-twist", "#correct-twist").await
    }

    async fn people(&mut self, airframe: &str) -> Result<()> {
        self.page.open(airframe).await?;
        self.tap("people", "#people", "#name-person").await?;
        for (name, role) in [("A. Builder", "builder"), ("B. Helper", "helper"), ("C. Mentor", "mentor")] {
            self.page.paste("person-name", name).await?;
            self.page.tap(&format!("#role-{role}")).await?;
            self.page.tap("#name-person").await?;
            self.page.wait(&format!("document.querySelector('main').textContent.includes({})", json!(name))).await?;
        }
        self.tap("people-named", "#person-0", "#person-0[aria-pressed=true]").await?;
        self.said("people-refused", "#name-person", ".refusal").await
    }

    async fn instruments(&mut self, airframe: &str) -> Result<()> {
        self.page.open(airframe).await?;
        self.tap("instruments", "#instruments", "#describe-protractor").await?;
        self.tap("instrument", "#describe-protractor", "#accept").await?;
        self.page.tap("summary").await?;
        self.page.paste("instrument-name", "Bench level").await?;
        self.page.paste("instrument-checked", "2025-02-30").await?;
        self.said("instrument-refused", "#accept", "#instrument-refusal").await?;
        self.page.paste("instrument-checked", "2025-02-28").await?;
        self.page.paste("instrument-due", "90").await?;
        self.tap("instrument-kept", "#accept", "#turn-protractor").await?;
        self.tap("reversal", "#turn-protractor", "#slot-title").await?;
        self.page.press(&keys(0.6, DEGREES, true)).await?;
        self.page.tap("#keep").await?;
        self.page.wait("document.getElementById('slot-title')?.dataset.slot === 'turned'").await?;
        self.page.press(&keys(-0.2, DEGREES, true)).await?;
        self.tap("reversal-found", "#keep", "#keep-reversal").await?;
        self.tap("instruments-checked", "#keep-reversal", "#another").await?;
        self.tap("kinds", "#another", "#kind-scales").await?;
        for kind in ["tape", "rule", "water-level", "laser", "tensiometer", "scales", "torque-wrench", "thermometer"] {
            self.tap(kind, &format!("#kind-{kind}"), "#accept").await?;
            self.page.tap("#accept").await?;
            self.page.appears("#another").await?;
            self.page.tap("#another").await?;
            self.page.appears("#kind-scales").await?;
        }
        self.tap("instruments-all", "#leave", "#long-pull").await?;
        self.tap("long-pull", "#long-pull", "#work-out").await?;
        self.said("long-pull-refused", "#work-out", "#pull-refusal").await?;
        for (field, number) in [("distance", "227 7/16"), ("tolerance", "1/16"), ("temperature", "95"), ("height", "3")]
        {
            self.page.paste(&format!("pull-{field}"), number).await?;
        }
        self.tap("long-pull-found", "#work-out", "#pull-found li").await
    }

    async fn preparation(&mut self, run: &str) -> Result<()> {
        self.page.step_in(run, "cautions").await?;
        self.look("confirm").await?;
        self.page.confirm(run, "cautions").await?;
        self.look("confirmed").await?;
        self.page.accept(run, "protractor", 0).await?;
        self.look("instrument-step").await?;
        for step in ["tape", "rule"] {
            self.page.accept(run, step, 1).await?;
        }
        self.page.step_in(run, "reversal").await?;
        self.said("pad-question", "#key-3", "#reading").await?;
        self.said("pad-unanswered", "#keep", "#refusal").await?;
        self.page.press(&["key-clear".to_owned()]).await?;
        self.page.read(&[0.3, -0.1], DEGREES).await?;
        self.look("not-judged").await?;
        for step in ["level-frame", "centre-line", "aft-point", "offer-up"] {
            self.page.confirm(run, step).await?;
        }
        self.page.step_in(run, "twins").await?;
        self.page.enter(&keys(520.0, TAPE, false)).await?;
        self.look("pad-refused").await?;
        self.page.press(&["key-clear".to_owned()]).await?;
        self.page.press(&keys(18.25, TAPE, false)).await?;
        self.tap("pad-doubted", "#keep", "#as-read").await?;
        self.page.tap("#look-again").await?;
        self.page.press(&["key-clear".to_owned()]).await?;
        self.tap("pad-listens", "#listen", "#said").await?;
        self.page.tap("#listen").await?;
        self.page.read(&[17.25, 17.25], TAPE).await?;
        self.look("in").await?;
        self.page.step_in(run, "gaps").await?;
        self.page.read(&[1.0 / 32.0, 3.0 / 64.0], RULE).await?;
        self.tap("strike", "button.reading", "#reason").await?;
        self.page.read(&[1.0 / 32.0, 1.0 / 32.0], RULE).await?;
        self.page.step_in(run, "hold-a").await?;
        self.look("hold-shut").await?;
        self.page.step_in(run, "pilot").await?;
        self.look("blocked").await
    }
}
