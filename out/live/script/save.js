// Save the scenario with what was set, and print.

// savedName is the name of the saved scenario: "line.toml" -> "line changed.toml".
function savedName() {
  const stem = (state.name || "scenario").replace(/^.*[/\\]/, "").replace(/\.toml$/i, "").replace(/[\u0000-\u001f<>:"/\\|?*\u007f-\u009f\u200b-\u200f\u2028-\u202e\u2066-\u2069]/g, "_").slice(0, 80) || "scenario";
  return stem + (unchanged() ? "" : " " + say("bar.suffix")) + ".toml";
}

async function saveScenario() {
  try {
    await ask({ ask: "begin", set: setting(), on: isOn() });
    const { text } = await ask({ ask: "save" });
    const name = savedName();
    download(name, text);
    tell(say("bar.saved", name));
  } catch (error) {
    tell(say("bar.not_saved", error.message));
  }
}

// download hands a text to the browser as a file.
function download(name, text) {
  const url = URL.createObjectURL(new Blob([text], { type: "application/toml" }));
  const link = el("a", { href: url, download: name, hidden: true });
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(url), 60000);
}

function printPage() {
  window.print();
}

addEventListener("beforeprint", () => {
  byId("printed").textContent = say("page.printed", new Date().toLocaleString(say("page.date"), { dateStyle: "long", timeStyle: "short" }));
});
