//! The app and the recogniser compiled for the browser: a wasm module each and the script that binds it.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail};
use wasm_bindgen_cli_support::Bindgen;

use crate::setup::{self, WASM};
use crate::{assets, npm, parts, process, project};

/// The npm package that brings `wasm-opt`, and its version.
const BINARYEN: (&str, &str) = ("binaryen", "132.0.0");

/// `-Oz`, less inlining and no shared subexpressions across calls (both make the module longer once it is packed), what the linker leaves true (memory begins as zeros, and the first kilobyte is the far end of the stack), and every
/// feature that rustc's own baseline for the target uses.
const WASM_OPT: [&str; 12] = [
    "--zero-filled-memory",
    "--low-memory-unused",
    "-Oz",
    "--flexible-inline-max-function-size=0",
    "--one-caller-inline-max-function-size=0",
    "--skip-pass=local-cse",
    "--enable-bulk-memory",
    "--enable-sign-ext",
    "--enable-nontrapping-float-to-int",
    "--enable-reference-types",
    "--enable-multivalue",
    "--enable-mutable-globals",
];

/// What the browser loads.
pub(crate) struct Bundle {
    /// The app.
    pub(crate) app: Module,
    /// What hears taught words, loaded when somebody wants to be heard.
    pub(crate) hearing: Module,
}

/// A program for the browser.
pub(crate) struct Module {
    /// The binding script, an ES module.
    pub(crate) glue: Vec<u8>,
    /// The program: all of it, or what comes first.
    pub(crate) wasm: Vec<u8>,
    /// The other parts of it, each by the name of the file that the binding script asks for.
    pub(crate) parts: Vec<(String, Vec<u8>)>,
}

/// How much care goes into a build.
#[derive(Clone, Copy, PartialEq, Eq)]
pub(crate) enum Care {
    /// As small as it can be made: what is published.
    Small,
    /// As soon as it can be made, to try something out.
    Quick,
}

/// How a program is handed out.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Form {
    Whole,
    /// In the parts that `src/app/parts.rs` names.
    Parts,
}

/// Compiles, binds and shrinks both programs.
///
/// # Errors
/// When a step fails; a missing npm is not a failure, it is said and leaves the module larger.
pub(crate) fn build(care: Care) -> Result<Bundle> {
    // By itself: what the app's parts are called by from outside would bring the app into the recogniser too.
    compile(care, "--package trammel --bin hearing --no-default-features", Form::Whole, &project::target())?;
    let folder = compile(care, "--package trammel --bin trammel", Form::Parts, &project::target())?;
    let optimiser = if care == Care::Small { wasm_opt()? } else { None };
    let module = |name: &str, form| module(name, &folder, form, optimiser.as_deref());
    Ok(Bundle { app: module("trammel", Form::Parts)?, hearing: module("hearing", Form::Whole)? })
}

/// Builds the program of another workspace of this project as the app is built: `name` is its folder's below `folder`, and its own.
///
/// # Errors
/// As [`build`].
pub(crate) fn build_other(folder: &str, name: &str) -> Result<Module> {
    let what = format!("--manifest-path {folder}/{name}/Cargo.toml --locked");
    let built = compile(Care::Small, &what, Form::Whole, &project::target().join(name))?;
    module(name, &built, Form::Whole, wasm_opt()?.as_deref())
}

/// Compiles for the browser with the app's flags, and gives the folder of the programs.
fn compile(care: Care, what: &str, form: Form, target: &Path) -> Result<PathBuf> {
    let toolchain = setup::wasm_target()?;
    let profile = if care == Care::Quick { "quick" } else { "release" };
    let mut cargo = toolchain.cargo(&format!("rustc --profile {profile} {what} --target"));
    cargo.arg(WASM).arg("--target-dir").arg(target);
    let small = care == Care::Small && toolchain.substitute.is_none() && setup::library_source()?;
    if small {
        cargo
            .env("RUSTC_BOOTSTRAP", "1")
            .args(["-Zbuild-std=std,panic_abort", "-Zbuild-std-features=optimize_for_size"]);
    }
    if form == Form::Parts {
        // What the splitter goes by.
        cargo.args(["--", "-Clink-arg=--emit-relocs"]);
    }
    process::run(cargo.env("CARGO_TARGET_WASM32_UNKNOWN_UNKNOWN_RUSTFLAGS", app_flags(small)?))?;
    Ok(target.join(WASM).join(profile))
}

