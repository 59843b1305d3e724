//! The page on which words are taught: a microphone that is refused, a take that is, a word taught anew, everything forgotten and had back.

use anyhow::{Result, ensure};
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

/// What the page answers, once it is this.
async fn answers(page: &Page, words: &str) -> Result<()> {
    page.wait(&format!("document.getElementById('take-answer')?.textContent.startsWith({words:?})")).await
}

/// So many of the takes of a word were made.
async fn take_is(page: &Page, take: u32) -> Result<()> {
    page.wait(&format!("document.querySelector('.teach-word .hint')?.textContent === '{take} of 2'")).await
}

async fn utter(page: &Page, seconds: f64, from: u32, to: u32) -> Result<()> {
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
    answers(&page, "The microphone is not allowed here.").await?;

    page.run_async::<Option<()>>("globalThis.microphone = 'here';", Vec::new()).await?;
    page.tap("#teach-begin").await?;
    page.appears("#teach-stop").await?;
    take_is(&page, 1).await?;
    utter(&page, 3.0, 300, 150).await?;
    answers(&page, "That was too long.").await?;
    take_is(&page, 1).await?;
    utter(&page, 0.5, 300, 150).await?;
    take_is(&page, 2).await?;
    answers(&page, "Good.").await?;
    utter(&page, 0.5, 300, 150).await?;
    let second = "document.getElementById('word')?.textContent === 'one'";
    page.wait(second).await?;
    page.tap("#teach-stop").await?;

    // Anew: its takes are gone, and it is the one to be said.
    page.tap("#anew-0").await?;
    page.appears("#teach-stop").await?;
    take_is(&page, 1).await?;
    ensure!(page.is("document.getElementById('word').textContent === 'zero'").await?);
    for take in [1, 2] {
        take_is(&page, take).await?;
        utter(&page, 0.4, 200, 400).await?;
    }
    page.wait(second).await?;
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
