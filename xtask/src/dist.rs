//! `dist/`: the whole app as static files, for any host and any sub-folder.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};

use crate::assets::Asset;
use crate::bundle::Care;
use crate::{assets, bundle, help, packs, project, sizes, template};

/// The base of an app that has a host to itself.
pub(crate) const ROOT_BASE: &str = "/";

/// The policy that `index.html` carries itself, for hosts that set no headers. The page may ask any host by `https:`, and this device,
/// because the folder that records are kept in step with is wherever its owner has it
/// (`docs/decisions/0017-a-folder-to-keep-in-step.md`).
pub(crate) const POLICY: &str = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; \
    img-src 'self' data: blob:; font-src 'self'; connect-src 'self' https: http://localhost:* http://127.0.0.1:*; \
    manifest-src 'self'; worker-src 'self'; base-uri 'self'; form-action 'self'";

/// What was written.
pub(crate) struct Built {
    precached: Vec<Asset>,
    /// The user guide, precached too.
    help: Vec<Asset>,
    /// Fetched when first asked for.
    packs: Vec<Asset>,
    others: Vec<Asset>,
}

impl Built {
    /// The size table.
    pub(crate) fn table(&self) -> String {
        sizes::table(&self.precached, &self.help, &self.packs, &self.others)
    }

    /// Brotli bytes of the recogniser: its program and the script that binds it.
    pub(crate) fn recogniser_brotli(&self) -> usize {
        let parts = self.packs.iter().filter(|pack| packs::HEARING.contains(&pack.path.as_str()));
        parts.map(Asset::sent).sum()
    }

    /// Brotli bytes of a first visit.
    pub(crate) fn precache_brotli(&self) -> usize {
        sizes::total(&self.precached) + sizes::total(&self.help)
    }

    /// Brotli bytes of what the first screen needs: the page, its style, the program and the scripts that start it.
    pub(crate) fn critical_brotli(&self) -> usize {
        let needed = |path: &str| {
            path == "index.html" || ["assets/boot.", "assets/trammel."].iter().any(|it| path.starts_with(it))
        };
        self.precached.iter().filter(|asset| needed(&asset.path)).map(Asset::sent).sum()
    }

    /// # Errors
    /// When a first visit costs more than the budget.
    pub(crate) fn within_budget(&self) -> Result<()> {
        sizes::within_budget(self.precache_brotli())
    }
}

/// Builds the app and writes `dist/` for an app that lives at `base`, such as `/` or `/sub/`.
///
/// # Errors
/// When the base is not a path between slashes, the build fails or `dist/` cannot be written.
pub(crate) fn build(base: &str, care: Care) -> Result<Built> {
    check_base(base)?;
    let built = assemble(base, bundle::build(care)?, care)?;
    write(&built, &project::dist())?;
    Ok(built)
}

/// # Errors
/// When `base` does not begin and end with a slash or holds what a path does not.
pub(crate) fn check_base(base: &str) -> Result<()> {
    let plain = base.chars().all(|c| c.is_ascii_alphanumeric() || "/-_.~".contains(c));
    if !(base.starts_with('/') && base.ends_with('/') && plain && !base.contains("//")) {
        bail!("the base must be a path that begins and ends with a slash, such as /sub/, not {base:?}");
    }
    Ok(())
}

