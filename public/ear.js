// Hands the microphone's sound to the page, in pieces. Runs beside the page, where the browser makes its sound; nothing is kept or sent.

const PIECE = 1024;

class Ear extends AudioWorkletProcessor {
  constructor() {
    super();
    this.piece = new Float32Array(PIECE);
    this.filled = 0;
  }

  process([input]) {
    const sound = input?.[0];
    for (let from = 0; sound && from < sound.length; ) {
      const some = sound.subarray(from, from + PIECE - this.filled);
      this.piece.set(some, this.filled);
      this.filled += some.length;
      from += some.length;
      if (this.filled === PIECE) {
        this.port.postMessage(this.piece, [this.piece.buffer]);
        this.piece = new Float32Array(PIECE);
        this.filled = 0;
      }
    }
    return true;
  }
}

registerProcessor("trammel-ear", Ear);
