//! What a screen reader is given of a step, and what is left of it in the system's own colours.

use std::collections::HashMap;
use std::fmt::Write as _;

use anyhow::{Context, Result, ensure};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use serde_json::{Value, json};
use trammel_browser_tests::pad::{Scale, keys};
use trammel_browser_tests::{Bench, Page, screenshots, target};

/// One thing that a screen reader knows of.
struct Node {
    depth: usize,
    role: String,
    name: String,
    properties: Vec<(String, Value)>,
}

impl Node {
    fn has(&self, property: &str, value: &Value) -> bool {
        self.properties.iter().any(|(name, found)| name == property && found == value)
    }
}

/// The tree as Chromium hands it to a screen reader, what it leaves out left out.
async fn tree(page: &Page) -> Result<Vec<Node>> {
    page.devtools("Accessibility.enable", json!({})).await?;
    let all = page.devtools("Accessibility.getFullAXTree", json!({})).await?;
    let nodes = all["nodes"].as_array().context("nodes")?;
    let by_id: HashMap<&str, &Value> = nodes.iter().filter_map(|node| Some((node["nodeId"].as_str()?, node))).collect();
    let mut found = Vec::new();
    let mut open: Vec<(usize, &Value)> = nodes.first().map(|root| (0, root)).into_iter().collect();
    while let Some((depth, node)) = open.pop() {
        let role = node["role"]["value"].as_str().unwrap_or_default().to_owned();
        let left_out = node["ignored"] == true || matches!(role.as_str(), "InlineTextBox" | "none" | "generic");
        if !left_out {
            let properties = node["properties"].as_array().map(Vec::as_slice).unwrap_or_default();
            let property = |it: &Value| Some((it["name"].as_str()?.to_owned(), it["value"]["value"].clone()));
            let name = node["name"]["value"].as_str().unwrap_or_default().to_owned();
            found.push(Node { depth, role, name, properties: properties.iter().filter_map(property).collect() });
        }
        let inside = node["childIds"].as_array().map(Vec::as_slice).unwrap_or_default();
        let inside = inside.iter().filter_map(|id| by_id.get(id.as_str()?).copied());
        let deeper = depth + usize::from(!left_out);
        open.extend(inside.map(|node| (deeper, node)).collect::<Vec<_>>().into_iter().rev());
    }
    Ok(found)
}

fn written(title: &str, nodes: &[Node]) -> String {
    let mut text = format!("{title}\n");
    for node in nodes {
        let told = |(name, value): &(String, Value)| match name.as_str() {
            "level" | "pressed" | "disabled" | "live" | "checked" | "modal" => Some(format!(" {name}={value}")),
            _ => None,
        };
        let more: String = node.properties.iter().filter_map(told).collect();
        let _ = writeln!(text, "{}{} \"{}\"{more}", "  ".repeat(node.depth), node.role, node.name);
    }
    text
}

