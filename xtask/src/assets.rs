//! Files on their way to `dist/`: names that hold a hash, digests, compressed copies.

use std::fs;
use std::io::Write;
use std::path::Path;

use anyhow::{Context, Result};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use sha2::{Digest, Sha256};

/// One file of `dist/`.
pub(crate) struct Asset {
    /// Path below the app's base, with `/`.
    pub(crate) path: String,
    /// Its bytes.
    pub(crate) bytes: Vec<u8>,
    /// The brotli copy, when it is smaller.
    pub(crate) brotli: Option<Vec<u8>>,
    gzip: Option<Vec<u8>>,
}

impl Asset {
    /// A file that keeps its name.
    ///
    /// # Errors
    /// When it cannot be compressed.
    pub(crate) fn plain(path: impl Into<String>, bytes: Vec<u8>) -> Result<Self> {
        let path = path.into();
        let (mut brotli, mut gzip) = (None, None);
        if ["css", "html", "js", "json", "svg", "wasm", "webmanifest"]
            .iter()
            .any(|end| path.ends_with(&format!(".{end}")))
        {
            brotli = Some(brotli_of(&bytes)?).filter(|small| small.len() < bytes.len());
            gzip = Some(gzip_of(&bytes)?).filter(|small| small.len() < bytes.len());
        }
        Ok(Self { path, bytes, brotli, gzip })
    }

    /// A file under `assets/` whose name holds the start of its hash, so that it may be cached for ever.
    ///
    /// # Errors
    /// When it cannot be compressed, or `name` has no extension.
    pub(crate) fn hashed(name: &str, bytes: Vec<u8>) -> Result<Self> {
        Self::plain(hashed_path(name, &bytes)?, bytes)
    }

    /// The same without compressed copies, which take longer to make than a quick build itself.
    ///
    /// # Errors
    /// When `name` has no extension.
    pub(crate) fn hashed_bare(name: &str, bytes: Vec<u8>) -> Result<Self> {
        Ok(Self { path: hashed_path(name, &bytes)?, bytes, brotli: None, gzip: None })
    }

    /// A file that keeps its name, without compressed copies.
    pub(crate) fn bare(path: &str, bytes: Vec<u8>) -> Self {
        Self { path: path.to_owned(), bytes, brotli: None, gzip: None }
    }

    /// The name without its folder.
    pub(crate) fn file_name(&self) -> &str {
        self.path.rsplit('/').next().unwrap_or(&self.path)
    }

    /// SHA-256 in base64.
    pub(crate) fn digest(&self) -> String {
        STANDARD.encode(Sha256::digest(&self.bytes))
    }

    /// Bytes that travel when the browser takes brotli.
    pub(crate) fn sent(&self) -> usize {
        self.brotli.as_ref().map_or(self.bytes.len(), Vec::len)
    }

    /// Writes the file and its compressed copies below `dir`.
    ///
    /// # Errors
    /// When it cannot be written.
    pub(crate) fn write(&self, dir: &Path) -> Result<()> {
        let file = dir.join(&self.path);
        if let Some(folder) = file.parent() {
            fs::create_dir_all(folder)?;
        }
        fs::write(&file, &self.bytes)?;
        for (end, copy) in [("br", &self.brotli), ("gz", &self.gzip)] {
            if let Some(copy) = copy {
                fs::write(dir.join(format!("{}.{end}", self.path)), copy)?;
            }
        }
        Ok(())
    }
}

fn hashed_path(name: &str, bytes: &[u8]) -> Result<String> {
    let (stem, end) = name.rsplit_once('.').with_context(|| format!("{name} has no extension"))?;
    Ok(format!("assets/{stem}.{}.{end}", &sha256_hex(bytes)[..10]))
}

/// SHA-256 in lower-case hexadecimal.
pub(crate) fn sha256_hex(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

fn brotli_of(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut out = Vec::new();
    let params = brotli::enc::BrotliEncoderParams { quality: 11, lgwin: 22, ..Default::default() };
    brotli::BrotliCompress(&mut &bytes[..], &mut out, &params)?;
    Ok(out)
}

fn gzip_of(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut encoder = flate2::write::GzEncoder::new(Vec::new(), flate2::Compression::best());
    encoder.write_all(bytes)?;
    Ok(encoder.finish()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    // FIPS 180-2 appendix B.1: SHA-256 of "abc".
    #[test]
    fn digest_of_the_published_message() {
        let asset = Asset::plain("a.txt", b"abc".to_vec()).unwrap();
        assert_eq!(sha256_hex(&asset.bytes), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
        assert_eq!(asset.digest(), "ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0=");
    }

    #[test]
    fn a_hashed_name_changes_with_the_bytes_and_keeps_its_ends() {
        let one = Asset::hashed("app.css", b"a{}".to_vec()).unwrap();
        let two = Asset::hashed("app.css", b"b{}".to_vec()).unwrap();
        assert!(one.path.starts_with("assets/app.") && one.path.ends_with(".css"));
        assert_ne!(one.path, two.path);
    }

    #[test]
    fn compressed_copies_open_to_the_same_bytes() {
        let text = "the kit manual governs ".repeat(200).into_bytes();
        let asset = Asset::plain("a.js", text.clone()).unwrap();
        let mut opened = Vec::new();
        brotli::BrotliDecompress(&mut &asset.brotli.as_ref().unwrap()[..], &mut opened).unwrap();
        assert_eq!(opened, text);
        let mut gunzipped = Vec::new();
        let gzip = asset.gzip.as_ref().unwrap();
        std::io::Read::read_to_end(&mut flate2::read::GzDecoder::new(&gzip[..]), &mut gunzipped).unwrap();
        assert_eq!(gunzipped, text);
        assert!(asset.sent() < text.len());
    }
}
