//! The walk goes on: verdicts and moves, notes, questions, what is on the airframe's page, writing a procedure.

use anyhow::{Result, ensure};
use serde_json::json;
use trammel_browser_tests::pad::Scale;

use crate::walk::{DEGREES, RULE, TAPE, Walk};

impl Walk<'_> {
    pub(crate) async fn judging(&mut self, run: &str) -> Result<()> {
        self.page.step_in(run, "set/pitch").await?;
        self.look("pad-pitch").await?;
        self.page.read(&[-3.6; 4], DEGREES).await?;
        self.look("out").await?;
        self.tap("other-amount", "#orders .plain", "[id^=amount-]").await?;
        self.said("other-amount-refused", "#orders button.primary:not(.moved)", "#orders .refusal").await?;
        self.tap("moved", ".moved", "#slot-title").await?;
        self.page.read(&[-2.4; 4], DEGREES).await?;
        self.look("cant-tell").await?;
        if self.page.has(".moved").await? {
            self.page.tap(".moved").await?;
        } else {
            self.page.tap("#again").await?;
        }
        self.page.appears("#slot-title").await?;
        self.page.read(&[-2.6; 4], DEGREES).await?;
        self.look("attempts").await?;
        self.page.step_in(run, "set/twist").await?;
        self.page.read(&[0.1, 0.1, 0.5, 0.5], DEGREES).await?;
        self.look("twist-out").await?;
        self.page.step_in(run, "set/square").await?;
        self.page.read(&[227.53125, 227.53125, 227.53125, 227.40625, 227.40625, 227.40625], TAPE).await?;
        self.look("square-out").await?;
        self.tap("together", "#together", "main.place h2").await?;
        self.page.tap("[id^=try-][id$='-1']").await?;
        self.look("what-if").await?;
        for (check, values, scale) in PASS {
            self.until_in(run, &format!("set/{check}"), values, scale).await?;
        }
        self.page.confirm(run, "clamp").await?;
        for (check, values, scale) in PASS {
            self.until_in(run, &format!("clamped/{check}"), values, scale).await?;
        }
        self.look("clamped").await?;
        self.page.step_in(run, "edge").await?;
        self.page.read(&[0.375], RULE).await?;
        self.page.step_in(run, "reread").await?;
        self.look("hand-over").await?;
        self.page.paste("reader", "B. Helper").await?;
        self.tap("blind", "#begin-reading", "#slot-title").await?;
        self.page.read(&[-2.6, -2.6], DEGREES).await?;
        self.page.read(&[227.4375, 227.4375], TAPE).await?;
        self.look("agreement").await?;
        self.page.step_in(run, "hold-a").await?;
        self.look("hold-ready").await?;
        self.page.paste("signer", "B. Helper").await?;
        self.page.tap("#agree").await?;
        self.tap("hold-signed", "#sign", "#hold[data-hold=signed]").await?;
        self.page.step_in(run, "pilot").await?;
        self.page.paste("good", "x").await?;
        self.said("count-refused", "#keep-count", ".refusal").await?;
        self.page.paste("good", "3").await?;
        self.page.paste("bad", "1").await?;
        self.tap("counted", "#keep-count", "#counted").await
    }

    async fn until_in(&mut self, run: &str, step: &str, values: &[f64], scale: Scale) -> Result<()> {
        self.page.step_in(run, step).await?;
        for _ in 0..8 {
            match self.page.screen().await?.verdict.as_deref() {
                Some("in" | "not-judged") => break,
                Some(_) => {
                    self.page.tap("#again").await?;
                    self.page.appears("#slot-title").await?;
                }
                None => {}
            }
            self.page.read(values, scale).await?;
        }
        let screen = self.page.screen().await?;
        ensure!(screen.verdict.as_deref() == Some("in"), "{step}: {screen:?}");
        Ok(())
    }

    pub(crate) async fn notes(&mut self, run: &str) -> Result<()> {
        self.page.step_in(run, "set/square").await?;
        self.tap("measured-again", "#again", "#slot-title").await?;
        self.page.read(&[227.53125, 227.53125, 227.53125, 227.40625, 227.40625, 227.40625], TAPE).await?;
        self.tap("notes", "#notes", "#note").await?;
        self.page.paste("note", "It shines.").await?;
        self.page.tap("#keep-note").await?;
        self.page.appears("ol.entries li").await?;
        self.tap("item", "#add-item", "#item-what").await?;
        self.page.paste("item-what", "Look there.").await?;
        self.page.tap("#open-item").await?;
        self.page.appears(".done-with").await?;
        self.tap("item-close", ".done-with", "#how").await?;
        self.tap("deviation", "#add-deviation", "#deviation-reason").await?;
        self.page.paste("deviation-reason", "It shines.").await?;
        self.page.paste("deviation-asked", "C. Mentor").await?;
        self.page.tap("#raise-deviation").await?;
        self.page.wait("document.querySelectorAll('.done-with').length > 0").await?;
        self.look("deviation-raised").await?;
        self.page.tap(".done-with").await?;
        self.page.appears("#told-accepted").await?;
        self.said("answer-refused", "#told-accepted", "#answer-refusal").await?;
        self.tap("time-form", "#add-time", "#time-minutes").await?;
        self.page.paste("time-minutes", "x").await?;
        self.page.paste("time-what", "By hand.").await?;
        self.said("time-refused", "#keep-time", "#time-refusal").await?;
        self.page.paste("time-minutes", "90").await?;
        self.page.tap("#keep-time").await?;
        self.page.photograph().await?;
        self.page.appears("#photo-taken").await?;
        self.look("photo-taken").await?;
        self.page.paste("caption", "It shines.").await?;
        self.page.tap("#keep-photo").await?;
        self.page.appears("a.thumbnail").await?;
        self.look("notes-kept").await?;
        self.tap("photo", "a.thumbnail", "main.photo-page").await
    }

    pub(crate) async fn asking(&mut self, run: &str) -> Result<()> {
        self.page.step_in(run, "set/square").await?;
        self.tap("ask", "#ask", "#ask-it").await?;
        self.page.paste("question", "What would you move?").await?;
        self.page.tap("#mentor-0").await?;
        self.tap("asked", "#ask-it", "#send-question:enabled").await?;
        self.page.become_another_phone().await?;
        self.page.appears("#keep-remark").await?;
        self.look("question").await?;
        self.page.tap("#move-2").await?;
        self.page.paste("remark", "Lower it.").await?;
        self.said("remark-refused", "#keep-remark", "#remark-refusal").await?;
        self.page.paste("amount", "1/8").await?;
        self.tap("answered", "#keep-remark", "#remarks .remark").await?;
        self.page.step_in(run, "set/square").await?;
        self.page.appears(".remark").await?;
        self.look("remark").await
    }

    pub(crate) async fn overview(&mut self, airframe: &str) -> Result<()> {
        self.page.open(airframe).await?;
        self.page.appears("ol.works").await?;
        self.look("airframe-begun").await?;
        self.tap("todo", "#todo", "ol.left li").await?;
        self.page.open(airframe).await?;
        self.tap("time", "#time", "#export-time").await?;
        self.page.open(airframe).await?;
        self.page.tap("#record").await?;
        self.page.wait("document.getElementById('whole')?.dataset.unbroken").await?;
        self.look("record").await?;
        self.tap("record-strike", "button.strike", "#reason").await?;
        self.page.paste("reason", "Misread.").await?;
        self.tap("struck", "#strike-out", "li.struck").await?;
        self.page.open(airframe).await?;
        self.tap("send", "#send", "input[name=send]").await?;
        let kinds: Vec<String> =
            self.page.value("[...document.querySelectorAll('input[name=send]')].map((it) => it.id)").await?;
        for kind in kinds {
            self.tap(&kind, &format!("#{kind}"), "#send-it:enabled").await?;
        }
        self.open("settings-full", "settings", "#make-all").await?;
        self.tap("everything", "#make-all", "#send-it:enabled").await?;
        self.page.make_example(self.app).await?;
        let run = self.page.start_run().await?;
        self.page.accept(&run, "protractor", 0).await?;
        self.page.step_in(&run, "set/pitch").await?;
        self.page.read(&[-2.5; 4], DEGREES).await?;
        self.open("desk", "desk", "input[name=type]").await?;
        self.tap("desk-spreads", "input[name=type]", "#spreads").await?;
        self.page.open(self.app.address().as_str()).await?;
        self.page.tap("#example-1").await?;
        self.page.appears("ol.works").await?;
        self.look("metric").await?;
        self.page.tap("#work-riveting").await?;
        self.page.appears("#open-run").await?;
        self.look("riveting").await
    }

    pub(crate) async fn writing(&mut self, airframe: &str) -> Result<()> {
        self.page.open(&format!("{airframe}/write/mate-aft-fuselage")).await?;
        self.page.appears("#write-about").await?;
        self.look("write").await?;
        for part in ["about", "number-0", "instrument-0", "check-0", "adjuster-0", "group-0", "step-0", "step-6"] {
            self.page.open(&format!("{airframe}/write/mate-aft-fuselage/{part}")).await?;
            self.look(&format!("write {part}")).await?;
        }
        self.page.open(&format!("{airframe}/write/new")).await?;
        self.page.appears("#add-step").await?;
        self.page.paste("add-step-title", "Straight.").await?;
        self.tap("write-step", "#add-step", "#field-title").await?;
        for kind in ["confirm", "instrument", "measure", "count", "holes", "hold"] {
            self.page.paste("field-kind", kind).await?;
            self.page.wait(&format!("document.getElementById('field-kind').value === {}", json!(kind))).await?;
            self.look(&format!("write {kind}")).await?;
        }
        self.page.tap("a.up").await?;
        self.page.appears("#faults").await?;
        self.look("write-faults").await
    }
}

/// A whole pass that is in.
const PASS: [(&str, &[f64], Scale); 4] = [
    ("pitch", &[-2.6; 4], DEGREES),
    ("twist", &[0.1; 4], DEGREES),
    ("square", &[227.4375; 6], TAPE),
    ("offset", &[0.0; 2], RULE),
];
