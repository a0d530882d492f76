// Look up the keys of a scenario by a word.

const mostFound = 30;

function keysPart() {
  const found = el("div", { id: "found", "aria-live": "polite" });
  let turn = 0, timer;
  const find = async () => {
    const mine = ++turn;
    const words = box.value.trim();
    if (!words) return found.replaceChildren();
    const list = await ask({ ask: "keys", find: words }).catch((error) => { tell(error.message); return []; });
    if (mine !== turn) return;
    found.replaceChildren(list.length ? keysList(list.slice(0, mostFound)) : el("p", {}, say("open.keys_none")), list.length > mostFound ? el("p", { class: "quiet" }, say("open.keys_more", list.length - mostFound)) : "");
  };
  const box = el("input", { type: "search", id: "find", autocomplete: "off", spellcheck: "false", "aria-describedby": "find-hint", oninput: () => { clearTimeout(timer); timer = setTimeout(find, 200); } });
  return el("section", { "aria-labelledby": "keys-head" }, el("h2", { id: "keys-head" }, say("open.keys")), el("label", { for: "find" }, say("open.keys_find")), box, el("p", { class: "quiet", id: "find-hint" }, say("open.keys_hint")), found);
}

function keysList(list) {
  const told = (k) => [["open.key_unit", k.unit], ["open.key_default", k.default], ["open.key_example", k.example]].filter((x) => x[1])
    .map(([label, text], i) => el("span", { class: "quiet" }, i ? " · " : "", say(label), ": ", own(text)));
  return el("dl", { class: "keylist" }, list.map((k) => el("div", {}, el("dt", {}, el("code", {}, own(k.key))), el("dd", {}, own(k.meaning), el("br", {}), told(k)))));
}