fn assemble(base: &str, bundle: bundle::Bundle, care: Care) -> Result<Built> {
    let public = project::root().join("public");
    let read = |name: &str| fs::read_to_string(public.join(name)).with_context(|| format!("cannot read public/{name}"));

    let packed = if care == Care::Small { Asset::hashed } else { Asset::hashed_bare };
    let wasm = packed("trammel.wasm", bundle.app.wasm)?;
    let mut glue = String::from_utf8(bundle.app.glue).context("the binding script is not UTF-8")?;
    let mut parts = Vec::new();
    for (name, bytes) in bundle.app.parts {
        let part = packed(&format!("part-{name}"), bytes)?;
        if !glue.contains(&format!("\"./{name}\"")) {
            bail!("nothing asks for {name}");
        }
        glue = glue.replace(&format!("\"./{name}\""), &format!("\"./{}\"", part.file_name()));
        parts.push(part);
    }
    let glue = Asset::hashed("trammel.js", glue.into_bytes())?;
    let style = Asset::hashed("trammel.css", stylesheet(&project::root().join("style"))?.into_bytes())?;
    let names = [("glue", glue.file_name()), ("wasm", wasm.file_name())];
    let boot = template::fill(&read("boot.js")?, &names)?;
    let start = [read("rescue.js")?, read("ahead.js")?, boot].join("\n");
    let boot = Asset::hashed("boot.js", start.into_bytes())?;
    let icons = files_in(&public.join("icons"))?
        .into_iter()
        .map(|(name, bytes)| Ok((name.clone(), Asset::hashed(&name, bytes)?)))
        .collect::<Result<Vec<_>>>()?;

    let mut values = vec![("base", base), ("policy", POLICY), ("glue", &glue.path), ("wasm", &wasm.path)];
    values.extend([("boot", boot.path.as_str()), ("style", style.path.as_str())]);
    values.extend(icons.iter().map(|(name, icon)| (name.as_str(), icon.path.as_str())));
    let cautions = cautions()?;
    values.push(("cautions", &cautions));
    let index = template::fill(&read("index.html")?, &values)?.into_bytes();
    let manifest = template::fill(&read("manifest.webmanifest")?, &values)?.into_bytes();

    let mut precached = vec![Asset::plain("index.html", index.clone())?];
    precached.push(Asset::plain("manifest.webmanifest", manifest)?);
    precached.extend([boot, glue, wasm, style]);
    precached.extend(parts);
    precached.push(Asset::plain("photo.js", read("photo.js")?.into_bytes())?);
    // The PNG icons are asked for when the app is put on a home screen, which needs a network anyway.
    let (drawn, painted): (Vec<_>, Vec<_>) = icons.into_iter().partition(|(name, _)| name.ends_with(".svg"));
    let mark = drawn.iter().find(|(name, _)| name == "mark.svg").context("public/icons has no mark.svg")?;
    let base_css = fs::read_to_string(project::root().join("style/00-base.css"))?;
    let help = help::assets(&read("help.html")?, &(base_css + &read("help.css")?), &mark.1)?;
    precached.extend(drawn.into_iter().map(|(_, icon)| icon));
    let mut packs = packs::packs()?;
    packs.extend(packs::hearing(bundle.hearing, care)?);
    // What hands the recogniser the microphone's sound.
    packs.push(Asset::plain("ear.js", read("ear.js")?.into_bytes())?);
    let worker = service_worker(&read("sw.js")?, precached.iter().chain(&help), &packs)?;
    let mut others: Vec<Asset> = painted.into_iter().map(|(_, icon)| icon).collect();
    others.push(Asset::plain("sw.js", worker.into_bytes())?);
    others.push(Asset::plain("404.html", index)?);
    others.push(Asset::plain(".nojekyll", Vec::new())?);
    Ok(Built { precached, help, packs, others })
}

/// What the app says before anything else, as items of a list: a first visitor reads it while the program arrives.
fn cautions() -> Result<String> {
    let file = project::root().join("src/procedure/cautions.json");
    let text = fs::read_to_string(&file).with_context(|| format!("cannot read {}", file.display()))?;
    let all: Vec<String> = serde_json::from_str(&text)?;
    let escaped = |text: &String| text.replace('&', "&amp;").replace('<', "&lt;");
    let items: Vec<String> = all.iter().map(|text| format!("<li>{}</li>", escaped(text))).collect();
    if items.is_empty() {
        bail!("{} has no cautions", file.display());
    }
    Ok(items.join("\n"))
}

/// The worker with its lists. An `index.html` goes by its folder: some hosts redirect the file's name to it.
fn service_worker<'a>(text: &str, precached: impl Iterator<Item = &'a Asset>, packs: &[Asset]) -> Result<String> {
    let line = |asset: &Asset| {
        let folder = asset.path.strip_suffix("index.html").map(|folder| if folder.is_empty() { "./" } else { folder });
        format!("  [{:?}, {:?}],", folder.unwrap_or(&asset.path), asset.digest())
    };
    let files = precached.map(line).collect::<Vec<_>>().join("\n");
    let packs = packs.iter().map(line).collect::<Vec<_>>().join("\n");
    let build = assets::sha256_hex(format!("{files}{packs}").as_bytes());
    template::fill(text, &[("build", &build[..12]), ("files", &files), ("packs", &packs)])
}

