// Between the engine and the audio thread, in a thread of its own: what the page does cannot hold samples up.
let socket, sound;

onmessage = (event) => {
  const message = event.data;
  if (message.open) {
    sound = message.port;
    socket = new WebSocket(message.open);
    socket.binaryType = "arraybuffer";
    socket.onopen = () => {
      sound.onmessage = (asked) => socket.readyState === 1 && socket.send(`ask ${asked.data}`);
      postMessage({ state: "open" });
    };
    socket.onmessage = (got) => {
      if (typeof got.data === "string") postMessage({ overs: Number(got.data.split(" ")[1]) });
      else sound.postMessage(got.data, [got.data]);
    };
    socket.onclose = () => postMessage({ state: "closed" });
  } else if (message.words && socket?.readyState === 1) socket.send(message.words);
  else if (message.close) socket?.close();
};
