// The engine: unpacked and compiled once, run in a worker. A worker that does not
// come back is stopped and another started from the compiled module.
const engine = { module: null, worker: null, waiting: new Map(), asked: 0, since: 0 };

class Stopped extends Error {}

// compiled is the module, from the text of the page.
async function compiled() {
  const node = byId("engine");
  await new Promise((seen) => setTimeout(seen, 20)); // what the page says of it comes first
  const packed = Uint8Array.from(atob(node.textContent), (c) => c.charCodeAt(0));
  node.remove(); // two megabytes of text
  return WebAssembly.compile(unpacked(packed));
}

// started starts a worker with the module.
function started() {
  const url = URL.createObjectURL(new Blob([byId("worker").textContent], { type: "text/javascript" }));
  const worker = new Worker(url);
  engine.worker = worker;
  return new Promise((ready, failed) => {
    worker.onmessage = ({ data: message }) => {
      if (message.ready) {
        URL.revokeObjectURL(url);
        ready();
        return;
      }
      if (message.ended !== undefined) {
        failed(new Error(message.ended));
        dropped(worker, new Stopped(message.ended));
        return;
      }
      engine.since = performance.now();
      const answer = engine.waiting.get(message.id);
      engine.waiting.delete(message.id);
      if (answer) answer.resolve(message.reply);
    };
    worker.onerror = (event) => {
      event.preventDefault();
      failed(new Error(event.message));
      dropped(worker, new Stopped(event.message));
    };
    worker.postMessage({ module: engine.module });
  });
}

// dropped stops a worker and fails what waits for it.
function dropped(worker, why) {
  if (engine.worker !== worker) return;
  worker.terminate();
  engine.worker = null;
  const waiting = [...engine.waiting.values()];
  engine.waiting.clear();
  for (const one of waiting) one.reject(why);
}

// ask puts a request to the engine; its reply is an object, an error a failure.
async function ask(request) {
  if (!engine.worker) throw new Stopped("");
  const id = ++engine.asked;
  if (engine.waiting.size === 0) engine.since = performance.now();
  const text = await new Promise((resolve, reject) => {
    engine.waiting.set(id, { resolve, reject });
    engine.worker.postMessage({ id, request: JSON.stringify(request) });
  });
  const reply = JSON.parse(text);
  if (reply.error) throw new Error(reply.error);
  return reply;
}

// busyFor is how long the engine has worked at what it does now, ms.
const busyFor = () => (engine.waiting.size === 0 ? 0 : performance.now() - engine.since);

// restarted stops the engine hard and starts it again; what was open is not.
async function restarted() {
  if (engine.worker) dropped(engine.worker, new Stopped(""));
  await started();
}

// lacking is what this browser lacks to run the engine, or nothing.
function lacking() {
  if (typeof WebAssembly === "undefined") return say("page.lacks_wasm");
  if (typeof Worker === "undefined") return say("page.lacks_worker");
  return "";
}