fn module(name: &str, folder: &Path, form: Form, optimiser: Option<&Path>) -> Result<Module> {
    let out = project::target().join("bindgen").join(name);
    if out.exists() {
        fs::remove_dir_all(&out)?;
    }
    let program = folder.join(format!("{name}.wasm"));
    let cut = if form == Form::Parts { Some(parts::cut(&program, &out.join("parts"))?) } else { None };
    bind(name, cut.as_ref().map_or(&program, |cut| &cut.first), &out, form)?;
    if out.join("snippets").exists() {
        bail!("a crate brings a script of its own (see {}/snippets): the bundle has no place for it", out.display());
    }
    let finished = |file: &Path| match optimiser {
        Some(optimiser) => shrink(optimiser, file),
        None => Ok(fs::read(file)?),
    };
    let named = |part: &PathBuf| {
        let file = part.file_name().context("a part without a name")?.to_string_lossy().into_owned();
        anyhow::Ok((file, finished(part)?))
    };
    let mut glue = fs::read_to_string(out.join(format!("{name}.js")))?;
    let mut others = Vec::new();
    if let Some(cut) = cut {
        glue = parts::with_loader(&glue, &cut.loader)?;
        others = cut.others.iter().map(named).collect::<Result<_>>()?;
    }
    let wasm = finished(&out.join(format!("{name}_bg.wasm")))?;
    Ok(Module { glue: glue.into_bytes(), wasm, parts: others })
}

/// Compiler flags of the app, for a small program (docs/decisions/0006) that names no folder of the machine that builds it.
fn app_flags(small: bool) -> Result<String> {
    let home = std::env::var_os("CARGO_HOME").map(PathBuf::from);
    let home = home.or_else(|| std::env::home_dir().map(|home| home.join(".cargo"))).context("no home folder")?;
    let mut folders = vec![project::root()];
    if let Ok(registries) = fs::read_dir(home.join("registry/src")) {
        folders.extend(registries.flatten().map(|registry| registry.path()));
    }
    let mut flags = vec!["--cfg=erase_components".to_owned()];
    if small {
        flags.extend(["-Zfmt-debug=none".to_owned(), "-Zlocation-detail=none".to_owned()]);
    }
    flags.extend(folders.iter().map(|folder| format!("--remap-path-prefix={}=.", folder.display())));
    Ok(flags.join(" "))
}

fn bind(name: &str, module: &Path, out: &Path, form: Form) -> Result<()> {
    let mut bindgen = Bindgen::new();
    bindgen.input_path(module).out_name(name).typescript(false).keep_lld_exports(form == Form::Parts);
    bindgen.remove_name_section(true).remove_producers_section(true).omit_default_module_path(true);
    bindgen.web(true).and_then(|bindgen| bindgen.generate(out)).context("wasm-bindgen cannot bind the program")
}

/// The optimiser, where npm can bring it.
fn wasm_opt() -> Result<Option<PathBuf>> {
    let (name, version) = BINARYEN;
    let program = npm::package(name, version)?.map(|folder| folder.join("bin/wasm-opt"));
    if program.is_none() {
        eprintln!("wasm-opt is skipped: the program stays about 7 % larger");
    }
    Ok(program)
}

/// Runs the optimiser, or takes what it made of the same module before.
fn shrink(optimiser: &Path, module: &Path) -> Result<Vec<u8>> {
    let name = module.file_name().context("a module without a name")?;
    let key = assets::sha256_hex(&[fs::read(module)?, WASM_OPT.concat().into_bytes(), BINARYEN.1.into()].concat());
    let cache = project::target().join("wasm-opt").join(name);
    let kept = cache.join(format!("{key}.wasm"));
    if !kept.exists() {
        if cache.exists() {
            fs::remove_dir_all(&cache)?;
        }
        fs::create_dir_all(&cache)?;
        let fresh = cache.join("fresh.wasm");
        process::run(process::command(optimiser).args(WASM_OPT).arg(module).arg("-o").arg(&fresh))?;
        fs::rename(&fresh, &kept)?;
    }
    Ok(fs::read(kept)?)
}
