// Keep: the present case beside others, up to four, with what was set and what came out.

const mostKept = 4;

function keepCase() {
  if (!state.answer) return;
  if (state.kept.length >= mostKept) return tell(say("bar.full"));
  const used = state.kept.map((k) => k.number);
  let number = 1;
  while (used.includes(number)) number++;
  const mark = markOf();
  state.kept.push({ number, mark, answer: state.answer.mark === mark ? state.answer : null, set: setNow(), on: isOn() });
  tell(say("bar.kept", say("kept.case", number)));
  showKept();
}

// setNow is what is set now: key -> [text, sent, value].
const setNow = () => new Map(moved().map((m) => [m.key, [m.now, m.sent, m.at]]));

// figuresOf are the texts of an answer that cases are compared by: [what, alternative, text].
function figuresOf(answer) {
  if (!answer) return [];
  const about = answer.kind === "rough" ? "≈ " : "";
  const rows = (answer.figures || []).filter((f) => drawn.includes(f.name)).flatMap((f) => f.alternatives.map((a) => [f.unit ? f.label + ", " + f.unit : f.label, a.name, about + a.text]));
  for (const [key, head] of moneyFigures) for (const m of answer.money || []) if (m[key] && m[key].text) rows.push([head(m), m.alternative, about + m[key].text]);
  return rows;
}

// showKept draws the comparison anew.
function showKept() {
  for (const k of state.kept) if (state.answer && state.answer.mark === k.mark) k.answer = state.answer;
  byId("kept").classList.toggle("empty", state.kept.length === 0);
  if (!state.kept.length) {
    byId("cases").replaceChildren(el("p", { class: "quiet" }, say("kept.none")));
    return;
  }
  const now = { now: true, answer: state.answer && state.answer.mark === markOf() ? state.answer : null, set: setNow(), on: isOn() };
  const first = { opened: true, answer: state.first, set: new Map(), on: state.alternatives.filter((a) => a.opened).map((a) => a.name) };
  const cases = [first, ...state.kept, now];
  const heads = cases.map((c) => (c.opened ? say("kept.opened") : c.now ? say("kept.now") : say("kept.case", c.number)));
  const body = [groupRow(say("kept.set"), cases.length)];
  for (const key of new Set(cases.flatMap((c) => [...c.set.keys()]))) {
    const m = moverOf(key);
    if (m) body.push(wideRow(m.label, "", heads, cases.map((c) => (c.set.has(key) ? el("b", {}, own(c.set.get(key)[0])) : own(m.text)))));
  }
  for (const a of state.alternatives) {
    if (cases.some((c) => c.on.includes(a.name) !== a.opened)) body.push(wideRow(a.name, "", heads, cases.map((c) => say(c.on.includes(a.name) ? "inputs.on" : "inputs.off"))));
  }
  if (body.length === 1) body.push(wideRow(say("kept.unchanged"), "", heads, cases.map(() => "–")));
  body.push(groupRow(say("kept.figures"), cases.length));
  const figures = cases.map((c) => new Map(figuresOf(c.answer).map(([what, alternative, text]) => [JSON.stringify([what, alternative]), text])));
  for (const key of new Set(figures.flatMap((f) => [...f.keys()]))) {
    const [what, alternative] = JSON.parse(key);
    body.push(wideRow(what, alternative, heads, figures.map((f) => (f.has(key) ? own(f.get(key)) : "–"))));
  }
  body.push(wideRow(say("kept.acts"), "", heads, cases.map((c, i) => (c.opened || c.now ? "–" : [
    button(say("kept.take"), () => takeCase(c), { class: "small", "aria-label": say("kept.take_of", heads[i]) }), " ",
    button(say("kept.remove"), () => removeCase(c), { class: "small", "aria-label": say("kept.remove_of", heads[i]) })])), { class: "acts" }));
  byId("cases").replaceChildren(wideTable(say("kept.head"), say("kept.what"), heads, body));
}

function removeCase(c) {
  state.kept.splice(state.kept.indexOf(c), 1);
  showKept();
  byId("keep").focus();
}

// takeCase sets the inputs of a kept case again.
function takeCase(c) {
  for (const m of state.movers) {
    resetOne(m);
    if (!c.set.has(m.key)) continue;
    [m.now, m.sent] = c.set.get(m.key);
    put(m, c.set.get(m.key)[2], m.now);
  }
  for (const a of state.alternatives) setOn(a, c.on.includes(a.name));
  markMoved();
  changed();
}
