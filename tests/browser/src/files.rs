//! Files that leave the app and come back.

use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use anyhow::{Context, Result, bail};
use base64::Engine as _;
use base64::engine::general_purpose::STANDARD;
use fantoccini::Locator;
use serde_json::json;

use crate::{Engine, Page};

/// For the engine whose downloads nobody can direct: the blob behind a download is remembered instead.
const CATCH: &str = r"
if (globalThis.caught) { globalThis.caught.length = 0; return; }
globalThis.caught = [];
const address = URL.createObjectURL;
URL.createObjectURL = (blob) => { globalThis.caught.push({ blob }); return address.call(URL, blob); };
const click = HTMLElement.prototype.click;
HTMLElement.prototype.click = function () {
  if (!(this instanceof HTMLAnchorElement) || !this.download) return click.call(this);
  globalThis.caught.at(-1).name = this.download;
};";

const CAUGHT: &str = r"
const [{ blob, name }] = globalThis.caught;
const reader = new FileReader();
await new Promise((done) => { reader.onload = done; reader.readAsDataURL(blob); });
return [name, reader.result.split(',')[1] ?? ''];";

/// Buttons by which tests call a file of an airframe, and what is chosen on its page to have it.
const CHOICES: [(&str, &str); 2] = [("export-json", "record"), ("export-csv", "readings")];

/// How long a download may take.
const PATIENCE: Duration = Duration::from_secs(20);

/// A file that the app handed out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Exported {
    /// Its name.
    pub name: String,
    /// Its bytes, which are UTF-8.
    pub text: String,
}

impl Page {
    /// Presses an export button and takes the file: as the browser downloads it, or in WebKit as the page hands it over. On the page
    /// of an airframe, "export-json" and "export-csv" go by the page on which files are made, and come back.
    ///
    /// # Errors
    /// When none comes, or it is not UTF-8.
    pub async fn export(&self, button: &str) -> Result<Exported> {
        let choice = CHOICES.iter().find(|(name, _)| *name == button);
        let (name, bytes) = match choice {
            Some((_, choice)) => self.send(choice).await?,
            None => self.take(button).await?,
        };
        Ok(Exported { name, text: String::from_utf8(bytes)? })
    }

    /// On the page of a step's notes: chooses a photo, a red plate of 640 by 480.
    ///
    /// # Errors
    /// When the page has no place for one.
    pub async fn photograph(&self) -> Result<()> {
        let body = "const canvas = Object.assign(document.createElement('canvas'), { width: 640, height: 480 }); \
                    const pen = canvas.getContext('2d'); pen.fillStyle = '#c33'; pen.fillRect(40, 40, 300, 200); \
                    const blob = await new Promise((done) => canvas.toBlob(done, 'image/jpeg', 0.8)); \
                    const transfer = new DataTransfer(); \
                    transfer.items.add(new File([blob], 'photo.jpg', { type: 'image/jpeg' })); \
                    const input = document.getElementById('photo-file'); input.files = transfer.files; \
                    input.dispatchEvent(new Event('change', { bubbles: true }));";
        self.run_async::<Option<()>>(body, Vec::new()).await.map(drop)
    }

    /// From the page of an airframe: makes a file, takes it, and comes back.
    ///
    /// # Errors
    /// When none comes.
    pub async fn send(&self, choice: &str) -> Result<(String, Vec<u8>)> {
        self.click("send").await?;
        let file = self.made(choice).await?;
        self.client().back().await?;
        self.appears("#send").await?;
        Ok(file)
    }

    /// On the page on which files are made: chooses one and takes it.
    ///
    /// # Errors
    /// When none comes.
    pub async fn made(&self, choice: &str) -> Result<(String, Vec<u8>)> {
        self.tap(&format!("#send-{choice}")).await?;
        self.wait("document.querySelector('#send-it:enabled')").await?;
        self.take("send-it").await
    }

