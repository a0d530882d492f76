// The inputs: a slider and a field for each.

// moverField is one input: its name, a slider with a mark at the value as opened, a field with the unit.
function moverField(m) {
  const id = unique("in");
  m.step = m.step > 0 ? m.step : (m.to - m.from) / 100;
  m.field = el("input", { type: "text", id, autocomplete: "off", autocapitalize: "off", spellcheck: "false", "aria-describedby": id + "-unit " + id + "-note " + id + "-fault",
    oninput: () => later(m), onchange: () => check(m), onblur: () => left(m), onkeydown: (e) => { if (e.key === "Enter") check(m); } });
  m.slider = el("input", { type: "range", min: m.from, max: m.to, step: "any", "aria-label": say("inputs.slider", m.label), "aria-describedby": id + "-note", oninput: () => slid(m), onkeydown: (e) => stepped(m, e) });
  m.mark = el("span", { class: "mark", "aria-hidden": "true" });
  m.note = el("small", { id: id + "-note" }, say("inputs.as_opened", m.text));
  m.fault = el("p", { class: "fault", id: id + "-fault", role: "alert" });
  m.reset = button(say("inputs.reset"), () => { resetOne(m); markMoved(); changed(); m.slider.focus(); }, { class: "small", "aria-label": say("inputs.reset_to", m.label, m.text) });
  m.under = el("div", { class: "under" }, m.note, m.reset);
  m.row = el("div", { class: "mover" },
    el("div", { class: "named" }, el("label", { for: id }, own(m.label)), el("span", { class: "typed" }, m.field, el("span", { class: "unit", id: id + "-unit" }, own(m.unit || "")))),
    m.distribution ? el("small", {}, own(m.distribution)) : null,
    el("div", { class: "slide" }, m.slider, m.mark), m.under, m.fault);
  put(m, m.at, m.now);
  if (m.said) refuse(m, m.said);
  return m.row;
}

// put shows a value in slider and field; the slider reaches as far as it must.
function put(m, value, text) {
  m.at = value;
  m.slider.min = Math.min(m.from, value);
  m.slider.max = Math.max(m.to, value);
  m.slider.value = value;
  m.slider.setAttribute("aria-valuetext", text);
  m.field.value = bare(m, text);
  const low = Number(m.slider.min), wide = Number(m.slider.max) - low;
  m.mark.style.setProperty("--at", String(wide > 0 ? (m.value - low) / wide : 0));
}

// slid takes what the slider shows, at a whole step from the value as opened.
const slid = (m) => moveTo(m, m.value + Math.round((Number(m.slider.value) - m.value) / m.step) * m.step);

// stepped moves a slider by keys: a step, ten steps; Home and End are the browser's.
function stepped(m, event) {
  const steps = { ArrowRight: 1, ArrowUp: 1, ArrowLeft: -1, ArrowDown: -1, PageUp: 10, PageDown: -10 }[event.key];
  if (!steps || event.altKey || event.ctrlKey || event.metaKey) return;
  event.preventDefault();
  moveTo(m, m.at + steps * m.step);
}

// moveTo makes a value of the slider hold, within its ends.
function moveTo(m, wanted) {
  const value = Math.min(Number(m.slider.max), Math.max(Number(m.slider.min), wanted));
  if (Math.abs(value - m.value) < m.step * 1e-6) taken(m, m.value, m.text, "");
  else taken(m, Number(plain(value, m.decimals)), shown(m, value), plain(value, m.decimals));
}

// taken makes a value hold: as a person reads it, and as the engine gets it.
function taken(m, value, text, sent) {
  m.turn = (m.turn || 0) + 1; // what is still being checked is out of date
  clearTimeout(m.timer);
  put(m, value, text);
  refuse(m, "");
  if (m.now === text && m.sent === sent) return;
  m.now = text;
  m.sent = sent;
  state.last = m.key;
  markMoved();
  changed();
}

// later checks a field when typing rests.
function later(m) {
  clearTimeout(m.timer);
  m.timer = setTimeout(check, 500, m);
}

