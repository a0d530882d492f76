// The engine: unpacked and compiled once, run in a worker. A worker that does not
// come back is stopped; whoever asks next starts another from the compiled module.
const engine = { module: null, worker: null, waiting: new Map(), asked: 0, since: 0, slowest: 0, reviving: null };

class Stopped extends Error {}

// compiled is the module, from the text of the page.
async function compiled() {
  const node = byId("engine");
  await new Promise((seen) => setTimeout(seen, 20)); // what the page says of it comes first
  const text = atob(node.textContent);
  node.remove(); // two megabytes of text
  const packed = new Uint8Array(text.length);
  for (let i = 0; i < text.length; i++) packed[i] = text.charCodeAt(i);
  return WebAssembly.compile(unpacked(packed));
}

// started starts a worker with the module; it counts from when it is ready.
function started() {
  const url = URL.createObjectURL(new Blob([byId("worker").textContent], { type: "text/javascript" }));
  const worker = new Worker(url);
  return new Promise((ready, failed) => {
    const ended = (why) => {
      worker.terminate();
      failed(new Error(why));
      dropped(worker, new Stopped(why));
    };
    worker.onmessage = ({ data: message }) => {
      if (message.ready) {
        URL.revokeObjectURL(url);
        engine.worker = worker;
        ready();
      } else if (message.ended !== undefined) {
        ended(message.ended);
      } else {
        engine.slowest = Math.max(engine.slowest, busyFor());
        engine.since = performance.now();
        const answer = engine.waiting.get(message.id);
        engine.waiting.delete(message.id);
        if (answer) answer.resolve(message.reply);
      }
    };
    worker.onerror = (event) => {
      event.preventDefault();
      ended(event.message);
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

// ask puts a request to the engine; its reply is an object, an error a failure. An engine
// that was stopped is first started again, with what was open.
async function ask(request) {
  if (!engine.worker || engine.reviving) await revived();
  return posted(request);
}

// posted puts a request to the engine that runs.
async function posted(request) {
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

// revived starts the engine again with what was open. All who ask meanwhile wait for the one start.
function revived() {
  engine.reviving ||= (async () => {
    try {
      await started();
      if (state.text) await reopened();
    } finally {
      engine.reviving = null;
    }
  })();
  return engine.reviving;
}

// reopened opens once more what is open, with the inputs that were added.
async function reopened() {
  await posted({ ask: "open", name: state.name, text: state.text, vary: state.vary, files: state.files });
  for (const key of state.added) await posted({ ask: "mover", key });
}

// lacking is what this browser lacks to run the engine, or nothing.
function lacking() {
  if (typeof WebAssembly === "undefined") return say("page.lacks_wasm");
  if (typeof Worker === "undefined") return say("page.lacks_worker");
  return "";
}
