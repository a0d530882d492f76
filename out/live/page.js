(async () => {
  const byId = (id) => document.getElementById(id);
  const bytes = Uint8Array.from(atob(byId("engine").textContent.trim()), (c) => c.charCodeAt(0));
  const module = await WebAssembly.compile(unpacked(bytes));
  const worker = new Worker(URL.createObjectURL(new Blob([byId("worker").textContent], { type: "text/javascript" })));
  const waiting = new Map();
  let asked = 0;
  const ready = new Promise((resolve) => {
    worker.onmessage = ({ data }) => {
      if (data.ready) resolve();
      else if (waiting.has(data.id)) waiting.get(data.id)(JSON.parse(data.reply));
    };
  });
  worker.postMessage({ module });
  await ready;
  const ask = (request) => new Promise((resolve) => {
    waiting.set(++asked, resolve);
    worker.postMessage({ id: asked, request: JSON.stringify(request) });
  });
  const open = JSON.parse(byId("data").textContent).open;
  const about = await ask({ ask: "open", ...open });
  const m = about.movers[0], slider = byId("slider");
  byId("title").textContent = about.title;
  byId("label").textContent = m.label;
  [slider.min, slider.max, slider.value] = [m.from, m.to, m.value];
  let wanted = 0;
  const run = async () => {
    const mine = ++wanted;
    const now = m.from + Math.round((slider.value - m.from) / m.step) * m.step;
    byId("value").textContent = now + " " + m.unit;
    const begun = await ask({ ask: "begin", set: [{ key: m.key, value: now + " " + m.unit }] });
    for (let done = begun.done; done < begun.need && mine === wanted; ) {
      ({ done } = await ask({ ask: "step" }));
      byId("state").textContent = done + " of " + begun.need;
      if (done !== 2 && done !== begun.need) continue;
      const answer = await ask({ ask: "answer", draws: 500 });
      if (mine !== wanted) return;
      byId("said").replaceChildren(...(answer.sentences || [answer.error]).map((s) => Object.assign(document.createElement("li"), { textContent: s })));
    }
  };
  slider.oninput = run;
  run();
})();
