// Plays what the stream brings, in the browser's audio thread: a ring of samples, asked for again as it empties.
const RING = 32768; // frames
const FADE = 240; // frames from silence and back: 5 ms

class EngineSound extends AudioWorkletProcessor {
  constructor(options) {
    super();
    this.target = options.processorOptions.frames; // to be kept ahead, those on their way included
    this.chunk = 512;
    this.ring = [new Float32Array(RING), new Float32Array(RING)];
    this.read = this.fill = this.asked = this.underruns = this.peak = this.since = this.gain = 0;
    this.isFilled = this.isStopping = false;
    this.tap = null;
    this.port.onmessage = (event) => this.take(event.data);
  }

  take(message) {
    if (message.stream) {
      this.stream = message.stream;
      this.stream.onmessage = (event) => this.add(new Float32Array(event.data));
      this.ask();
    } else if (message.stop) this.isStopping = true;
    else if (message.tap) this.tap = { left: new Float32Array(message.tap), at: 0 };
  }

  add(samples) {
    const frames = samples.length / 2;
    this.asked -= frames;
    for (let n = 0; n < frames; n++) {
      const at = (this.read + this.fill + n) % RING;
      this.ring[0][at] = samples[2 * n];
      this.ring[1][at] = samples[2 * n + 1];
    }
    this.fill += frames;
    if (this.fill >= this.target / 2) this.isFilled = true;
    this.ask();
  }

  ask() {
    while (this.stream && !this.isStopping && this.fill + this.asked + this.chunk <= this.target + this.chunk - 1) {
      this.asked += this.chunk;
      this.stream.postMessage(this.chunk);
    }
  }

  process(_, outputs) {
    const [left, right] = outputs[0];
    const frames = this.isFilled ? Math.min(left.length, this.fill) : 0;
    if (this.isFilled && frames < left.length && !this.isStopping) {
      this.underruns++;
      this.isFilled = false; // wait until there is something in hand again
    }
    for (let n = 0; n < frames; n++) {
      this.gain = this.isStopping ? Math.max(0, this.gain - 1 / FADE) : Math.min(1, this.gain + 1 / FADE);
      const at = (this.read + n) % RING;
      left[n] = this.gain * this.ring[0][at];
      right[n] = this.gain * this.ring[1][at];
      this.peak = Math.max(this.peak, Math.abs(left[n]), Math.abs(right[n]));
    }
    this.read = (this.read + frames) % RING;
    this.fill -= frames;
    this.ask();
    this.record(left, right);
    this.since += left.length;
    if (this.since >= sampleRate / 20) {
      this.port.postMessage({ peak: this.peak, underruns: this.underruns, fill: this.fill });
      this.peak = this.since = 0;
    }
    return !(this.isStopping && this.gain === 0);
  }

  // Left and right together, for measuring what was played.
  record(left, right) {
    if (!this.tap) return;
    for (let n = 0; n < left.length && this.tap.at < this.tap.left.length; n++) this.tap.left[this.tap.at++] = left[n] + right[n];
    if (this.tap.at < this.tap.left.length) return;
    this.port.postMessage({ tap: this.tap.left }, [this.tap.left.buffer]);
    this.tap = null;
  }
}

registerProcessor("engine-sound", EngineSound);
