// The answer: its state first (rough, nearly sure, sure), then the sentence; then
// the parts that show why.

function showState(kind, done, need, note) {
  const place = byId("state");
  if (!place.firstChild) {
    place.append(el("span", { class: "badge", id: "badge" }), el("progress", { id: "progress", "aria-label": say("status.progress") }), el("span", { class: "quiet", id: "counted" }), button(say("status.stop"), stopRun, { id: "stop", class: "small" }), jumper(), el("span", { class: "brief", id: "brief" }));
  }
  byId("answer").dataset.state = kind;
  byId("badge").textContent = say("status." + kind);
  byId("progress").max = need || 1;
  byId("progress").value = done;
  byId("counted").replaceChildren(need ? say("status.done", done, need) : "", (need && note) || "");
}

// jumper goes from the inputs to the answer and back, where they are not side by side.
function jumper() {
  let below = true;
  const press = button(say("answer.to_answer"), () => {
    const to = byId(below ? "answer" : "inputs");
    to.scrollIntoView();
    to.focus({ preventScroll: true });
  }, { id: "jump", class: "small" });
  new IntersectionObserver(([answer]) => {
    below = !answer.isIntersecting;
    press.textContent = say(below ? "answer.to_answer" : "answer.to_inputs");
  }, { rootMargin: "0px 0px -50% 0px" }).observe(byId("answer"));
  return press;
}

// stale says that what is shown is that before the change.
function stale() {
  byId("answer").setAttribute("aria-busy", "true");
  showState("working", 0, 0);
}

const showProgress = (done, need) => showState("working", done, need);

// showHalted says that nothing is calculated, and why.
function showHalted(others, why) {
  byId("answer").removeAttribute("aria-busy");
  byId("answer").dataset.before = "true";
  showState("waiting", 0, 0);
  byId("said").replaceChildren(el("p", { class: "fault", role: "alert" }, why || say("status.stopped")), ...others.map((text) => el("p", { class: "fault" }, own(text))));
}

// showStopped says that a run was stopped: its answer is that of so many replications, or
// that before the change where it had none yet.
function showStopped() {
  const answer = state.answer;
  byId("announce").textContent = say("status.halted");
  if (answer && answer.mark === markOf()) {
    byId("answer").removeAttribute("aria-busy");
    return showState(answer.kind, answer.done, answer.need, answer.kind === "sure" ? "" : ", " + say("status.halted"));
  }
  showHalted([], say("status.none"));
}

const showFailure = (message) => showHalted([message]);

// showAnswer shows an answer of what is set; kind: rough, nearly or sure.
function showAnswer(answer, mark, kind, took) {
  state.answer = { ...answer, mark, kind };
  delete byId("answer").dataset.before;
  if (kind === "sure" && unchanged() && markOf() === mark && !state.first) state.first = state.answer;
  showState(kind, answer.done, answer.need, el("span", { class: "took" }, ", ", say("status.seconds", short(Math.max(0.01, took / 1000)))));
  drawAnswer();
  if (kind === "sure") {
    byId("answer").removeAttribute("aria-busy");
    byId("announce").textContent = say("status.announce", (answer.sentences || [])[0] || "");
  }
}

// drawAnswer draws the last answer.
function drawAnswer() {
  const answer = state.answer;
  showBrief(answer);
  const sentences = answer.sentences || [];
  byId("said").replaceChildren(...sentences.slice(0, 1).map((text) => el("p", { class: "lead" }, own(text))), ...(answer.short || []).map((text) => el("p", {}, own(text))));
  const fills = fillsOf(answer);
  showParts([
    ["figures", figuresPart(answer)],
    ["more", sentences.length > 1 ? sentences.slice(1).map((text) => el("p", {}, own(text))) : null],
    ["late", latePart(answer)],
    ["money", moneyPart(answer)],
    ["cash", cashPart(answer)],
    ["hours", sharesPart(answer.hours, say("answer.hours_note"), fills, true)],
    ["web", sharesPart(answer.web, say("answer.web_note"), fills, false)],
    ["storage", storagePart(answer)],
    ["table", tablePart(answer)],
    ["cautions", cautionsPart(answer)],
  ]);
  showKept();
}

// showBrief is the answer in a line or two, for where the pictures are out of sight: of
// many alternatives the first, which the others are compared with, and the best.
function showBrief(answer) {
  const f = (answer.figures || [])[0];
  const money = new Map((answer.money || []).map((m) => [m.alternative, m]));
  const all = f ? f.alternatives : [];
  const best = all.find((a) => (money.get(a.name) || {}).best) || all.reduce((x, y) => (y.value > x.value ? y : x), all[0]);
  const few = all.length <= 3 ? all : [...new Set([all[0], best])];
  byId("brief").replaceChildren(f ? el("span", { class: "quiet" }, own(f.label)) : "", ...few.map((a) => {
    const { text, value } = (money.get(a.name) || {}).payback || {};
    const repaid = text && Number.isFinite(value) ? say("answer.years", text) : text;
    return el("span", {}, own(a.name), " ", el("b", { class: "val" }, own(a.text), f.unit ? " " + f.unit : ""),
      repaid ? [" · ", say("answer.payback"), " ", el("b", { class: "val" }, own(repaid))] : "");
  }));
}

// showParts puts each part of the answer into its section; a part without content is not shown.
function showParts(list) {
  for (const [id, content] of list) {
    let part = byId("part-" + id);
    if (!part) {
      part = el("section", { id: "part-" + id, "aria-labelledby": "part-" + id + "-head" }, el("h3", { id: "part-" + id + "-head" }, say("answer." + id)), el("div", {}));
      byId("parts").append(part);
    }
    part.hidden = !content;
    const unfolded = [...part.querySelectorAll("details")].map((d) => d.open);
    part.lastChild.replaceChildren(...(content || []).flat(3));
    part.querySelectorAll("details").forEach((d, i) => { d.open = unfolded[i] || false; });
  }
}

// hideParts takes the parts of an earlier answer away.
const hideParts = () => { for (const part of byId("parts").children) part.hidden = true; };

// signs explains what stands in place of limits or a difference, where it stands among some texts.
function signs(list) {
  const notes = [];
  if (list.some((x) => x && x.few)) notes.push(say("answer.few"));
  if (list.some((x) => x && x.text === "~")) notes.push(say("answer.none_shown"));
  return notes.length ? el("p", { class: "quiet" }, notes.join(" ")) : "";
}

// openedOf is what a figure was as opened, once that is sure and something else is shown.
function openedOf(find) {
  if (!state.first || !state.answer || state.answer.mark === state.first.mark) return undefined;
  return find(state.first);
}

// cautionsPart are the cautions of the line, and the warnings of the answer and of the reader.
function cautionsPart(answer) {
  const list = [...new Set([...(answer.cautions || []), ...(answer.warnings || []), ...state.opening])];
  return list.length ? [el("ul", { class: "cautions" }, list.map((text) => el("li", {}, own(text))))] : null;
}
