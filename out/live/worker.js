// The worker: runs the engine and answers one request after another. Between two
// of them it reads its messages, so a newer question never waits for more than one.
"use strict";
const ended = (error) => self.postMessage({ ended: String((error && error.message) || error) });

self.onmessage = ({ data: message }) => {
  if (message.module) {
    begin(message.module).catch(ended);
    return;
  }
  try {
    self.postMessage({ id: message.id, reply: self.rollchange(message.request) });
  } catch (error) {
    ended(error); // out of memory, for one: the page starts another
  }
};

async function begin(module) {
  const go = new Go();
  const instance = await WebAssembly.instantiate(module, go.importObject);
  go.run(instance).then(() => ended("exit"), ended);
  const wait = () => (self.rollchange ? self.postMessage({ ready: true }) : setTimeout(wait, 1));
  wait();
}
