//! The program cut into the parts that `src/app/parts.rs` names, and the script that fetches them.
//!
//! The splitter makes a script of its own, `./__wasm_split.js`, which imports the binding script and is imported by it. Both names would have to
//! hold the other's hash, so the two become one file here.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, anyhow, bail};
use wasm_split_cli_support::{Options, transform};

/// As the binding script knows the splitter's.
const LOADER: &str = "./__wasm_split.js";

/// A program in parts, before it is bound.
pub(crate) struct Cut {
    /// What comes first, to be bound.
    pub(crate) first: PathBuf,
    /// The others.
    pub(crate) others: Vec<PathBuf>,
    /// The script that fetches them.
    pub(crate) loader: String,
}

/// Cuts a program, linked with its relocations, into files of a folder. They are taken away as well.
///
/// # Errors
/// When the program cannot be read as the linker wrote it, or nothing can be written.
pub(crate) fn cut(program: &Path, folder: &Path) -> Result<Cut> {
    fs::create_dir_all(folder)?;
    let bytes = fs::read(program).with_context(|| format!("cannot read {}", program.display()))?;
    let first = folder.join("first.wasm");
    let mut options = Options::new(&bytes);
    (options.output_dir, options.main_out_path, options.link_name) = (folder, &first, LOADER);
    let made = transform(options).map_err(|error| anyhow!("{} cannot be cut: {error:#}", program.display()))?;
    let mut others = made.split_modules;
    others.retain(|part| fs::metadata(part).is_ok_and(|part| part.len() > 0));
    others.sort();
    let loader = fs::read_to_string(folder.join(LOADER))?;
    Ok(Cut { first: first.clone(), others, loader })
}

/// The binding script with the splitter's inside it.
///
/// # Errors
/// When either is not as it was when this was written.
pub(crate) fn with_loader(glue: &str, loader: &str) -> Result<String> {
    let (asking, rest): (Vec<&str>, Vec<&str>) =
        glue.lines().partition(|line| line.starts_with("import ") && line.contains(LOADER));
    let name = |line: &&str| {
        let name = line.strip_prefix("import * as ").and_then(|rest| rest.split_once(' ')).map(|(name, _)| name);
        name.map(str::to_owned).with_context(|| format!("{line:?} is not an import of all"))
    };
    let names = asking.iter().map(name).collect::<Result<Vec<_>>>()?;
    let loads: Vec<&str> = loader
        .lines()
        .filter_map(|line| line.strip_prefix("export const "))
        .filter_map(|rest| rest.split_once(' ').map(|(load, _)| load))
        .collect();
    let body = loader
        .lines()
        .filter(|line| !line.starts_with("import { initSync }"))
        .map(|line| line.strip_prefix("export ").unwrap_or(line))
        .collect::<Vec<_>>()
        .join("\n");
    let files: Vec<&str> = body.split("new URL(").skip(1).filter_map(|rest| rest.split(',').next()).collect();
    let (fetching, making) = ("fetch(new URL(", "WebAssembly.instantiateStreaming(src, imports)");
    let known = [fetching, making].iter().all(|part| body.contains(part)) && !body.contains("export ");
    if asking.is_empty() || loads.is_empty() || files.is_empty() || !known {
        bail!("the splitter's script is not as it was");
    }
    let body = body.replace(fetching, "part(new URL(").replace(making, "WebAssembly.instantiate(await src, imports)");
    let (files, loads) = (files.join(", "), loads.join(", "));
    let imports: String = names.iter().map(|name| format!("const {name} = {{ {loads} }};\n")).collect();
    Ok(format!("{}\n{PART}\nconst parts = [{files}];\n{body}\n{imports}", rest.join("\n")))
}

/// A part that is fetched and compiled, when it is asked for or ahead of that. Some hosts send a program as plain bytes.
const PART: &str = r#"
const early = new Map();
const compiled = async (url) => {
    const response = await fetch(url, { credentials: "same-origin" });
    if (!response.ok) throw new Error(`a part of the program did not arrive (${response.status})`);
    const type = response.headers.get("Content-Type") ?? "";
    if (WebAssembly.compileStreaming && type.startsWith("application/wasm")) return WebAssembly.compileStreaming(response);
    return WebAssembly.compile(await response.arrayBuffer());
};
const part = (url) => {
    const module = early.get(url.href) ?? compiled(url);
    early.delete(url.href);
    return module;
};
/** Begins to fetch and compile what the pages of this part need. */
export const ahead = (name) => {
    for (const file of parts.filter((file) => file.includes("chunk_") || file.includes(`split_${name}.`))) {
        const url = new URL(file, import.meta.url);
        const module = compiled(url);
        module.catch(() => early.delete(url.href));
        early.set(url.href, module);
    }
};"#;

#[cfg(test)]
mod tests {
    use super::*;

    const LOADING: &str = "import { initSync } from \"./main.js\";\nconst src = fetch(new URL(\"./0_work.wasm\", import.meta.url));\n\
        WebAssembly.instantiateStreaming(src, imports)\nexport const load_work = wrap();\n";

    #[test]
    fn both_scripts_become_one() {
        let glue = "import * as import1 from \"./__wasm_split.js\"\nexport default init;\nconst all = () => import1;";
        let one = with_loader(glue, LOADING).unwrap();
        assert!(!one.contains(LOADER) && !one.contains("initSync"), "{one}");
        assert!(
            one.contains("part(new URL(\"./0_work.wasm\"") && one.contains("const import1 = { load_work };"),
            "{one}"
        );
        assert!(one.contains("const parts = [\"./0_work.wasm\"];"), "{one}");
        assert_eq!(one.matches("export ").count(), 2, "the app, and what fetches ahead: {one}");
    }

    #[test]
    fn another_script_than_the_known_one_is_refused() {
        let glue = "import * as import1 from \"./__wasm_split.js\"";
        assert!(with_loader(glue, "export const load_work = 0;").is_err());
        assert!(with_loader("import it from \"./__wasm_split.js\"", LOADING).is_err());
    }
}
