// What is open and what was changed in it: the one place that the others read.
const state = {
  name: "", text: "", title: "", currency: "",
  alternatives: [], // {name, on, opened}
  movers: [], // as the engine gives them, each with `now`, its value as a person reads it, and `sent`, as the engine gets it
  choices: [],
  added: [], // keys of inputs that were added
  vary: [],
  files: {}, // that the scenario names, in base 64
  opening: [], // warnings of the reader of the scenario
  problems: new Map(), // key -> message of an input that is refused
  blamed: new Map(), // what is refused of the inputs together -> key of the input that brought it about
  last: "", // key of the input that was moved last
  answer: null, // the last answer
  first: null, // the sure answer of the scenario as it was opened
  kept: [],
  folded: new Set(), // groups of inputs that a person has closed
};

const moverOf = (key) => state.movers.find((m) => m.key === key);

// moved are the inputs that differ from the scenario as it was opened.
const moved = () => state.movers.filter((m) => m.now !== m.text);

// setting is what is laid over the scenario, as the engine takes it.
const setting = () => moved().map((m) => ({ key: m.key, value: m.sent }));

// isOn are the names of the alternatives that are simulated.
const isOn = () => state.alternatives.filter((a) => a.on).map((a) => a.name);

const unchanged = () => moved().length === 0 && state.alternatives.every((a) => a.on === a.opened);

// markOf is one text for what is set: the same text, the same answer.
const markOf = () => JSON.stringify([setting().map((s) => [s.key, s.value]), isOn()]);

// shown is a value of an input as a person reads it: "180 m/min", "310,000 EUR".
function shown(m, value) {
  const number = plain(value, m.decimals);
  const grouped = Math.abs(value) >= 1e4 ? number.replace(/^-?\d+/, (whole) => whole.replace(/\B(?=(\d{3})+$)/g, ",")) : number;
  return m.unit ? grouped + " " + m.unit : grouped;
}

// bare is a value without its unit and thousands, as a field shows it and the engine takes it.
function bare(m, text) {
  const tail = m.unit ? " " + m.unit : "";
  const number = tail && text.endsWith(tail) ? text.slice(0, -tail.length) : text;
  return /^-?\d{1,3}(,\d{3})+(\.\d+)?$/.test(number) ? number.replaceAll(",", "") : number;
}
