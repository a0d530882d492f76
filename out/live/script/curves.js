// Curves: the storage over one splice, and how an investment is paid back. Lengths
// across are shares of the room there is, so that text keeps its size at any width.

const plotHigh = 144; // px, of the field between the axes
const lineHigh = 15; // px, of a line of text
const across = 1000; // units across the field, for paths

// axes is an empty picture with round figures on both axes. at places a point across, as a
// share; up one upwards, in px; draw adds to the field, path adds a curve.
function axes(label, [x0, x1], [y0, y1], acrossName, upName) {
  const share = (v) => (v - x0) / (x1 - x0 || 1);
  const at = (v) => percent(share(v));
  const up = (v) => plotHigh - ((v - y0) / (y1 - y0 || 1)) * plotHigh;
  const curves = svg("svg", { width: "100%", height: plotHigh, viewBox: "0 0 " + across + " " + plotHigh, preserveAspectRatio: "none" });
  const field = svg("g", { transform: "translate(0 24)" }, ticks(y0, y1).map((v) => [
    svg("line", { class: "grid", x1: 0, x2: "100%", y1: up(v), y2: up(v) }), svg("text", { x: -6, y: up(v) + 4, "text-anchor": "end" }, short(v))]));
  for (const v of ticks(x0, x1)) field.append(svg("text", { x: at(v), y: plotHigh + 16, "text-anchor": "middle" }, short(v)));
  field.append(svg("text", { x: "100%", y: plotHigh + 32, "text-anchor": "end" }, acrossName), curves);
  const picture = svg("svg", { class: "plot", width: "100%", height: plotHigh + 62, role: "img", "aria-label": label }, svg("text", { x: 0, dx: -50, y: 11 }, upName), field);
  const points = (list) => list.map(([t, v], i) => (i ? "L" : "M") + (share(t) * across).toFixed(1) + "," + up(v).toFixed(2)).join(" ");
  return { picture, at, up, share, draw: (...nodes) => field.append(...nodes), path: (kind, list, end) => curves.append(svg("path", { class: kind, d: points(list) + (end || ""), "vector-effect": "non-scaling-stroke" })) };
}

// storagePart shows for each alternative with a storage what it holds over one splice.
function storagePart(answer) {
  const list = (answer.storage || []).filter((s) => s.points && s.points.length > 1);
  if (!list.length) return null;
  const top = Math.max(...list.flatMap((s) => [s.capacity || 0, ...s.points.map((p) => p[1])]));
  const low = Math.min(0, ...list.flatMap((s) => s.points.map((p) => p[1])));
  return [el("p", { class: "quiet" }, say("answer.storage_note")), el("div", { class: "grid" }, list.map((s) => {
    const times = s.points.map((p) => p[0]);
    const unit = s.unit || "m";
    const rewind = s.end === "rewind"; // it fills up, so its highest content counts
    const worst = s.points.reduce((a, b) => ((rewind ? b[1] > a[1] : b[1] < a[1]) ? b : a));
    const word = say(rewind ? "answer.highest" : "answer.lowest");
    const end = list.some((x) => x.end === "rewind") ? say(rewind ? "answer.rewind" : "answer.unwind") : "";
    const plot = axes(say("answer.storage_says", s.alternative, end, word, short(worst[1]), unit), [Math.min(...times), Math.max(...times)], [low, top * 1.1], say("answer.storage_time"), say("answer.storage_content", unit));
    plot.path("area", [[times[0], low], ...s.points, [times[times.length - 1], low]], " Z");
    const near = Math.abs(plot.up(s.trip) - plot.up(s.capacity)) < lineHigh; // then one stands above its line, the other below
    for (const [kind, word] of [["capacity", say("answer.capacity")], ["trip", say("answer.trip")]]) {
      if (!Number.isFinite(s[kind])) continue;
      const under = near && kind === "trip";
      plot.draw(svg("line", { class: kind, x1: 0, x2: "100%", y1: plot.up(s[kind]), y2: plot.up(s[kind]) }), svg("text", { class: "on", x: "100%", y: plot.up(s[kind]) + (under ? lineHigh - 2 : -4), "text-anchor": "end" }, word + " " + short(s[kind])));
    }
    plot.path("curve", s.points);
    const right = plot.share(worst[0]) > 0.5;
    const over = rewind || plot.up(worst[1]) + lineHigh > plotHigh; // not on the axis
    plot.draw(svg("circle", { class: "point", cx: plot.at(worst[0]), cy: plot.up(worst[1]), r: 3.5 }),
      svg("text", { class: "on", x: plot.at(worst[0]), dx: right ? -7 : 7, y: plot.up(worst[1]) + (over ? -7 : 15), "text-anchor": right ? "end" : "start" }, word + " " + short(worst[1])));
    return el("div", { class: "block" }, el("h4", {}, own(s.alternative), end ? ", " + end : ""), plot.picture, s.text ? el("p", { class: "quiet" }, own(s.text)) : "");
  }))];
}

// cashPart shows the money of each year and its sum with its limits.
function cashPart(answer) {
  const list = (answer.money || []).filter((m) => m.cash && m.cash.length > 1);
  if (!list.length) return null;
  const ends = list.flatMap((m) => m.cash).flatMap((c) => [c.net, c.sum, c.low, c.high]).filter(Number.isFinite); // one scale for all, so that they compare
  const most = Math.max(...ends.map(Math.abs));
  const currency = list[0].currency || state.currency;
  const [per, unit] = most >= 2e6 ? [1e6, say("answer.millions", currency)] : most >= 2e3 ? [1e3, say("answer.thousands", currency)] : [1, currency];
  return [el("p", { class: "quiet" }, say("answer.cash_note")), el("div", { class: "grid" }, list.map((m) => {
    const years = m.cash.length;
    const repaid = m.payback && Number.isFinite(m.payback.value) ? say("answer.years", m.payback.text) : (m.payback || {}).text;
    const told = repaid && repaid !== "–" ? el("p", { class: "quiet" }, say("answer.payback"), ": ", el("b", { class: "val" }, own(repaid))) : "";
    const plot = axes(say("answer.cash_says", m.alternative, repaid || "–"), [-0.6, years - 0.4], [Math.min(0, ...ends) / per, (Math.max(0, ...ends) / per) * 1.05], say("answer.cash_year"), unit);
    const line = (key) => m.cash.map((c, t) => [t, (Number.isFinite(c[key]) ? c[key] : c.sum) / per]);
    plot.path("band", [...line("high"), ...line("low").reverse()], " Z");
    for (const [t, c] of m.cash.entries()) {
      const top = plot.up(Math.max(0, c.net) / per), bottom = plot.up(Math.min(0, c.net) / per);
      plot.draw(svg("rect", { class: "net", x: plot.at(t - 0.22), y: top, width: percent(0.44 / years), height: Math.max(0, bottom - top) }));
    }
    plot.draw(svg("line", { class: "zero", x1: 0, x2: "100%", y1: plot.up(0), y2: plot.up(0) }));
    plot.draw(...lineOver(plot, line("sum")));
    return el("div", { class: "block" }, el("h4", {}, own(m.alternative)), plot.picture, told);
  }))];
}

// lineOver is a line of straight pieces above what was drawn.
const lineOver = (plot, list) => list.slice(1).map((to, i) => svg("line", { class: "sum", x1: plot.at(list[i][0]), y1: plot.up(list[i][1]), x2: plot.at(to[0]), y2: plot.up(to[1]) }));
