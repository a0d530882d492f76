// Figures: the few that are drawn, the money by cause, and all of them as a table.

const drawn = ["plan.done", "plan.on_time", "plan.late", "good_rate", "oee", "waste.total"];

// named is an alternative of a list of figures.
const named = (list, name) => (list || []).find((x) => x.name === name);

const moneyHead = (label, m) => [label, m.currency, m.tax].filter(Boolean).join(", ");

// moneyFigures are the figures of money: the field of the reply and its head.
const moneyFigures = [["payback", () => say("answer.payback_years")], ["total", (m) => moneyHead(say("answer.saved"), { currency: m.currency, tax: say("answer.before_tax") })], ["npv", (m) => moneyHead(say("answer.npv"), m)]];

// figuresPart are the figures that are drawn: a bar for each alternative, limits, the mark as opened.
function figuresPart(answer) {
  const figures = answer.figures || [];
  const shownOnes = figures.filter((f) => drawn.includes(f.name));
  const blocks = (shownOnes.length ? shownOnes : figures.slice(0, 1)).map((f) => valuesBlock(f.unit ? f.label + ", " + f.unit : f.label, f.alternatives.map((a) => ({
    ...a, below: (named(f.difference, a.name) || {}).text,
    opened: openedOf((first) => (named((first.figures.find((g) => g.name === f.name) || {}).alternatives, a.name) || {}).value),
  }))));
  for (const [key, head] of moneyFigures) {
    const rows = (answer.money || []).filter((m) => m[key] && m[key].text).map((m) => ({ name: m.alternative, ...m[key], below: m[key].span,
      opened: openedOf((first) => ((first.money.find((n) => n.alternative === m.alternative) || {})[key] || {}).value) }));
    if (rows.length) blocks.push(valuesBlock(head(answer.money.find((m) => m[key])), rows));
  }
  if (!blocks.length) return null;
  return [el("div", { class: "grid" }, blocks), signs(shownOnes.flatMap((f) => [...f.alternatives, ...f.difference])), openedOf(() => true) ? el("p", { class: "quiet" }, say("answer.opened_mark")) : ""];
}

// moneyPart is what each cause saves, for every alternative against the first.
function moneyPart(answer) {
  const list = answer.money || [];
  const judged = list.filter((m) => m.causes);
  const missing = list.filter((m) => !m.causes && m.missing).map((m) => el("p", { class: "quiet" }, own(say("answer.missing", m.alternative, m.missing))));
  if (!judged.length) return missing.length ? missing : null;
  const ends = judged.flatMap((m) => [...m.causes, m.total]).flatMap((c) => [c.value, c.low, c.high]).filter(Number.isFinite);
  const scale = [Math.min(0, ...ends), Math.max(0, ...ends)];
  return [el("p", { class: "quiet" }, say("answer.money_note", judged[0].currency || state.currency)), missing,
    el("div", { class: "grid" }, judged.map((m) => el("div", { class: "block" }, el("h4", {}, own(m.alternative)),
      valueRows([...m.causes.map((c) => ({ ...c, name: c.label, below: c.span })), { ...m.total, name: say("answer.total"), below: m.total.span, sum: true }], scale, "money"),
      (m.doubts || []).length ? el("ul", { class: "doubts" }, m.doubts.map((text) => el("li", {}, own(text)))) : "")))];
}

// latePart are the orders of a list that may be late: when each ends, and how likely that is too late.
function latePart(answer) {
  const list = answer.late || [];
  if (!list.length) return null;
  const names = isOn();
  const rows = list.map((o) => wideRow(o.order, say("answer.late_due", o.product, o.due), names, names.map((name) => {
    const a = named(o.alternatives, name);
    return a ? [own(a.ends), el("small", { class: "val" }, own(a.text))] : "–";
  })));
  return [el("p", { class: "quiet" }, say("answer.late_note")), wideTable(say("answer.late"), say("answer.late_order"), names, rows)];
}

// tablePart is every figure of every alternative, folded away.
function tablePart(answer) {
  const figures = answer.figures || [];
  if (!figures.length) return null;
  const names = isOn();
  const rows = [];
  let group = "";
  for (const f of figures) {
    if (f.group && f.group !== group) rows.push(groupRow(f.group, names.length));
    group = f.group;
    rows.push(wideRow(f.label, f.unit, names, names.map((name) => {
      const a = named(f.alternatives, name), d = named(f.difference, name);
      return a ? [el("span", { class: "val" }, own(a.text)), d && d.text ? el("small", {}, own(d.text)) : ""] : "–";
    })));
  }
  return [el("details", {}, el("summary", {}, say("answer.table_show")), wideTable(say("answer.table"), say("kept.what"), names, rows), signs(figures.flatMap((f) => [...f.alternatives, ...f.difference])))];
}

// wideTable is a table that becomes a list of blocks where the screen is narrow; the roles keep it a table for readers.
const wideTable = (label, corner, heads, rows) => el("table", { class: "wide", role: "table", "aria-label": label },
  el("thead", { role: "rowgroup" }, el("tr", { role: "row" }, el("th", { role: "columnheader", scope: "col" }, corner), heads.map((h) => el("th", { role: "columnheader", scope: "col" }, own(h))))),
  el("tbody", { role: "rowgroup" }, rows));

const wideRow = (head, small, heads, cells, attributes) => el("tr", { role: "row", ...attributes }, el("th", { scope: "row", role: "rowheader" }, own(head), small ? el("small", {}, own(small)) : ""),
  cells.map((cell, i) => el("td", { role: "cell", "data-head": heads[i] }, el("span", {}, cell))));

const groupRow = (name, columns) => el("tr", { class: "group", role: "row" }, el("td", { role: "cell", colspan: columns + 1 }, own(name)));
