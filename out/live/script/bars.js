// Bars: values with their limits, and shares of a whole.

const percent = (share) => (100 * share).toFixed(3) + "%";

// valuesBlock is one figure: a bar for each alternative on a scale of its own, from 0.
function valuesBlock(label, rows) {
  const ends = rows.flatMap((r) => [r.value, r.low, r.high, r.opened]).filter(Number.isFinite);
  const scale = [Math.min(0, ...ends), Math.max(0, ...ends)];
  return el("div", { class: "block" }, el("h4", {}, own(label)), valueRows(rows, scale, "figure"));
}

// valueRows are names, bars and texts below each other.
function valueRows(rows, scale, kind) {
  return el("ul", { class: "values" }, rows.map((r) => el("li", { class: r.sum ? "sum" : "" },
    el("span", { class: "name" }, own(r.name)), el("span", { class: "text" }, el("span", { class: "val" }, own(r.text)), r.below && r.below !== r.text ? el("small", {}, own(r.below)) : ""),
    valueBar(r, scale, kind))));
}

// valueBar is a bar from 0 with the limits of its end, and a line where it was as opened.
function valueBar(r, [low, high], kind) {
  const wide = high - low;
  const at = (v) => percent(wide > 0 ? Math.min(1, Math.max(0, (v - low) / wide)) : 0);
  const picture = svg("svg", { class: "bar1", width: "100%", height: 14, "aria-hidden": "true" });
  if (Number.isFinite(r.value)) {
    const from = Math.min(0, r.value), to = Math.max(0, r.value);
    picture.append(svg("rect", { class: kind, x: at(from), y: 2, width: percent(wide > 0 ? (to - from) / wide : 0), height: 9 }));
    if (Number.isFinite(r.low) && Number.isFinite(r.high)) {
      const line = (x1, x2, y1, y2) => svg("line", { class: "limit", x1: at(x1), x2: at(x2), y1, y2 });
      picture.append(line(r.low, r.high, 6.5, 6.5), line(r.low, r.low, 3, 10), line(r.high, r.high, 3, 10));
    }
  }
  if (low < 0) picture.append(svg("line", { class: "zero", x1: at(0), x2: at(0), y1: 0, y2: 13 }));
  if (Number.isFinite(r.opened)) picture.append(svg("line", { class: "opened", x1: at(r.opened), x2: at(r.opened), y1: 0, y2: 13 }));
  return picture;
}

// sharesPart is where hours or web go: a bar of parts for each alternative, its parts named below it.
function sharesPart(list, note, fills, whole) {
  if (!list || !list.length) return null;
  const parts = list.map((a) => a.parts.filter((p) => p.share > 0));
  const most = whole ? 1 : Math.max(...parts.map((p) => p.reduce((sum, x) => sum + x.share, 0)));
  if (!(most > 0)) return null;
  return [el("p", { class: "quiet" }, note), list.map((a, i) => el("div", { class: "shares" }, el("h4", {}, own(a.alternative)),
    stacked(parts[i], most, fills),
    el("ul", { class: "keys" }, [...parts[i]].sort((x, y) => y.share - x.share).map((p) => el("li", {}, swatch(fills(p.cause)), own(p.label), " ", el("b", { class: "val" }, own(p.text))))))), signs(parts.flat())];
}

function stacked(parts, most, fills) {
  const picture = svg("svg", { class: "stack", width: "100%", height: 28, "aria-hidden": "true" });
  let from = 0;
  for (const p of parts) {
    picture.append(svg("rect", { x: percent(from / most), y: 0, width: percent(p.share / most), height: 28, fill: paintOf(fills(p.cause)) }));
    from += p.share;
  }
  return picture;
}

const swatch = (fill_) => svg("svg", { class: "swatch", width: 14, height: 14, "aria-hidden": "true" }, svg("rect", { width: 14, height: 14, fill: paintOf(fill_) }));
