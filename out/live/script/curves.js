// Curves: the storage over one splice, and how an investment is paid back.

const plotWide = 360, plotHigh = 190;

// axes is an empty picture with round figures on both axes; x and y place a point in it.
function axes(label, [x0, x1], [y0, y1], across, up) {
  const left = 52, right = plotWide - 8, top = 12, bottom = plotHigh - 34;
  const x = (v) => left + ((v - x0) / (x1 - x0 || 1)) * (right - left);
  const y = (v) => bottom - ((v - y0) / (y1 - y0 || 1)) * (bottom - top);
  const picture = svg("svg", { class: "plot", viewBox: "0 0 " + plotWide + " " + plotHigh, role: "img", "aria-label": label });
  for (const v of ticks(y0, y1)) {
    picture.append(svg("line", { class: "grid", x1: left, x2: right, y1: y(v), y2: y(v) }), svg("text", { x: left - 5, y: y(v) + 4, "text-anchor": "end" }, short(v)));
  }
  for (const v of ticks(x0, x1)) picture.append(svg("text", { x: x(v), y: bottom + 15, "text-anchor": "middle" }, short(v)));
  picture.append(svg("text", { x: right, y: plotHigh - 4, "text-anchor": "end" }, across), svg("text", { x: 2, y: 9 }, up));
  return { picture, x, y, left, right };
}

const pathOf = (points, x, y) => points.map(([t, v], i) => (i ? "L" : "M") + x(t).toFixed(2) + "," + y(v).toFixed(2)).join(" ");

// storagePart shows for each alternative with a storage what it holds over one splice.
function storagePart(answer) {
  const list = (answer.storage || []).filter((s) => s.points && s.points.length > 1);
  if (!list.length) return null;
  const top = Math.max(...list.flatMap((s) => [s.capacity, ...s.points.map((p) => p[1])]));
  const low = Math.min(0, ...list.flatMap((s) => s.points.map((p) => p[1])));
  return [el("p", { class: "quiet" }, say("answer.storage_note")), el("div", { class: "grid" }, list.map((s) => {
    const times = s.points.map((p) => p[0]);
    const { picture, x, y, left, right } = axes(s.text || s.alternative, [Math.min(...times), Math.max(...times)], [low, top * 1.08], say("answer.storage_time"), say("answer.storage_content"));
    const level = (v, kind, word) => Number.isFinite(v) ? [svg("line", { class: kind, x1: left, x2: right, y1: y(v), y2: y(v) }), svg("text", { class: kind, x: right, y: y(v) - 4, "text-anchor": "end" }, word + " " + short(v))] : [];
    picture.append(svg("path", { class: "area", d: pathOf(s.points, x, y) + " L" + x(times[times.length - 1]) + "," + y(low) + " L" + x(times[0]) + "," + y(low) + " Z" }),
      ...level(s.capacity, "level", say("answer.capacity")), ...level(s.trip, "trip", say("answer.trip")), svg("path", { class: "curve", d: pathOf(s.points, x, y) }));
    if (Number.isFinite(s.lowest)) {
      const at = s.points.reduce((least, p) => (p[1] < least[1] ? p : least));
      const first = x(at[0]) > (left + right) / 2;
      picture.append(svg("circle", { class: "point", cx: x(at[0]), cy: y(at[1]), r: 3.5 }), svg("text", { class: "said", x: x(at[0]) + (first ? -7 : 7), y: y(at[1]) + 14, "text-anchor": first ? "end" : "start" }, say("answer.lowest") + " " + short(s.lowest)));
    }
    return el("div", { class: "block" }, el("h4", {}, own(s.alternative)), picture, s.text ? el("p", { class: "quiet" }, own(s.text)) : "");
  }))];
}

// cashPart shows the money of each year and its sum with its limits.
function cashPart(answer) {
  const list = (answer.money || []).filter((m) => m.cash && m.cash.length > 1);
  if (!list.length) return null;
  return [el("p", { class: "quiet" }, say("answer.cash_note")), el("div", { class: "grid" }, list.map((m) => {
    const n = m.cash.length;
    const ends = m.cash.flatMap((c) => [c.net, c.sum, c.low, c.high]).filter(Number.isFinite);
    const most = Math.max(...ends.map(Math.abs));
    const unit = most >= 2e6 ? [1e6, say("answer.millions", state.currency)] : most >= 2e3 ? [1e3, say("answer.thousands", state.currency)] : [1, state.currency];
    const by = (v) => v / unit[0];
    const { picture, x, y, left, right } = axes(say("answer.of", m.alternative, (m.payback || {}).text || ""), [-0.6, n - 0.4], [by(Math.min(0, ...ends)), by(Math.max(0, ...ends)) * 1.05], say("answer.cash_year"), unit[1]);
    const band = m.cash.map((c, t) => [t, by(c.high ?? c.sum)]).concat(m.cash.map((c, t) => [t, by(c.low ?? c.sum)]).reverse());
    picture.append(svg("path", { class: "band", d: pathOf(band, x, y) + " Z" }));
    const half = Math.max(1, 0.22 * (x(1) - x(0)));
    for (const [t, c] of m.cash.entries()) {
      const top = y(by(Math.max(0, c.net))), bottom = y(by(Math.min(0, c.net)));
      picture.append(svg("rect", { class: "net", x: x(t) - half, y: top, width: 2 * half, height: Math.max(0, bottom - top) }));
    }
    picture.append(svg("line", { class: "zero", x1: left, x2: right, y1: y(0), y2: y(0) }), svg("path", { class: "sum", d: pathOf(m.cash.map((c, t) => [t, by(c.sum)]), x, y) }));
    return el("div", { class: "block" }, el("h4", {}, own(m.alternative)), picture, m.payback && m.payback.text ? el("p", { class: "quiet" }, say("answer.payback"), ": ", el("b", { class: "val" }, own(m.payback.text))) : "");
  }))];
}