    /// Presses a button and takes the file that it hands out: its name and its bytes.
    ///
    /// # Errors
    /// When none comes.
    pub async fn take(&self, button: &str) -> Result<(String, Vec<u8>)> {
        // No share sheet: nobody could close it.
        let none = "Object.defineProperty(navigator, 'canShare', { value: () => false, configurable: true });";
        self.run::<Option<()>>(none, Vec::new()).await?;
        if self.engine == Engine::WebKit {
            self.run::<Option<()>>(CATCH, Vec::new()).await?;
            self.tap(&format!("#{button}")).await?;
            self.wait("globalThis.caught[0]?.name").await?;
            let (name, bytes): (String, String) = self.run_async(CAUGHT, Vec::new()).await?;
            return Ok((name, STANDARD.decode(bytes)?));
        }
        self.click(button).await?;
        let file = self.downloaded().await?;
        let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
        let bytes = std::fs::read(&file)?;
        std::fs::remove_file(&file)?;
        Ok((name, bytes))
    }

    /// The one file that was handed out, where the browser put it.
    ///
    /// # Errors
    /// When none comes.
    pub async fn handed_out(&self) -> Result<PathBuf> {
        self.downloaded().await
    }

    /// The one file in the download folder, once the browser is done with it.
    async fn downloaded(&self) -> Result<PathBuf> {
        let deadline = Instant::now() + PATIENCE;
        loop {
            let files: Vec<PathBuf> =
                std::fs::read_dir(&self.session.downloads)?.flatten().map(|entry| entry.path()).collect();
            if let [file] = files.as_slice() {
                let unfinished = file.extension().is_some_and(|end| end == "part" || end == "crdownload")
                    || file.file_name().is_some_and(|name| name.as_encoded_bytes().starts_with(b"."));
                // Firefox first puts an empty file of the final name there.
                if !unfinished && file.metadata().is_ok_and(|found| found.len() > 0) {
                    return Ok(file.clone());
                }
            }
            if Instant::now() > deadline {
                bail!("no download: {files:?}");
            }
            tokio::time::sleep(Duration::from_millis(15)).await;
        }
    }

    /// Opens a file in the hangar, as a person chooses it, and gives what the app says.
    ///
    /// # Errors
    /// When the app says nothing.
    pub async fn import(&self, file: &Path) -> Result<String> {
        let path = file.to_str().context("a plain path")?;
        self.forget_import().await?;
        match self.engine {
            // Its driver hands over no files.
            Engine::WebKit => {
                let text = std::fs::read_to_string(file)?;
                let name = file.file_name().unwrap_or_default().to_string_lossy().into_owned();
                self.drop_file(&name, "args[1]", &text).await?;
            }
            Engine::Chromium | Engine::Firefox => {
                self.client().find(Locator::Id("import")).await?.send_keys(path).await?;
            }
        }
        self.import_result().await
    }

    /// Puts a file that a script makes into the hangar's input, and gives what the app says. `contents` is a JavaScript
    /// expression; `args[1]` in it is `text`.
    ///
    /// # Errors
    /// When the app says nothing.
    pub async fn import_made(&self, name: &str, contents: &str, text: &str) -> Result<String> {
        self.forget_import().await?;
        self.drop_file(name, contents, text).await?;
        self.import_result().await
    }

    async fn drop_file(&self, name: &str, contents: &str, text: &str) -> Result<()> {
        let body = format!(
            "const transfer = new DataTransfer(); \
             transfer.items.add(new File([{contents}], args[0], {{ type: 'application/json' }})); \
             const input = document.getElementById('import'); input.files = transfer.files; \
             input.dispatchEvent(new Event('change', {{ bubbles: true }}));"
        );
        self.run_async::<Option<()>>(&body, vec![json!(name), json!(text)]).await.map(drop)
    }

    /// What was said of the file before must not be taken for an answer.
    async fn forget_import(&self) -> Result<()> {
        self.wait("document.getElementById('import-result')").await?;
        let blank = "const said = document.getElementById('import-result').firstChild; if (said) said.data = '';";
        self.run::<Option<()>>(blank, Vec::new()).await.map(drop)
    }

    async fn import_result(&self) -> Result<String> {
        self.wait(
            "(() => { const said = document.getElementById('import-result')?.textContent.trim(); \
             return said && !said.startsWith('Reading') && said; })()",
        )
        .await?;
        self.text("#import-result").await
    }
}
