// Begin: the engine is made ready, and the scenario of the page is opened.

async function begin() {
  const lacks = lacking();
  if (lacks) throw new Error(say("page.too_old", lacks));
  engine.module = await compiled();
  await started();
  byId("keep").onclick = keepCase;
  byId("save").onclick = saveScenario;
  byId("print").onclick = printPage;
  byId("again").onclick = again;
  byId("other").onclick = () => showStart("", "", null);
  byId("reset").onclick = resetAll;
  letDrop();
  await opened();
}

// opened opens what the page came with, or shows where to open a scenario.
async function opened() {
  if (data.open) await openText(data.open.name, data.open.text, data.open.vary, data.open.files);
  else showStart("", "", null);
}

// again puts everything back to what was opened.
async function again() {
  if (await openText(state.name, state.text, state.vary, state.files)) {
    tell(say("bar.began"));
    byId("title").focus();
  }
}

begin().catch((error) => {
  byId("starting").replaceChildren(el("span", { class: "fault", role: "alert" }, lacking() ? error.message : say("page.not_started", error.message)));
});
