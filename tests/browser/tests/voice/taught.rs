//! The page on which words are taught: a microphone that is refused, a take that is, a word taught anew, everything forgotten and had back.

use std::time::{Duration, Instant};

use anyhow::{Result, bail, ensure};
use tokio::time::sleep;
use trammel_browser_tests::{Bench, Engine, Launch, Page};

/// A microphone that is refused until `microphone` is "here", and then hears a quiet hiss and what `utter` makes: a sound of so many seconds, its
/// pitch falling from the first number to the second.
const MICROPHONE: &str = r"
globalThis.microphone = 'refused';
navigator.mediaDevices.getUserMedia = async () => {
  if (globalThis.microphone !== 'here') throw new DOMException('no', 'NotAllowedError');
  const context = new AudioContext();
  await context.resume();
  const out = context.createMediaStreamDestination();
  const hiss = context.createBuffer(1, context.sampleRate, context.sampleRate);
  hiss.getChannelData(0).forEach((_, at, all) => { all[at] = (Math.sin(at * at * 0.37) + Math.sin(at * 1.7)) * 0.0005; });
  const noise = new AudioBufferSourceNode(context, { buffer: hiss, loop: true });
  noise.connect(out);
  noise.start();
  globalThis.utter = (seconds, from, to) => {
    const voice = new OscillatorNode(context, { type: 'sawtooth' });
    const loudness = new GainNode(context, { gain: 0 });
    const now = context.currentTime + 0.05;
    voice.frequency.setValueAtTime(from, now);
    voice.frequency.linearRampToValueAtTime(to, now + seconds);
    loudness.gain.setTargetAtTime(0.2, now, 0.01);
    loudness.gain.setTargetAtTime(0, now + seconds, 0.01);
    voice.connect(loudness).connect(out);
    voice.start(now);
    voice.stop(now + seconds + 0.2);
  };
  return out.stream;
};";

/// Whether the page answers a take with these words.
fn answers(words: &str) -> String {
    format!("document.getElementById('take-answer')?.textContent.startsWith({words:?})")
}

/// Whether a word is asked for, so many of its takes made.
fn asks(word: &str, take: u32) -> String {
    format!(
        "document.getElementById('word')?.textContent === '{word}' && document.querySelector('.teach-word .hint')?.textContent === '{take} of 2'"
    )
}

/// Makes a sound until it has done this, as a person says a word again that was not heard: a machine that has much to do drops some of a sound.
async fn until(page: &Page, sound: (f64, u32, u32), done: &str) -> Result<()> {
    for _ in 0..5 {
        // The noise is heard first, as it is before anybody speaks.
        sleep(Duration::from_millis(800)).await;
        utter(page, sound).await?;
        let begun = Instant::now();
        while begun.elapsed() < Duration::from_secs(6) {
            if page.is(done).await? {
                return Ok(());
            }
            sleep(Duration::from_millis(50)).await;
        }
    }
    bail!("{sound:?} said five times: not {done}")
}

async fn utter(page: &Page, (seconds, from, to): (f64, u32, u32)) -> Result<()> {
    page.run_async::<Option<()>>(&format!("globalThis.utter({seconds}, {from}, {to});"), Vec::new()).await.map(drop)
}

pub(crate) async fn words_are_taught_anew_and_had_back(bench: &Bench) -> Result<()> {
    let app = bench.serve()?;
    // The tests tap by script, which no browser takes for a finger.
    let launch = Launch { profile: None, args: &["--autoplay-policy=no-user-gesture-required"] };
    let page = Page::new(Engine::Chromium, bench.session(&launch).await?);
    page.before_every_page(MICROPHONE).await?;
    page.open(&app.page("settings/voice")).await?;
    page.tap("#teach-begin").await?;
    page.wait(&answers("The microphone is not allowed here.")).await?;

    page.run_async::<Option<()>>("globalThis.microphone = 'here';", Vec::new()).await?;
    page.tap("#teach-begin").await?;
    page.wait(&asks("zero", 1)).await?;
    until(&page, (3.0, 300, 150), &answers("That was too long.")).await?;
    ensure!(page.is(&asks("zero", 1)).await?, "what was refused counts as no take");
    until(&page, (0.5, 300, 150), &asks("zero", 2)).await?;
    page.wait(&answers("Good.")).await?;
    until(&page, (0.5, 300, 150), &asks("one", 1)).await?;
    page.tap("#teach-stop").await?;

    // Anew: its takes are gone, and it is the one to be said.
    page.tap("#anew-0").await?;
    page.wait(&asks("zero", 1)).await?;
    until(&page, (0.4, 200, 400), &asks("zero", 2)).await?;
    until(&page, (0.4, 200, 400), &asks("one", 1)).await?;
    page.tap("#teach-stop").await?;

    page.tap("#forget-all").await?;
    page.tap("#forget-yes").await?;
    page.appears("#have-back").await?;
    ensure!(!page.is("!!document.getElementById('anew-0')").await?, "nothing is taught");
    page.tap("#have-back").await?;
    page.appears("#anew-0").await?;
    // And it stays: the page read anew still has it.
    page.open(&app.page("settings/voice")).await?;
    page.appears("#anew-0").await
}
