// Listens to a sound input and sends its samples to the workbench, which reads their pitch.
const most = 40; // pieces under way, over three seconds: a browser that falls behind lets some go, and says so

export async function listen(bench) {
  const stream = await navigator.mediaDevices.getUserMedia({
    audio: { echoCancellation: false, noiseSuppression: false, autoGainControl: false, channelCount: 1 },
  });
  const context = new AudioContext({ latencyHint: "playback" });
  await context.audioWorklet.addModule("/screens/Measure/tap.js");
  const tap = new AudioWorkletNode(context, "tap", { channelCount: 1, channelCountMode: "explicit" });
  const mute = new GainNode(context, { gain: 0 }); // a node that leads nowhere is not run
  context.createMediaStreamSource(stream).connect(tap).connect(mute).connect(context.destination);
  let number = 0, under = 0;
  tap.port.onmessage = async ({ data }) => {
    number++;
    if (under >= most) return;
    under++;
    try {
      await bench.invokeMethodAsync("Heard", number, new Uint8Array(data.buffer));
    } catch {
      stop();
    }
    under--;
  };
  await context.resume();
  const stop = () => {
    tap.port.onmessage = null;
    stream.getTracks().forEach((track) => track.stop());
    if (context.state !== "closed") context.close();
  };
  return { rate: context.sampleRate, name: stream.getAudioTracks()[0]?.label ?? "", stop };
}

export const rate = (listening) => listening.rate;
export const label = (listening) => listening.name;