pub(crate) async fn a_step_as_a_screen_reader_has_it(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    page.step_in(&run, "set/pitch").await?;
    page.press(&keys(-3.6, Scale::Decimal(1), true)).await?;
    let pad = tree(&page).await?;
    let told = page.text("#told").await?;
    ensure!(told.is_empty(), "digits are told: {told:?}");
    page.press(&["key-clear".to_owned()]).await?;
    page.read(&[-3.6; 3], Scale::Decimal(1)).await?;
    ensure!(page.text("#told").await? == "Kept: \u{2212}3.6\u{b0}.", "{}", page.text("#told").await?);
    page.read(&[-3.6], Scale::Decimal(1)).await?;
    let told = page.text("#told").await?;
    ensure!(told.starts_with("Kept: \u{2212}3.6\u{b0}. out: \u{2212}3.60\u{b0}"), "{told:?}");
    let verdict = tree(&page).await?;
    let text = format!("{}\n{}", written("A reading on the pad", &pad), written("A verdict", &verdict));
    std::fs::write(target().join("ax-tree.txt"), &text)?;
    println!("{text}");

    for (what, nodes) in [("the pad", &pad), ("the verdict", &verdict)] {
        let role = |role: &str| nodes.iter().filter(|node| node.role == role).collect::<Vec<_>>();
        ensure!(role("main").len() == 1, "{what}: one main part");
        let levels: Vec<i64> = role("heading")
            .iter()
            .filter_map(|node| node.properties.iter().find(|(name, _)| name == "level")?.1.as_i64())
            .collect();
        ensure!(
            levels.first() == Some(&1) && levels.iter().filter(|level| **level == 1).count() == 1,
            "{what}: {levels:?}"
        );
        ensure!(levels.windows(2).all(|pair| pair[1] <= pair[0] + 1), "{what}: headings in order: {levels:?}");
        ensure!(role("heading")[0].name == "Pitch", "{what}: {}", role("heading")[0].name);
        for kind in
            ["button", "link", "textbox", "radio", "checkbox", "image", "img", "navigation", "group", "complementary"]
        {
            for node in role(kind) {
                let ring = kind == "group" && node.name.is_empty();
                ensure!(!node.name.trim().is_empty() || ring, "{what}: a {kind} without a name");
            }
        }
        let live = nodes.iter().filter(|node| node.has("live", &json!("polite"))).count();
        ensure!(live == 1, "{what}: {live} places that tell politely");
    }
    let has = |nodes: &[Node], role: &str, name: &str| nodes.iter().any(|node| node.role == role && node.name == name);
    for (role, name) in [
        ("group", "Digits"),
        ("button", "7"),
        ("button", "Take the last one back"),
        ("button", "One step up, 0.1\u{b0}"),
        ("button", "Keep it"),
        ("group", "One step up or down"),
        ("status", "The number"),
        ("group", "Which end of the longeron is high?"),
        ("navigation", "Steps"),
    ] {
        ensure!(has(&pad, role, name), "the pad lacks the {role} {name:?}");
    }
    let low = pad.iter().find(|node| node.role == "button" && node.name == "Tail end low").context("the answer")?;
    ensure!(low.has("pressed", &json!("true")), "the answer that was given is not told");
    ensure!(has(&verdict, "button", "Moved exactly that"), "the verdict lacks what was moved");
    ensure!(
        verdict.iter().any(|node| node.role == "image" && node.name.to_lowercase().starts_with("out: ")),
        "the mark has no words"
    );
    Ok(())
}

/// With the colours that somebody has set for the whole system, dark: drawings and words stand out from their ground.
pub(crate) async fn colours_of_the_system(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    let page = bench.open().await?;
    page.viewport(390, 844).await?;
    page.make_example(&app).await?;
    let run = page.start_run().await?;
    page.accept(&run, "protractor", 0).await?;
    let features = [("forced-colors", "active"), ("prefers-color-scheme", "dark")]
        .map(|(name, value)| json!({ "name": name, "value": value }));
    page.devtools("Emulation.setEmulatedMedia", json!({ "features": features })).await?;
    ensure!(page.is("matchMedia('(forced-colors: active)').matches").await?, "the engine does not emulate it");
    page.step_in(&run, "set/pitch").await?;
    page.press(&keys(-3.6, Scale::Decimal(1), true)).await?;
    let drawn = "const path = document.querySelector('.sketch path.ink-frame'); \
        const text = document.querySelector('.sketch text'); const probe = document.body.appendChild(document.createElement('i')); \
        const system = (name) => { probe.style.color = name; return getComputedStyle(probe).color; }; \
        const all = [getComputedStyle(path).stroke, getComputedStyle(text).fill, system('CanvasText'), system('Canvas')]; probe.remove(); return all;";
    let [stroke, fill, ink, ground]: [String; 4] = page.run(drawn, Vec::new()).await?;
    ensure!(
        stroke == ink && fill == ink && ink != ground,
        "lines {stroke}, words {fill}; the system writes {ink} on {ground}"
    );
    let taken = page.devtools("Page.captureScreenshot", json!({ "format": "png" })).await?;
    std::fs::create_dir_all(screenshots())?;
    let bytes = STANDARD.decode(taken["data"].as_str().unwrap_or_default())?;
    std::fs::write(screenshots().join("hands-forced-colours.png"), bytes)?;
    Ok(())
}