// check has the engine read a field, as it reads the file.
async function check(m) {
  clearTimeout(m.timer);
  const written = m.field.value.trim();
  if (written === bare(m, m.now)) return refuse(m, "");
  const turn = (m.turn = (m.turn || 0) + 1);
  let reply;
  try {
    reply = await ask({ ask: "check", key: m.key, value: bare(m, written) });
  } catch (error) {
    if (error instanceof Stopped && !error.message) return later(m); // it was not the field that stopped the engine
    reply = { ok: false, message: error.message };
  }
  if (turn !== m.turn) return;
  if (!reply.ok) return refuse(m, joined(reply), true);
  const typed = m.field.value;
  if (reply.value === m.value && reply.text === m.text && !written.includes("{")) taken(m, m.value, m.text, "");
  else taken(m, reply.value, reply.text, bare(m, written));
  if (document.activeElement === m.field) m.field.value = typed; // a field does not change under the fingers
}

// left shows in a field that is left the value that holds; one that is refused stays to be mended.
function left(m) {
  if (!state.problems.has(m.key) && m.field.value.trim() === bare(m, m.sent || m.text)) m.field.value = bare(m, m.now);
}

const joined = (problem) => [problem.message, problem.fix].filter(Boolean).join("; ");

// refuse shows, or takes away, why an input is not taken; holds: the answer stays that of the value before.
function refuse(m, message, holds) {
  if (message) {
    state.problems.set(m.key, message);
    m.field.setAttribute("aria-invalid", "true");
    m.fault.replaceChildren(own(message), holds ? " " + say("inputs.refused", m.now) : "");
  } else {
    state.problems.delete(m.key);
    m.field.removeAttribute("aria-invalid");
    m.fault.replaceChildren();
  }
  m.said = message;
  byId("reset").disabled = unchanged() && state.problems.size === 0;
}

// showRefused shows what the engine refuses of the inputs together: beside the input that it
// is about, else beside the one that was moved last when it was first refused, since that
// brought it about; what is in the way can then be made an input.
function showRefused(problems) {
  for (const m of state.movers) {
    if (m.together) refuse(m, "");
    m.together = false;
  }
  const said = new Map();
  const others = [];
  const before = state.blamed;
  state.blamed = new Map();
  for (const p of problems) {
    const about = moverOf(p.key);
    const blamed = moverOf(before.get(p.key + p.message));
    const choice = state.choices.find((c) => c.key === p.key);
    const m = about || (blamed && blamed.now !== blamed.text ? blamed : moverOf(state.last));
    if (m) state.blamed.set(p.key + p.message, m.key);
    const text = about ? joined(p) : (p.label || (choice && choice.label) || p.key) + ": " + joined(p);
    if (!m) others.push(text);
    else said.set(m, [...(said.get(m) || []), [text, about ? null : choice]]);
  }
  for (const [m, list] of said) {
    m.together = true;
    refuse(m, [...new Set(list.map(([text]) => text))].join("; "));
    for (const choice of new Set(list.map((x) => x[1]).filter(Boolean))) {
      const add = button(say("inputs.add_this", choice.label), () => added(choice.key, add), { class: "small" });
      m.fault.append(" ", add);
    }
  }
  if (problems.length) showHalted(others.length ? others : [...new Set([...said.values()].flat().map(([text]) => text))]);
}

// markMoved marks the inputs that differ from the scenario as it was opened.
function markMoved() {
  for (const m of state.movers) {
    const is = m.now !== m.text;
    m.row.classList.toggle("moved", is);
    m.under.hidden = !is;
  }
  byId("reset").disabled = unchanged() && state.problems.size === 0;
  showSet();
}

// resetOne puts an input back; whoever calls it marks what is moved.
function resetOne(m) {
  clearTimeout(m.timer);
  m.turn = (m.turn || 0) + 1;
  m.now = m.text;
  m.sent = "";
  put(m, m.value, m.text);
  refuse(m, "");
}

// resetAll puts every input back to the scenario as it was opened.
function resetAll() {
  for (const m of state.movers) resetOne(m);
  for (const a of state.alternatives) setOn(a, a.opened);
  markMoved();
  changed();
}
