//! The invented Veldrin H2's sheet, as its builder types it in.

use anyhow::{Context, Result, bail};

use crate::{AppServer, Page};

/// What is typed for one item.
#[derive(Clone, Copy, Debug)]
pub enum Typed<'a> {
    /// The nth option.
    Option(usize),
    /// A number, and its tolerance if the item has both.
    Number(&'a str, &'a str),
    /// A tolerance alone.
    Tolerance(&'a str),
    /// Words.
    Words(&'a str),
}

use Typed::{Number, Option as Nth, Tolerance, Words};

/// The sheet but for how the assemblies are set up. The gap limit alone is wider than the sheet's: the twin starts with its
/// pitch so far out that the lower corners of its joint gape.
const H2: [(&str, Typed<'static>); 17] = [
    ("pitch", Number("-2.6", "0.2")),
    ("pitch-side", Nth(0)),
    ("pitch-zero-face", Words("forward bulkhead, square held against its flange")),
    ("pitch-read-face", Words("cone upper longeron, marked station")),
    ("twist", Number("0", "0.15")),
    ("square", Tolerance("1/16")),
    ("offset", Number("0", "1/8")),
    ("twins", Tolerance("1/16")),
    ("gap-limit", Number("1", "")),
    ("edge-distance", Number("5/16", "")),
    ("half-width", Number("17 1/4", "")),
    ("diagonal", Number("227.452", "")),
    ("joint-width", Number("33", "")),
    ("joint-to-tail", Number("142", "")),
    ("pilot-holes", Number("4", "")),
    ("holes", Number("48", "")),
    ("fasteners", Number("48", "")),
];

/// The cone in a saddle.
const SADDLE: [(&str, Typed<'static>); 3] =
    [("set-up", Nth(0)), ("saddle-distance", Number("122", "")), ("saddle-width", Number("24", ""))];

/// The frame on a block, but for the slope of its tube, which is read on the spot.
const BLOCK: [(&str, Typed<'static>); 4] = [
    ("set-up", Nth(1)),
    ("block-distance", Number("74", "")),
    ("block-below", Number("38", "")),
    ("block-width", Number("24", "")),
];

/// Page of the sheet that is typed once for all items.
pub const SOURCE: &str = "invented sheet, page 4-2, revision A";

impl Page {
    /// Adds an airframe by hand, in inches, and gives the address of its page.
    ///
    /// # Errors
    /// When the app does not take it.
    pub async fn make_airframe(&self, app: &AppServer, model: &str, builder: &str) -> Result<String> {
        self.open(app.address().as_str()).await?;
        self.click("new-airframe").await?;
        self.fill("model", model).await?;
        self.fill("serial", "7").await?;
        self.fill("builder", builder).await?;
        self.fill("manual", "invented sheet, revision A").await?;
        self.click_on("label[for=units-inches]").await?;
        self.click("make-airframe").await?;
        self.appears("ol.works").await?;
        Ok(self.client().current_url().await?.to_string())
    }

    /// Makes the first example airframe (inches) and gives the address of its page.
    ///
    /// # Errors
    /// When the app does not make it.
    pub async fn make_example(&self, app: &AppServer) -> Result<String> {
        self.open(app.address().as_str()).await?;
        self.tap("#example-0").await?;
        self.appears("ol.works").await?;
        Ok(self.client().current_url().await?.to_string())
    }

    /// Types the sheet in, field by field, with the cone in a saddle or (given its tube's slope) the frame on a block.
    ///
    /// # Errors
    /// When a field is missing or the app refuses one.
    pub async fn type_sheet(&self, tube_slope: Option<f64>) -> Result<()> {
        self.to_mating().await?;
        self.click("specification").await?;
        self.fill("source", SOURCE).await?;
        let slope = tube_slope.map(|slope| format!("{slope:.2}"));
        let set_up = if slope.is_some() { BLOCK.as_slice() } else { SADDLE.as_slice() };
        let slope = slope.iter().map(|slope| ("tube-slope", Number(slope, "")));
        let items: Vec<(&str, Typed<'_>)> = set_up.iter().copied().chain(slope).chain(H2).collect();
        for (key, typed) in &items {
            self.type_item(key, *typed).await.with_context(|| format!("item {key}"))?;
        }
        self.click("save-specification").await?;
        self.wait("document.getElementById('saved')?.textContent.trim()").await?;
        let said = self.text("#saved").await?;
        let refused: Vec<String> = self
            .value("[...document.querySelectorAll('.refusal')].map((it) => it.textContent.trim()).filter(Boolean)")
            .await?;
        if !refused.is_empty() || !said.contains(&items.len().to_string()) {
            bail!("{} items typed; the app says {said:?}, refuses {refused:?}", items.len());
        }
        Ok(())
    }

    async fn type_item(&self, key: &str, typed: Typed<'_>) -> Result<()> {
        match typed {
            Nth(place) => self.click_on(&format!("label[for=spec-{key}-option-{place}]")).await,
            Number(number, tolerance) => {
                self.fill(&format!("spec-{key}-number"), number).await?;
                if tolerance.is_empty() { Ok(()) } else { self.fill(&format!("spec-{key}-tolerance"), tolerance).await }
            }
            Tolerance(tolerance) => self.fill(&format!("spec-{key}-tolerance"), tolerance).await,
            Words(words) => self.fill(&format!("spec-{key}-words"), words).await,
        }
    }
}
