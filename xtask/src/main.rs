//! The project's commands, run as `cargo xtask COMMAND`.
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "a command-line tool talks to its terminal")]

mod apt;
mod assets;
mod audit;
mod baselines;
mod bench;
mod browsers;
mod bundle;
mod check;
mod counts;
mod debian;
mod dist;
mod figures;
mod fuzz;
mod growth;
mod help;
mod library;
mod lighthouse;
mod mutants;
mod npm;
mod packs;
mod parts;
mod process;
mod project;
mod proof;
mod python;
mod serve;
mod setup;
mod sizes;
mod sysroot;
mod template;
mod voices;
mod words;

use std::process::ExitCode;

use anyhow::{Result, bail};
use bundle::Care;
use lexopt::prelude::*;

const USAGE: &str = "\
cargo xtask COMMAND

  serve [--port N] [--base /SUB/] [--no-build] [--dir DIR]   build the app and serve it on this machine
  test                                                       everything: format, lint, native and browser tests
  dist [--base /SUB/] [--quick]                              write dist/, to be put on a static host; quick: large, to try things out
  words                                                      print every sentence that a language's catalogue has to hold
  build                                                      build the app for the browser, and no more
  fuzz [--executions N] [--keep] [--wasm] [TARGET...]        feed what takes bytes from outside; keep what was found; run it as wasm
  mutants [--part K/N]                                       small wrong changes of the arithmetic: how many the tests notice
  audit                                                      every dependency: licence, source, what runs while it is built
  bench [GROUP...]                                           measure a group (main, proof, ...) into target/figures.json";

fn main() -> ExitCode {
    match run() {
        Ok(code) => code,
        Err(e) => {
            eprintln!("error: {e:#}");
            ExitCode::FAILURE
        }
    }
}

fn run() -> Result<ExitCode> {
    let mut parser = lexopt::Parser::from_env();
    let Some(Value(command)) = parser.next()? else {
        println!("{USAGE}");
        return Ok(ExitCode::SUCCESS);
    };
    match command.to_string_lossy().as_ref() {
        "serve" => serve::run(&serve_options(&mut parser)?)?,
        "test" => {
            finish(&mut parser)?;
            return check::run();
        }
        "dist" => {
            let (mut base, mut care) = (dist::ROOT_BASE.to_owned(), Care::Small);
            while let Some(arg) = parser.next()? {
                match arg {
                    Long("base") => base = parser.value()?.string()?,
                    Long("quick") => care = Care::Quick,
                    _ => return Err(arg.unexpected().into()),
                }
            }
            let built = dist::build(&base, care)?;
            if care == Care::Small {
                print!("{}", built.table());
                built.within_budget()?;
            }
        }
        "words" => {
            finish(&mut parser)?;
            words::print()?;
        }
        "build" => {
            finish(&mut parser)?;
            let bundle = bundle::build(Care::Small)?;
            println!("wasm {} bytes, glue {} bytes", bundle.app.wasm.len(), bundle.app.glue.len());
        }
        "fuzz" => {
            fuzz::run(&fuzz_options(&mut parser)?, &mut Vec::new())?;
        }
        "mutants" => {
            let mut part = None;
            while let Some(arg) = parser.next()? {
                match arg {
                    Long("part") => part = Some(parser.value()?.string()?),
                    _ => return Err(arg.unexpected().into()),
                }
            }
            mutants::run(part.as_deref())?;
        }
        "audit" => {
            finish(&mut parser)?;
            audit::run()?;
        }
        "bench" => {
            let mut groups = Vec::new();
            while let Some(arg) = parser.next()? {
                match arg {
                    Value(group) => groups.push(group.string()?),
                    _ => return Err(arg.unexpected().into()),
                }
            }
            bench::run(&groups)?;
        }
        other => bail!("there is no command `{other}`\n\n{USAGE}"),
    }
    Ok(ExitCode::SUCCESS)
}

fn serve_options(parser: &mut lexopt::Parser) -> Result<serve::Options> {
    let mut options = serve::Options::default();
    while let Some(arg) = parser.next()? {
        match arg {
            Long("port") => options.port = Some(parser.value()?.parse()?),
            Long("base") => options.base = Some(parser.value()?.string()?),
            Long("dir") => options.dir = parser.value()?.into(),
            Long("no-build") => options.build = false,
            _ => return Err(arg.unexpected().into()),
        }
    }
    Ok(options)
}

fn fuzz_options(parser: &mut lexopt::Parser) -> Result<fuzz::Options> {
    let mut options = fuzz::Options::default();
    while let Some(arg) = parser.next()? {
        match arg {
            Long("executions") => options.executions = parser.value()?.parse()?,
            Long("keep") => options.keep = true,
            Long("wasm") => options.wasm = true,
            Value(target) => options.targets.push(target.string()?),
            _ => return Err(arg.unexpected().into()),
        }
    }
    Ok(options)
}

fn finish(parser: &mut lexopt::Parser) -> Result<()> {
    match parser.next()? {
        Some(arg) => Err(arg.unexpected().into()),
        None => Ok(()),
    }
}
