//! The recogniser as a module of its own, which a browser loads only when somebody wants to be heard. On any other target than a
//! browser this binary does nothing: the library's `hearing` is what to call.

#[cfg(target_arch = "wasm32")]
#[allow(clippy::needless_pass_by_value, reason = "a script hands over what it made")]
mod module {
    use trammel::hearing;
    use wasm_bindgen::prelude::wasm_bindgen;

    /// `hearing::Ear` for the shell's scripts: plain numbers, strings and arrays.
    #[wasm_bindgen]
    pub struct Ear(hearing::Ear);

    /// What was heard.
    #[wasm_bindgen]
    pub struct Heard(hearing::Heard);

    #[wasm_bindgen]
    impl Ear {
        /// `taught` as `export` gave it, or empty; `rate` of the microphone in Hz.
        ///
        /// # Errors
        /// With a word: "unreadable", "version" or "rate".
        #[wasm_bindgen(constructor)]
        pub fn new(taught: &[u8], rate: f64) -> Result<Self, String> {
            hearing::Ear::new(taught, rate).map(Self).map_err(|refusal| refusal.word().to_owned())
        }

        /// Waits for the next utterance.
        pub fn listen(&mut self) {
            self.0.listen();
        }

        /// Takes a chunk: 0 nothing new, 1 began, 2 ended, 3 cut off at 8 s.
        pub fn push(&mut self, samples: &[f32]) -> u32 {
            match self.0.push(samples) {
                hearing::Event::Nothing => 0,
                hearing::Event::Began => 1,
                hearing::Event::Ended => 2,
                hearing::Event::TooLong => 3,
            }
        }

        /// Ends by hand; whether there is an utterance.
        pub fn stop(&mut self) -> bool {
            self.0.stop()
        }

        /// dB of full scale, −100..0.
        pub fn level(&self) -> f32 {
            self.0.level()
        }

        /// dB of full scale, −100..0.
        pub fn noise(&self) -> f32 {
            self.0.noise()
        }

        /// Keeps the utterance as a take: "accepted", or why not.
        pub fn teach(&mut self, word: &str) -> String {
            self.0.teach(word).word().to_owned()
        }

        /// Keeps the utterance as a take of each of these words, said in this order in one go: "accepted", or why not.
        pub fn teach_phrase(&mut self, words: Vec<String>) -> String {
            let words: Vec<&str> = words.iter().map(String::as_str).collect();
            self.0.teach_phrase(&words).word().to_owned()
        }

        /// Another word that the take accepted last sounds much like, or nothing.
        pub fn closest(&self) -> String {
            self.0.closest().unwrap_or_default().to_owned()
        }

        /// How many takes a word has.
        pub fn takes(&self, word: &str) -> u32 {
            self.0.taught().takes(word).len() as u32
        }

        /// Forgets a word.
        pub fn forget(&mut self, word: &str) {
            self.0.forget(word);
        }

        /// All that is taught.
        pub fn export(&self) -> Vec<u8> {
            self.0.export()
        }

        /// What the utterance says; see `hearing::Vocabulary`.
        pub fn recognise(&self, words: Vec<String>, roles: Vec<u8>, follows: Vec<u32>) -> Heard {
            Heard(self.0.hear(&hearing::Vocabulary::new(words, roles, follows)))
        }
    }

    #[wasm_bindgen]
    impl Heard {
        /// "sure", "unsure" or "nothing".
        #[wasm_bindgen(getter)]
        pub fn verdict(&self) -> String {
            self.0.verdict.word().to_owned()
        }

        /// The words, in order.
        #[wasm_bindgen(getter)]
        pub fn words(&self) -> Vec<String> {
            self.0.words.iter().map(|word| word.label.clone()).collect()
        }

        /// The runner-up.
        #[wasm_bindgen(getter)]
        pub fn other(&self) -> Vec<String> {
            self.0.other.clone()
        }
    }
}

fn main() {}
