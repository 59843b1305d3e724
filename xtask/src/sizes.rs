//! The size table of a build and its budget.

use std::fmt::Write as _;

use anyhow::{Result, bail};

use crate::assets::Asset;

/// Brotli bytes that a first visit may cost, all told, when every procedure, picture and word is there (docs/decisions/0007, 0027).
pub(crate) const BUDGET: usize = 1_030_000;

/// One line per file, raw and sent, one for the user guide, and the total of the precache. A pack comes when somebody asks for it.
pub(crate) fn table(precached: &[Asset], help: &[Asset], packs: &[Asset], others: &[Asset]) -> String {
    let mut out = format!("{:<44} {:>9} {:>9}\n", "file", "raw", "brotli");
    for asset in precached {
        let _ = writeln!(out, "{:<44} {:>9} {:>9}", asset.path, asset.bytes.len(), asset.sent());
    }
    for (assets, when) in [(packs, "when asked for"), (others, "not precached")] {
        for asset in assets {
            let _ = writeln!(out, "{:<44} {:>9} {:>9}  ({when})", asset.path, asset.bytes.len(), asset.sent());
        }
    }
    let name = format!("user guide ({} files)", help.len());
    let _ = writeln!(out, "{name:<44} {:>9} {:>9}", raw(help), total(help));
    let _ = writeln!(out, "precache raw {} bytes", raw(precached) + raw(help));
    let _ = writeln!(out, "precache brotli {} bytes", total(precached) + total(help));
    out
}

fn raw(assets: &[Asset]) -> usize {
    assets.iter().map(|asset| asset.bytes.len()).sum()
}

/// Bytes that travel for all of `assets` when the browser takes brotli.
pub(crate) fn total(assets: &[Asset]) -> usize {
    assets.iter().map(Asset::sent).sum()
}

/// # Errors
/// When `sent` is over the budget.
pub(crate) fn within_budget(sent: usize) -> Result<()> {
    if sent > BUDGET {
        bail!("the precache is {sent} bytes with brotli, over the budget of {BUDGET}");
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_budget_holds_to_the_byte() {
        assert!(within_budget(BUDGET).is_ok());
        assert!(within_budget(BUDGET + 1).is_err());
    }

    #[test]
    fn the_total_counts_what_is_sent() {
        let small = Asset::plain("x.js", b"a".repeat(5000)).unwrap();
        let picture = Asset::plain("x.png", vec![7; 100]).unwrap();
        let expected = small.sent() + 100;
        let table = table(&[small], &[picture], &[], &[]);
        assert!(table.contains("user guide (1 files)"));
        assert!(table.ends_with(&format!("precache raw 5100 bytes\nprecache brotli {expected} bytes\n")));
    }
}
