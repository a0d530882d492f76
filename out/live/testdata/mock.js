// A stand-in for the engine, for tests of the page alone: it answers the requests
// of a small invented line by formulas in place of a simulation.
class Go {
  constructor() { this.importObject = {}; }
  run() { self.rollchange = (request) => JSON.stringify(answered(JSON.parse(request))); return new Promise(() => {}); }
}
// What an engine works for is slept here, so that pages beside each other take little of the
// processor; the long form of the tests works.
const lock = new Int32Array(new WebAssembly.Memory({ initial: 1, maximum: 1, shared: true }).buffer);
const works = (ms) => Atomics.wait(lock, 0, 0, ms);
const mock = { set: {}, on: [], done: 0, title: "", names: [], extra: [] };
const inputs = () => [
  { key: "line.speed", label: "line speed", group: "line", unit: "m/min", value: 150, text: "150 m/min", from: 100, to: 250, step: 5, decimals: 0 },
  { key: "crew.operators", label: "operators", group: "line", unit: "", value: 2, text: "2", from: 1, to: 4, step: 1, decimals: 0 },
  { key: "unwind.change_time", label: "time of a roll change, unwind", group: "line", unit: "min", value: 4.5, text: "4.5 min", from: 2, to: 9, step: 0.1, decimals: 1, distribution: "lognormal, its mean" },
  { key: "economics.material_cost", label: "cost of web", group: "price", unit: "EUR/m2", value: 0.34, text: "0.34", from: 0.17, to: 0.68, step: 0.01, decimals: 2, money: true },
  ...mock.extra,
];
const valueOf = (key) => (key in mock.set ? parseFloat(mock.set[key]) : inputs().find((m) => m.key === key).value);
const isBad = (text) => text.includes("broken") ? [{ line: 2, column: 1, key: "line.sped", message: "there is no key line.sped; did you mean line.speed?", fix: 'speed = "150 m/min"', source: text.split("\n")[1] || "" }] : null;
function answered(q) {
  if (q.ask === "open") {
    const problems = isBad(q.text);
    if (problems) return { problems };
    const names = [...q.text.matchAll(/\nname = ("(?:[^"\\]|\\.)*")/g)].map((m) => JSON.parse(m[1]));
    Object.assign(mock, { set: {}, names: names.length ? names : ["as it is"], extra: [], title: (q.text.match(/title = ("(?:[^"\\]|\\.)*")/) || [0, '""'])[1] });
    return { title: JSON.parse(mock.title), units: "metric", currency: "EUR", alternatives: mock.names.map((name) => ({ name, on: true })), movers: inputs(), choices: [{ key: "line.accel", label: "acceleration", unit: "m/s2" }], replications: 20, orders: false, warnings: [] };
  }
  if (q.ask === "mover") { mock.extra.push({ key: q.key, label: "acceleration", group: "line", unit: "m/s2", value: 0.35, text: "0.35 m/s2", from: 0.1, to: 1, step: 0.05, decimals: 2 }); return { mover: mock.extra[0] }; }
  if (q.ask === "check") {
    const value = parseFloat(q.value);
    if (!/^[-\d.]+( [\w/]+)?$/.test(q.value)) return { ok: false, message: q.value + " is no value for " + q.key, fix: 'write it as "180 m/min"' };
    if (!(value >= 0)) return { ok: false, message: q.key + " must be 0 or more", fix: "" };
    const m = inputs().find((x) => x.key === q.key);
    return { ok: true, value, text: value + (m.unit ? " " + m.unit : "") };
  }
  if (q.ask === "begin") { const s = {}; for (const x of q.set) s[x.key] = x.value; const line = JSON.stringify([Object.entries(s).filter(([k]) => !k.startsWith("economics")), q.on]); if (line !== mock.line) mock.done = 0; mock.line = line; mock.set = s; mock.on = q.on; return { problems: [], need: 20, done: mock.done }; }
  if (q.ask === "step") { const speed = valueOf("line.speed"); if (speed === 205) throw new Error("out of memory"); works(speed === 195 ? 60000 : 15); mock.done = Math.min(20, mock.done + 1); return { done: mock.done, need: 20 }; }
  if (q.ask === "answer") return answer();
  if (q.ask === "save") return { text: "# " + Object.keys(mock.set).join(", ") + "\n" };
  if (q.ask === "keys") return [{ key: "unwind.storage.capacity", meaning: "web in the storage of the unwind <b>when it is full</b>", unit: "m", default: "", example: '"130 m"' }];
  if (q.ask === "shipped") return q.name ? { text: 'title = "Label press"\n[[alternative]]\nname = "by hand"\n[[alternative]]\nname = "zero-speed"\n' } : [{ name: "label_press", title: "Label press, short runs" }];
  return { error: "unknown request" };
}
const r1 = (v) => ({ value: v, low: v * (1 - 0.02 / mock.done), high: v * (1 + 0.02 / mock.done), text: v.toFixed(1) + " ± " + ((0.02 * v) / mock.done).toFixed(2) });
function answer() {
  const v = valueOf("line.speed"), stop = valueOf("unwind.change_time"), cost = valueOf("economics.material_cost");
  const lost = (i) => (i === 0 ? (v * stop) / 3000 : 0.02), rate = (i) => v * (1 - lost(i) - 0.08);
  const on = mock.names.map((name, i) => ({ name, i })).filter((a) => mock.on.includes(a.name));
  const gain = (i) => (rate(i) - rate(0)) * 3000, saved = (i) => gain(i) + 90000 * cost - 5000;
  const amount = (x) => ({ value: x, low: x - 0.1 * Math.abs(x), high: x + 0.1 * Math.abs(x), text: Math.round(x).toLocaleString("en") });
  const part = (key, cause, label, share) => ({ key, cause, label, value: share, share, text: (100 * share).toFixed(2) + " %" });
  return { done: mock.done, need: 20, rough: mock.done < 20, sentences: ["“" + on[on.length - 1].name + "” makes the most good web: " + (rate(1) - rate(0)).toFixed(1) + " m/min more than “" + on[0].name + "”.", "It is paid back in about a year."],
    figures: [{ name: "good_rate", label: "good web", unit: "m/min", alternatives: on.map((a) => ({ name: a.name, ...r1(rate(a.i)) })), difference: [] }],
    money: on.slice(1).map((a) => ({ alternative: a.name, total: amount(saved(a.i)), causes: [{ key: "output", label: "extra good output", ...amount(gain(a.i)) }, { key: "material", label: "waste: material", ...amount(90000 * cost) }, { key: "maintenance", label: "maintenance", ...amount(-5000) }],
      payback: { value: 98000 / saved(a.i), low: 80000 / saved(a.i), high: 120000 / saved(a.i), text: (98000 / saved(a.i)).toFixed(2) }, npv: amount(5 * saved(a.i) - 98000), cash: Array.from({ length: 11 }, (_, t) => ({ year: t, net: t ? saved(a.i) : -98000, sum: saved(a.i) * t - 98000, low: saved(a.i) * t * 0.9 - 98000, high: saved(a.i) * t * 1.1 - 98000 })), sentence: "" })),
    hours: on.map((a) => ({ alternative: a.name, parts: [part("time.running", "running", "running at line speed", 0.92 - lost(a.i)), part("time.ramping", "ramping", "ramping up and down", 0.02), part("hold.unwind_change", "unwind_change", "stopped: unwind roll change", lost(a.i)), part("stopped.stop.cleaning", "stop.cleaning", "stopped: cleaning", 0.06)] })),
    web: on.map((a) => ({ alternative: a.name, parts: [part("waste.restart", "ramping", "scrap: restarts", 0.02 * (1 + lost(a.i))), part("waste.residual", "residual", "web left on cores", 0.004)] })),
    storage: on.slice(1).map((a) => ({ alternative: a.name, capacity: 130, points: [[-20, 130], [0, 130], [8, 130 - (v / 60) * 8], [30, 90], [60, 130]], lowest: 130 - (v / 60) * 8, trip: 12, text: "" })), warnings: [], cautions: ["a parent roll holds about 213 kg of web: plan for a hoist"] };
}
