// The worker: runs the engine and answers one request after another. Between two
// of them it reads its messages, so a newer question never waits for more than one.
"use strict";
self.onmessage = async ({ data: message }) => {
  if (!message.module) {
    self.postMessage({ id: message.id, reply: self.rollchange(message.request) });
    return;
  }
  const go = new Go();
  const instance = await WebAssembly.instantiate(message.module, go.importObject);
  go.run(instance).then(() => self.postMessage({ ended: "exit" }), (error) => self.postMessage({ ended: String(error) }));
  const wait = () => (self.rollchange ? self.postMessage({ ready: true }) : setTimeout(wait, 1));
  wait();
};
