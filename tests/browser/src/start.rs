//! Short ways into a run, for tests about something else.

use anyhow::{Result, ensure};
use serde_json::json;

use crate::Page;
use crate::pad::{Scale, keys};

impl Page {
    /// Starts the mating of the airframe whose page is open and gives the address of its steps.
    ///
    /// # Errors
    /// When it does not start.
    pub async fn start_run(&self) -> Result<String> {
        let airframe = self.client().current_url().await?;
        self.to_mating().await?;
        self.tap("#open-run").await?;
        self.appears("main[data-step]").await?;
        Ok(format!("{airframe}/run/mate-aft-fuselage"))
    }

    /// From the airframe's page to its mating.
    ///
    /// # Errors
    /// When it does not come up.
    pub async fn to_mating(&self) -> Result<()> {
        self.tap("#work-mate-aft-fuselage").await?;
        self.appears("#open-run").await
    }

    /// Goes to a step of the run without loading the app again.
    ///
    /// # Errors
    /// When it does not come up.
    pub async fn step_in(&self, run: &str, step: &str) -> Result<()> {
        // A link that is clicked is what the router listens to.
        let body = "const link = Object.assign(document.createElement('a'), { href: arguments[0] }); \
                    document.body.append(link); link.click(); link.remove();";
        self.run::<Option<()>>(body, vec![json!(format!("{run}/{step}"))]).await?;
        self.wait(&format!("document.querySelector('main[data-step]')?.dataset.step === {}", json!(step))).await
    }

    /// Accepts an instrument with the nth of the resolutions offered.
    ///
    /// # Errors
    /// When it is not taken.
    pub async fn accept(&self, run: &str, role: &str, preset: usize) -> Result<()> {
        self.step_in(run, role).await?;
        self.tap(&format!("#preset-{preset}")).await?;
        self.tap("#accept").await?;
        self.wait("document.querySelector('main[data-step]')?.dataset.state === 'done'").await
    }

    /// Takes readings of the step on the screen, in the order in which it asks for them.
    ///
    /// # Errors
    /// When one is refused.
    pub async fn read(&self, values: &[f64], scale: Scale) -> Result<()> {
        for value in values {
            let asked = self.has("#sign-plus").await?;
            let refused = self.enter(&keys(*value, scale, asked)).await?;
            ensure!(refused.is_empty(), "{value}: {refused}");
        }
        Ok(())
    }

    /// Confirms or accepts whatever the step on the screen wants confirmed.
    ///
    /// # Errors
    /// When there is nothing to confirm.
    pub async fn confirm(&self, run: &str, step: &str) -> Result<()> {
        self.step_in(run, step).await?;
        self.tap("#done").await?;
        self.wait("document.querySelector('main[data-step]')?.dataset.state === 'done'").await
    }

    /// From the next page on this is another phone, as far as the app can tell: one with the same record and another device's name.
    ///
    /// # Errors
    /// When the browser does not let it.
    pub async fn become_another_phone(&self) -> Result<()> {
        let other = "const kept = JSON.parse(localStorage.getItem('trammel.settings')); kept.device = crypto.randomUUID(); \
                     localStorage.setItem('trammel.settings', JSON.stringify(kept)); \
                     const done = (request) => new Promise((done, failed) => { \
                       request.onsuccess = () => done(request.result); request.onerror = () => failed(request.error); }); \
                     const db = await done(indexedDB.open('trammel')); \
                     await done(db.transaction('keys', 'readwrite').objectStore('keys').put(kept.device, 'device')); \
                     db.close();";
        self.run_async::<Option<()>>(other, Vec::new()).await?;
        self.reload().await
    }
}
