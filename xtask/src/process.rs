//! Running other programs.

use std::io::{BufRead, BufReader, Read, Write};
use std::path::PathBuf;
use std::process::{Command, ExitStatus, Stdio};
use std::sync::mpsc::{Sender, channel};

use anyhow::{Context, Result, bail};

use crate::project;

/// A command run from the project's root.
pub(crate) fn command(program: impl AsRef<std::ffi::OsStr>) -> Command {
    let mut command = Command::new(program);
    command.current_dir(project::root());
    command
}

/// The cargo that runs us, from the project's root, with `args` split at spaces.
pub(crate) fn cargo(args: &str) -> Command {
    let mut cargo = command(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    cargo.args(args.split_whitespace());
    cargo
}

/// Runs to the end with both outputs on our stderr, so that our stdout holds only what we print ourselves.
///
/// # Errors
/// When the program does not start or does not succeed.
pub(crate) fn run(command: &mut Command) -> Result<()> {
    let status =
        command.stdout(std::io::stderr()).status().with_context(|| format!("cannot start {}", show(command)))?;
    if !status.success() {
        bail!("{} failed ({status})", show(command));
    }
    Ok(())
}

/// Runs to the end, quietly, and gives what it wrote to stdout.
///
/// # Errors
/// When the program does not start or does not succeed; the text holds its stderr.
pub(crate) fn output(command: &mut Command) -> Result<String> {
    let output = command.output().with_context(|| format!("cannot start {}", show(command)))?;
    if !output.status.success() {
        bail!("{} failed ({})\n{}", show(command), output.status, String::from_utf8_lossy(&output.stderr));
    }
    Ok(String::from_utf8_lossy(&output.stdout).into_owned())
}

/// Runs to the end, echoing each line of both outputs as it comes, and gives the lines and the exit status.
///
/// # Errors
/// When the program does not start.
pub(crate) fn tee(command: &mut Command) -> Result<(Vec<String>, ExitStatus)> {
    each_line(command, |line| {
        println!("{line}");
        let _ = std::io::stdout().flush();
    })
}

/// Runs to the end, handing on each line of both outputs as it comes, and gives the lines and the exit status.
///
/// # Errors
/// When the program does not start.
pub(crate) fn each_line(command: &mut Command, heard: impl Fn(&str)) -> Result<(Vec<String>, ExitStatus)> {
    let mut child = command
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .with_context(|| format!("cannot start {}", show(command)))?;
    let (sender, lines) = channel();
    forward(child.stdout.take(), sender.clone());
    forward(child.stderr.take(), sender);
    let mut all = Vec::new();
    for line in lines {
        heard(&line);
        all.push(line);
    }
    Ok((all, child.wait()?))
}

fn forward(stream: Option<impl Read + Send + 'static>, sender: Sender<String>) {
    let Some(stream) = stream else { return };
    std::thread::spawn(move || {
        for line in BufReader::new(stream).split(b'\n').map_while(Result::ok) {
            if sender.send(String::from_utf8_lossy(&line).trim_end_matches('\r').to_owned()).is_err() {
                break;
            }
        }
    });
}

/// The program of that name in our own tools or on PATH.
pub(crate) fn find(program: &str) -> Option<PathBuf> {
    let path = std::env::var_os("PATH").unwrap_or_default();
    std::iter::once(project::tools().join("bin"))
        .chain(std::env::split_paths(&path))
        .map(|dir| dir.join(program))
        .find(|file| file.is_file())
}

/// Whether we may install system packages.
pub(crate) fn is_root() -> bool {
    output(Command::new("id").arg("-u")).is_ok_and(|id| id.trim() == "0")
}

fn show(command: &Command) -> String {
    let words = std::iter::once(command.get_program()).chain(command.get_args());
    format!("`{}`", words.map(|word| word.to_string_lossy()).collect::<Vec<_>>().join(" "))
}
