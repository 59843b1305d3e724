//! A program that runs beside the test, with everything that it starts, and ends with it.

use std::os::unix::process::CommandExt as _;
use std::process::{Child, Command};
use std::thread::sleep;
use std::time::{Duration, Instant};

use anyhow::{Context, Result};
use rustix::process::{Pid, Signal, kill_process_group};

/// How long a program gets to end by itself.
const GRACE: Duration = Duration::from_millis(1_500);

/// The leader of a process group of its own. Dropping it ends the group.
pub(crate) struct Group(Child);

impl Group {
    /// Starts `command` in a new group.
    ///
    /// # Errors
    /// When the program does not start.
    pub(crate) fn start(command: &mut Command) -> Result<Self> {
        let name = command.get_program().to_string_lossy().into_owned();
        Ok(Self(command.process_group(0).spawn().with_context(|| format!("cannot start {name}"))?))
    }

    /// The leader.
    pub(crate) const fn leader(&mut self) -> &mut Child {
        &mut self.0
    }

    /// Whether the leader has ended.
    pub(crate) fn ended(&mut self) -> bool {
        matches!(self.0.try_wait(), Ok(Some(_)) | Err(_))
    }
}

impl Group {
    fn id(&self) -> Option<Pid> {
        i32::try_from(self.0.id()).ok().and_then(Pid::from_raw)
    }

    /// Kills all of it at once: none of them gets to know.
    ///
    /// # Errors
    /// When the system refuses.
    pub(crate) fn kill(&self) -> Result<()> {
        Ok(kill_process_group(self.id().context("a group")?, Signal::KILL)?)
    }
}

impl Drop for Group {
    fn drop(&mut self) {
        let Some(group) = self.id() else { return };
        let _ = kill_process_group(group, Signal::TERM);
        let deadline = Instant::now() + GRACE;
        while !self.ended() && Instant::now() < deadline {
            sleep(Duration::from_millis(10));
        }
        let _ = kill_process_group(group, Signal::KILL);
        let _ = self.0.wait();
    }
}
