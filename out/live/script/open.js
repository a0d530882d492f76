// Open a scenario: from a file, dropped, shipped, or its text; what is wrong with it
// is shown at its lines.

const mostText = 4 << 20; // bytes

// openText opens the text of a scenario, or shows what is wrong with it.
async function openText(name, text, vary, files) {
  tell(say("open.reading", name));
  run.paused = true; // nothing is simulated between two scenarios
  run.wanted++;
  let reply;
  try {
    reply = await ask({ ask: "open", name, text, vary: vary || [], files: files || {} });
  } catch (error) {
    reply = { problems: [{ message: error.message }] };
  }
  tell("");
  run.paused = false;
  if (reply.problems && reply.problems.length) {
    showStart(name, text, reply.problems, files);
    return false;
  }
  Object.assign(state, { name, text, title: reply.title || name, currency: reply.currency || "", vary: vary || [], files: files || {}, added: [], kept: [], answer: null, first: null, last: "", opening: reply.warnings || [],
    choices: reply.choices || [], problems: new Map(), blamed: new Map(),
    movers: (reply.movers || []).map(unmoved),
    alternatives: (reply.alternatives || []).map((a) => ({ ...a, opened: a.on })) });
  const groups = new Set(state.movers.map((m) => m.group).filter((g) => g !== "line"));
  state.folded = matchMedia("(max-width: 40rem)").matches ? groups : new Set(); // where there is no room the line comes first
  document.title = state.title;
  byId("title").replaceChildren(own(state.title));
  byId("said").replaceChildren();
  hideParts();
  show("work");
  buildFields();
  showKept();
  changed();
  return true;
}

// show shows the work or the start.
function show(what) {
  byId("starting").hidden = true;
  byId("work").hidden = what !== "work";
  byId("skip").hidden = what !== "work";
  byId("bar").hidden = what !== "work";
  byId("start").hidden = what !== "start";
}

// showStart shows where to open a scenario, and what is wrong with the one that was tried.
function showStart(name, text, problems, files) {
  const parts = [];
  const back = state.movers.length || state.alternatives.length ? button(say("bar.back"), () => { show("work"); byId("title").focus(); changed(); }) : "";
  const file = el("input", { type: "file", id: "file", accept: ".toml,.csv,text/plain,text/csv", multiple: true, onchange: () => { if (file.files.length) openFiles(file.files); } });
  const box = el("textarea", { id: "text", rows: 14, spellcheck: "false", autocapitalize: "off", wrap: "off" });
  box.value = text || "";
  const write = [el("label", { class: "unseen", for: "text" }, say("open.text_label")), box,
    button(say("open.text_take"), () => openText(name || "scenario.toml", box.value, [], files))];
  if (problems) parts.push(el("div", { class: "mend" }, problemsPart(name, problems, box), el("section", { "aria-labelledby": "mend-head" }, el("h2", { id: "mend-head" }, say("open.mend")), write)));
  const shipped = el("ul", { class: "shipped" });
  parts.push(el("section", { "aria-labelledby": "open-head" }, el("h2", { id: "open-head" }, say("open.head")), el("p", {}, say("open.what")), back,
    el("h3", {}, el("label", { for: "file" }, say("open.file"))), file, el("p", { class: "quiet" }, say("open.or_drop")),
    el("h3", { id: "shipped-head" }, say("open.shipped")), shipped,
    problems ? "" : el("details", {}, el("summary", {}, say("open.text")), write)));
  parts.push(keysPart());
  byId("start").replaceChildren(...parts);
  show("start");
  if (!state.title) byId("title").replaceChildren(own(data.title));
  listShipped(shipped);
  const head = byId("problems-head") || byId("title");
  head.focus();
}

// problemsPart lists what is wrong: the line and its text, the key, the rule, how to write it;
// a press on the line goes there in the box with the text.
// A line that only says where something is missing is not shown.
function problemsPart(name, problems, box) {
  const shows = (p) => p.line && p.source && p.source.trim() && (!p.key || p.source.includes(p.key.split(".").pop().replace(/\[.*/, "")));
  return el("section", { class: "problems", "aria-labelledby": "problems-head" }, el("h2", { id: "problems-head", tabindex: "-1" }, own(say("open.problems", name))),
    el("ol", {}, problems.map((p) => el("li", {},
      p.line ? [button(say("open.problem", p.line), () => toLine(box, p.line), { class: "plainly" }), p.key ? ": " : ""] : "", p.key ? el("code", {}, own(p.key)) : "",
      shows(p) ? el("pre", { tabindex: "0" }, el("code", {}, p.line + " | " + p.source)) : "",
      el("p", {}, own(p.message)), p.fix ? el("p", { class: "quiet" }, own(say("open.fix", p.fix))) : ""))));
}

// toLine selects a line of a box of text and shows it.
function toLine(box, line) {
  const lines = box.value.split("\n");
  const from = lines.slice(0, line - 1).reduce((sum, text) => sum + text.length + 1, 0);
  box.focus();
  box.setSelectionRange(from, from + (lines[line - 1] || "").length);
  box.scrollTop = Math.max(0, line - 4) * parseFloat(getComputedStyle(box).lineHeight);
}

async function listShipped(place) {
  const list = await ask({ ask: "shipped" }).catch((error) => { tell(error.message); return []; });
  place.replaceChildren(...list.map((s) => el("li", {}, button(s.title || s.name, () => openShipped(s.name), { class: "plainly" }))));
}

async function openShipped(name) {
  try {
    const { text } = await ask({ ask: "shipped", name });
    if (await openText(name.replace(/(\.toml)?$/, ".toml"), text, [])) byId("title").focus();
  } catch (error) {
    tell(error.message);
  }
}

// openFiles opens the scenario of some files that a person chose or dropped; the others are
// what it may read values from.
async function openFiles(list) {
  const all = [...list];
  const scenario = all.find((f) => /\.toml$/i.test(f.name));
  if (!scenario) return tell(say("open.not_toml", all[0].name));
  const large = all.find((f) => f.size > mostText);
  if (large) return tell(say("open.too_large", large.name));
  const files = {};
  for (const f of all) if (f !== scenario) files[f.name] = base64(new Uint8Array(await f.arrayBuffer()));
  if (await openText(scenario.name, await scenario.text(), [], files)) byId("title").focus();
}

function base64(bytes) {
  let text = "";
  for (let at = 0; at < bytes.length; at += 4096) text += String.fromCharCode(...bytes.subarray(at, at + 4096));
  return btoa(text);
}

// A file may be dropped anywhere on the page.
function letDrop() {
  let over = 0;
  const files = (event) => event.dataTransfer && [...event.dataTransfer.types].includes("Files");
  const shown = (n) => { over = Math.max(0, n); byId("drop").hidden = over === 0; };
  addEventListener("dragenter", (event) => { if (files(event)) { event.preventDefault(); shown(over + 1); } });
  addEventListener("dragleave", (event) => { if (files(event)) shown(over - 1); });
  addEventListener("dragover", (event) => { if (files(event)) event.preventDefault(); });
  addEventListener("drop", (event) => {
    if (!files(event)) return;
    event.preventDefault();
    shown(0);
    if (event.dataTransfer.files.length) openFiles(event.dataTransfer.files);
  });
}
