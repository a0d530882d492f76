// The groups of inputs, alternatives on and off, one more input out of all that the
// scenario has, and what was set so far.

const manyInputs = 8; // more than that are found by a word

// buildFields lays out all inputs of what is open.
function buildFields() {
  const groups = new Map();
  for (const m of state.movers) {
    if (!groups.has(m.group)) groups.set(m.group, []);
    groups.get(m.group).push(m);
  }
  const parts = [];
  if (state.movers.length > manyInputs) parts.push(finder());
  if (state.alternatives.length > 1) parts.push(group("on", say("inputs.alternatives"), state.alternatives.map(alternativeField)));
  const kinds = ["line", "product", "price", "alternative"];
  const place = (name) => kinds.indexOf(String(name).split(" ")[0]);
  const order = [...groups.keys()].sort((a, b) => place(a) - place(b));
  for (const name of order) parts.push(group(name, groupName(name), groups.get(name).map(moverField)));
  if (state.choices.some((c) => !moverOf(c.key))) parts.push(adder());
  byId("movers").replaceChildren(...parts);
  markMoved();
}

// finder shows only the inputs that have a word in their name.
function finder() {
  const id = unique("find");
  const none = el("p", { class: "quiet", "aria-live": "polite" });
  const find = () => {
    const word = box.value.trim().toLowerCase();
    let found = 0;
    for (const m of state.movers) {
      const fits = m.label.toLowerCase().includes(word) || groupName(m.group).toLowerCase().includes(word) || m.key.toLowerCase().includes(word);
      m.row.hidden = !fits;
      found += fits;
    }
    for (const fold of byId("movers").querySelectorAll(".fold")) {
      const rows = [...fold.querySelectorAll(".mover")];
      fold.hidden = Boolean(word) && !rows.some((r) => !r.hidden);
      if (word && !fold.hidden) fold.open = true;
    }
    none.textContent = found ? "" : say("inputs.find_none");
  };
  const box = el("input", { type: "search", id, autocomplete: "off", spellcheck: "false", oninput: find });
  return el("div", { class: "finder" }, el("label", { for: id }, say("inputs.find")), box, none);
}

// group is a group of inputs that can be folded away.
function group(name, head, content) {
  const fold = el("details", { class: "fold", open: !state.folded.has(name), ontoggle: () => { if (fold.open) state.folded.delete(name); else state.folded.add(name); } },
    el("summary", {}, el("h3", {}, own(head))), el("div", { role: "group", "aria-label": head }, content));
  return fold;
}

function groupName(name) {
  if (name === "line") return say("inputs.group_line");
  if (name === "price") return say("inputs.group_price");
  if (name && name.startsWith("alternative ")) return say("inputs.group_alternative", name.slice(12));
  if (name && name.startsWith("product ")) return say("inputs.group_product", name.slice(8));
  return name || say("inputs.group_other");
}

function alternativeField(a, i) {
  const id = unique("on");
  a.box = el("input", { type: "checkbox", id, disabled: i === 0, onchange: () => { a.on = a.box.checked; markMoved(); changed(); } });
  a.box.checked = a.on;
  return el("label", { class: "check", for: id }, a.box, el("span", {}, own(a.name), i === 0 ? el("small", {}, say("inputs.compared")) : null));
}

function setOn(a, on) {
  a.on = on;
  if (a.box) a.box.checked = on;
}

// adder chooses an input that is not yet there.
function adder() {
  const id = unique("add");
  const free = state.choices.filter((c) => !moverOf(c.key));
  const pick = el("select", { id }, el("option", { value: "" }, say("inputs.add_none")),
    free.map((c) => el("option", { value: c.key }, c.unit ? c.label + ", " + c.unit : c.label)));
  const add = button(say("inputs.add_do"), () => { if (pick.value) added(pick.value, add); }, { class: "small" });
  return el("div", { class: "adder" }, el("label", { for: id }, say("inputs.add")), el("div", { class: "pick" }, pick, add));
}

// added lays a chosen input beside the others; what was set stays.
async function added(key, press) {
  press.disabled = true;
  try {
    const { mover } = await ask({ ask: "mover", key });
    state.added.push(key);
    state.movers.push(unmoved(mover));
    state.folded.delete(mover.group);
    buildFields();
    moverOf(key).slider.focus();
    if (state.problems.size) changed();
  } catch (error) {
    tell(error.message);
  }
  press.disabled = false;
}

// unmoved is an input as the engine gives it, at the value as opened.
const unmoved = (m) => ({ ...m, at: m.value, now: m.text, sent: "" });

// showSet lists what was set, above the answer and on paper.
function showSet() {
  const list = moved();
  const away = state.alternatives.filter((a) => a.on !== a.opened);
  if (!list.length && !away.length) {
    byId("set").replaceChildren(el("p", { class: "quiet onpaper" }, say("inputs.set_none")));
    return;
  }
  byId("set").replaceChildren(el("h3", { class: "unseen" }, say("inputs.set_head")),
    el("ul", { class: "chips" },
      list.map((m) => el("li", {}, own(m.label), " ", el("s", {}, own(m.text)), " → ", el("b", {}, own(m.now)))),
      away.map((a) => el("li", {}, own(a.name), " ", el("b", {}, say(a.on ? "inputs.on" : "inputs.off"))))));
}
