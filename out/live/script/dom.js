// Words, elements and numbers for all other scripts. What a person or a file
// wrote enters the page as text only: by text(), attributes and values.
const data = JSON.parse(document.getElementById("data").textContent);

// say is a phrase of the page with its %s filled in, in order.
function say(key, ...parts) {
  const phrase = key.split(".").reduce((at, name) => at && at[name], data.words);
  if (typeof phrase !== "string") throw new Error("no phrase " + key);
  let k = 0;
  return phrase.replace(/%[s%]/g, (verb) => (verb === "%%" ? "%" : String(parts[k++])));
}

const byId = (id) => document.getElementById(id);

// fill gives an element its attributes and children; a child that is no element is text.
function fill(node, attributes, children) {
  for (const [name, value] of Object.entries(attributes || {})) {
    if (value === undefined || value === null || value === false) continue;
    if (name.startsWith("on")) node.addEventListener(name.slice(2), value);
    else if (name === "value") node.value = value;
    else node.setAttribute(name, value === true ? "" : value);
  }
  node.append(...children.flat(3).filter((child) => child !== null && child !== undefined && child !== false));
  return node;
}

const el = (tag, attributes, ...children) => fill(document.createElement(tag), attributes, children);

// svg is an element of a picture.
const svg = (tag, attributes, ...children) => fill(document.createElementNS("http://www.w3.org/2000/svg", tag), attributes, children);

// own is text of others, kept to its own direction of writing.
const own = (text) => el("bdi", {}, String(text));

const button = (label, press, attributes) => el("button", { type: "button", ...attributes, onclick: press }, label);

// plain writes a number with no more decimals than given, without an exponent.
const plain = (value, decimals) => (Object.is(value, -0) ? 0 : value).toFixed(Math.max(0, Math.min(12, decimals || 0))).replace(/(\.\d*?)0+$/, "$1").replace(/\.$/, "");

// short writes a number of a scale: at most three digits, thousands apart.
function short(value) {
  if (value === 0) return "0";
  const decimals = Math.max(0, 2 - Math.floor(Math.log10(Math.abs(value))));
  const [whole, part] = Math.abs(value).toFixed(Math.min(6, decimals)).split(".");
  const tail = part ? part.replace(/0+$/, "") : "";
  return (value < 0 ? "−" : "") + whole.replace(/\B(?=(\d{3})+$)/g, ",") + (tail ? "." + tail : "");
}

// ticks are four to seven round figures from low to high.
function ticks(low, high) {
  if (!(high > low)) return [low];
  let step = 10 ** Math.floor(Math.log10(high - low));
  for (const f of [0.1, 0.2, 0.5, 1]) {
    if ((high - low) / (step * f) <= 6) { step *= f; break; }
  }
  const list = [];
  for (let k = Math.ceil(low / step - 1e-9); k * step <= high + 1e-9 * step; k++) list.push(k * step);
  return list;
}

// tell says what a press has done: seen, and heard by a reader.
function tell(text) {
  clearTimeout(tell.timer);
  byId("told").textContent = text;
  tell.timer = setTimeout(() => { byId("told").textContent = ""; }, 10000);
}

// unique are numbers for identifiers.
let numbers = 0;
const unique = (stem) => stem + "-" + ++numbers;
