// The page's side of live sound: starts and stops it, keys and MIDI, meter and counts.
const NAMES = ["C", "C#", "D", "D#", "E", "F", "F#", "G", "G#", "A", "A#", "B"];
const LOW = ["KeyZ", "KeyS", "KeyX", "KeyD", "KeyC", "KeyV", "KeyG", "KeyB", "KeyH", "KeyN", "KeyJ", "KeyM", "Comma", "KeyL", "Period", "Semicolon", "Slash"];
const HIGH = ["KeyQ", "Digit2", "KeyW", "Digit3", "KeyE", "KeyR", "Digit5", "KeyT", "Digit6", "KeyY", "Digit7", "KeyU", "KeyI", "Digit9", "KeyO", "Digit0", "KeyP"];
const down = new Map();
const meter = { peak: 0, underruns: 0, overs: 0 };
let context, node, worker, octave = 4, taps = [], isStarting = false;

const byId = (id) => document.getElementById(id);
const say = (id, text) => byId(id) && (byId(id).textContent = text);
const send = (words) => worker?.postMessage({ words });
export const nameOf = (key) => `${NAMES[key % 12]}${Math.floor(key / 12) - 1}`;

export async function start(line, frames) {
  if (isStarting) return;
  isStarting = true;
  try {
    stop();
    const own = context = new AudioContext({ sampleRate: 48000, latencyHint: "interactive" });
    await own.audioWorklet.addModule("/screens/Sound/worklet.js");
    if (context !== own) return; // stopped, or the screen was left, while it was loading
    node = new AudioWorkletNode(context, "engine-sound", { numberOfInputs: 0, outputChannelCount: [2], processorOptions: { frames } });
    node.port.onmessage = (event) => take(event.data);
    node.connect(context.destination);
    worker = new Worker("/screens/Sound/stream.js");
    const { port1, port2 } = new MessageChannel();
    worker.onmessage = (event) => told(event.data);
    worker.postMessage({ open: `ws://${location.host}/sound/stream?line=${line}`, port: port1 }, [port1]);
    node.port.postMessage({ stream: port2 }, [port2]);
    await own.resume();
    if (context !== own) return;
    Object.assign(meter, { peak: 0, underruns: 0, overs: 0 });
    say("sound-underruns", "0");
    say("sound-overs", "0");
    listen(true);
  } finally {
    isStarting = false;
  }
}

export function stop() {
  listen(false);
  release();
  if (node) node.port.onmessage = null; // what it still tells is of the past
  node?.port.postMessage({ stop: true });
  worker?.postMessage({ close: true });
  const [oldContext, oldWorker] = [context, worker];
  context = node = worker = undefined;
  setTimeout(() => { oldWorker?.terminate(); oldContext?.close(); }, 60); // after the fade
  say("sound-state", "stopped");
  level(0);
}

// Frames that were played, left and right together: for measuring them.
export function capture(frames) {
  return new Promise((done) => { taps.push(done); node.port.postMessage({ tap: frames }); });
}

export const counts = () => ({ ...meter, state: context?.state ?? "stopped" });

function take(message) {
  if (message.tap) return taps.shift()?.(message.tap);
  meter.underruns = message.underruns;
  meter.peak = message.peak;
  say("sound-underruns", String(message.underruns));
  level(message.peak);
}

function told(message) {
  if (message.overs) say("sound-overs", String((meter.overs += message.overs)));
  if (message.state === "open") say("sound-state", "sounding");
  if (message.state === "closed" && worker) stop();
}

function level(peak) {
  const db = 20 * Math.log10(Math.max(peak, 1e-5));
  if (byId("sound-meter")) byId("sound-meter").value = Math.max(-60, db);
  say("sound-level", peak > 1e-4 ? `${db.toFixed(1)} dB` : "silent");
}

function press(key) {
  send(`on ${key}`);
  say("sound-key", nameOf(key));
}

const lift = (key) => send(`off ${key}`);

function release() {
  down.clear();
  send("none");
}

function keyOf(code) {
  const low = LOW.indexOf(code), high = HIGH.indexOf(code);
  return low >= 0 ? 12 * octave + low : high >= 0 ? 12 * (octave + 1) + high : null;
}

const isTyping = (target) => target.matches?.("input[type=number], input[type=text], input:not([type]), textarea, select");

function onKeyDown(event) {
  if (event.key === "Escape") return stop();
  const key = keyOf(event.code);
  if (key === null || key > 127 || event.ctrlKey || event.altKey || event.metaKey || isTyping(event.target)) return;
  event.preventDefault();
  if (event.repeat || down.has(event.code)) return;
  down.set(event.code, key);
  press(key);
}

function onKeyUp(event) {
  const key = down.get(event.code);
  down.delete(event.code);
  if (key !== undefined) lift(key);
}

function onPointer(event) {
  const key = event.target.closest?.("[data-key]")?.dataset.key;
  if (key === undefined) return;
  press(Number(key));
  addEventListener("pointerup", () => lift(Number(key)), { once: true });
  addEventListener("pointercancel", () => lift(Number(key)), { once: true });
}

function onButtonKey(event) {
  const key = event.target.closest?.("[data-key]")?.dataset.key;
  if (key === undefined || event.repeat || (event.key !== "Enter" && event.key !== " ")) return;
  event.preventDefault();
  (event.type === "keydown" ? press : lift)(Number(key));
}

function listen(on) {
  const each = on ? "addEventListener" : "removeEventListener";
  document[each]("keydown", onKeyDown);
  document[each]("keyup", onKeyUp);
  document[each]("keydown", onButtonKey);
  document[each]("keyup", onButtonKey);
  document[each]("pointerdown", onPointer);
  window[each]("blur", release);
}

export function setOctave(value) {
  release();
  octave = value + 1;
}

export async function useMidi() {
  if (!navigator.requestMIDIAccess) return say("sound-midi", "this browser has no MIDI");
  try {
    const midi = await navigator.requestMIDIAccess();
    const attach = () => {
      for (const input of midi.inputs.values()) input.onmidimessage = onMidi;
      say("sound-midi", midi.inputs.size === 0 ? "no keyboard is connected" : [...midi.inputs.values()].map((input) => input.name).join(", "));
    };
    midi.onstatechange = attach;
    attach();
  } catch {
    say("sound-midi", "not allowed by this browser");
  }
}

// Notes of all channels (MIDI 1.0); velocity is not followed: the gate of a voice has one height.
function onMidi(event) {
  const [status, a, b] = event.data;
  if ((status & 0xf0) === 0x90 && b > 0) press(a);
  else if ((status & 0xf0) === 0x80 || (status & 0xf0) === 0x90) lift(a);
  else if ((status & 0xf0) === 0xb0 && (a === 120 || a === 123)) release();
}