/// All of `style/`, in the order of the file names.
fn stylesheet(dir: &Path) -> Result<String> {
    let mut whole = String::new();
    for (name, bytes) in files_in(dir)? {
        if name.ends_with(".css") {
            let css = String::from_utf8(bytes).with_context(|| format!("style/{name} is not UTF-8"))?;
            whole.push_str(&template::shrink_css(&css));
            whole.push('\n');
        }
    }
    Ok(whole)
}

fn files_in(dir: &Path) -> Result<Vec<(String, Vec<u8>)>> {
    let entries = fs::read_dir(dir).with_context(|| format!("cannot read {}", dir.display()))?;
    let mut paths: Vec<PathBuf> = entries.flatten().map(|entry| entry.path()).filter(|path| path.is_file()).collect();
    paths.sort();
    paths
        .into_iter()
        .map(|path| {
            let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
            Ok((name, fs::read(&path)?))
        })
        .collect()
}

/// Writes all of it beside `dist`, then puts it in its place, so that a running server never sees half a build for long.
fn write(built: &Built, dist: &Path) -> Result<()> {
    let fresh = dist.with_extension("new");
    if fresh.exists() {
        fs::remove_dir_all(&fresh)?;
    }
    for asset in built.precached.iter().chain(&built.help).chain(&built.packs).chain(&built.others) {
        asset.write(&fresh)?;
    }
    if dist.exists() {
        fs::remove_dir_all(dist)?;
    }
    fs::rename(&fresh, dist)?;
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_base_is_a_path_between_slashes() {
        for good in ["/", "/sub/", "/a/b-c_d/"] {
            assert!(check_base(good).is_ok(), "{good}");
        }
        for bad in ["", "sub", "/sub", "sub/", "//", "/a b/", "/\"/", "https://host/"] {
            assert!(check_base(bad).is_err(), "{bad}");
        }
    }

    #[test]
    fn the_worker_changes_when_any_file_does() {
        let page = |text: &str| vec![Asset::plain("index.html", text.as_bytes().to_vec()).unwrap()];
        let one = service_worker("{{build}} {{files}}", page("one").iter(), &[]).unwrap();
        let two = service_worker("{{build}} {{files}}", page("two").iter(), &[]).unwrap();
        assert!(one.contains("[\"./\", \""));
        assert_ne!(one[..12], two[..12]);
        let three = service_worker("{{build}} {{packs}}", page("one").iter(), &page("de")).unwrap();
        assert_ne!(one[..12], three[..12]);
    }

    #[test]
    fn the_page_and_the_manifest_fill_in_from_what_is_in_public() {
        let module = || bundle::Module { glue: b"export default 0".to_vec(), wasm: vec![0; 64], parts: Vec::new() };
        let bundle = bundle::Bundle { app: module(), hearing: module() };
        let built = assemble("/sub/", bundle, Care::Small).unwrap();
        let text = |path: &str| {
            let mut all = built.precached.iter().chain(&built.others);
            String::from_utf8(all.find(|asset| asset.path == path).unwrap().bytes.clone()).unwrap()
        };
        assert!(text("index.html").contains("<base href=\"/sub/\">"));
        assert_eq!(text("index.html"), text("404.html"));
        let manifest: serde_json::Value = serde_json::from_str(&text("manifest.webmanifest")).unwrap();
        let all = built.precached.iter().chain(&built.others);
        let paths: Vec<&str> = all.map(|asset| asset.path.as_str()).collect();
        for icon in manifest["icons"].as_array().unwrap() {
            assert!(paths.contains(&icon["src"].as_str().unwrap()), "{icon}");
        }
        assert!(!text("index.html").contains(" style=") && !text("index.html").contains("<style"));
        assert!(text("sw.js").contains("[\"help/\", \"") && text("sw.js").contains("[\"help/verdict/\", \""));
        let first: Vec<_> =
            text("index.html").split('"').filter(|part| part.starts_with("assets/")).map(str::to_owned).collect();
        let scripts = |path: &str| [".js", ".wasm", ".css"].iter().any(|end| path.ends_with(end));
        let sent = |path: &str| built.precached.iter().find(|asset| asset.path == path).unwrap().sent();
        let mut needed: Vec<&str> = first.iter().map(String::as_str).filter(|path| scripts(path)).collect();
        needed.sort_unstable();
        needed.dedup();
        assert_eq!(needed.len(), 4, "style, boot, glue, program: {needed:?}");
        assert_eq!(built.critical_brotli(), sent("index.html") + needed.into_iter().map(sent).sum::<usize>());
    }
}
