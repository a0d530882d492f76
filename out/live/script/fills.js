// Fills: a colour and a hatching, the same meaning the same as in the pictures of
// the report; their table comes from there.
const hatchLines = {
  rising: "M-1,7 L7,-1 M-1,1 L1,-1 M5,7 L7,5",
  falling: "M-1,-1 L7,7 M5,-1 L7,1 M-1,5 L1,7",
  level: "M0,2 H6",
  upright: "M2,0 V6",
};
const hatchParts = { plain: [], rising: ["rising"], falling: ["falling"], level: ["level"], upright: ["upright"], trellis: ["rising", "falling"], netted: ["level", "upright"] };

// fillsOf gives each cause of an answer its fill; stops take theirs in their order.
function fillsOf(answer) {
  const stops = [];
  for (const a of answer.hours || []) {
    for (const p of a.parts) if (p.cause && p.cause.startsWith("stop.") && !stops.includes(p.cause)) stops.push(p.cause);
  }
  return (cause) => {
    if (data.fills.causes[cause]) return data.fills.causes[cause];
    const k = stops.indexOf(cause);
    return k >= 0 && k < data.fills.stops.length ? data.fills.stops[k] : data.fills.other;
  };
}

// paintOf is a fill as an attribute of a picture; its pattern is made when it is first used.
function paintOf({ colour, hatch }) {
  const parts = hatchParts[hatch] || [];
  if (!parts.length) return colour;
  const id = "fill" + colour.replace("#", "-") + "-" + hatch;
  if (!byId(id)) {
    const line = bright(colour) ? { stroke: "#1f2933", "stroke-opacity": 0.4 } : { stroke: "#ffffff", "stroke-opacity": 0.5 };
    patterns().append(svg("pattern", { id, width: 6, height: 6, patternUnits: "userSpaceOnUse" }, svg("rect", { width: 6, height: 6, fill: colour }),
      parts.map((name) => svg("path", { d: hatchLines[name], fill: "none", "stroke-width": 0.9, ...line }))));
  }
  return "url(#" + id + ")";
}

function patterns() {
  let defs = byId("patterns");
  if (!defs) {
    defs = svg("defs", { id: "patterns" });
    document.body.append(svg("svg", { class: "patterns", width: 0, height: 0, "aria-hidden": "true" }, defs));
  }
  return defs;
}

// bright says whether dark lines read better on a colour than pale ones.
function bright(colour) {
  const part = (k) => { const v = parseInt(colour.slice(k, k + 2), 16) / 255; return v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4; };
  return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5) > 0.2;
}
