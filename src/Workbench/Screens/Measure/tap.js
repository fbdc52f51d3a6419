// Hands over what the sound input hears, in pieces of 4096 samples.
class Tap extends AudioWorkletProcessor {
  constructor() {
    super();
    this.piece = new Float32Array(4096);
    this.at = 0;
  }

  process([input]) {
    const heard = input[0];
    if (!heard) return true;
    for (let i = 0; i < heard.length; i++) {
      this.piece[this.at++] = heard[i];
      if (this.at === this.piece.length) {
        this.port.postMessage(this.piece);
        this.piece = new Float32Array(4096);
        this.at = 0;
      }
    }
    return true;
  }
}

registerProcessor("tap", Tap);
