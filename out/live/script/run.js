// The run: a change is laid over the scenario, simulated step by step, and
// answered roughly, then nearly, then surely. A newer change ends it at once.
const run = { wanted: 0, running: false, paused: false, rough: 0, halted: 0 };

const stages = [2, 5, 20, 50, 100, 200, 500, 1000];
const roughDraws = 500;
const sureDraws = 10000;
const patience = 300; // ms: a rough answer that takes less is shown also in mid-move
const hardAfter = 4000; // ms: one step that takes more is stopped with its worker

// changed begins the run of what is set now.
function changed() {
  run.wanted++;
  stale();
  if (!run.running) running();
  else setTimeout(halt, hardAfter, run.wanted);
}

// halt stops a step that does not come back although something newer is wanted.
async function halt(wanted) {
  if (run.wanted !== wanted || !run.running || busyFor() < hardAfter) return;
  run.halted++;
  dropped(engine.worker, new Stopped(""));
}

async function running() {
  run.running = true;
  let failures = 0;
  for (let mine = 0; mine !== run.wanted && !run.paused; ) {
    mine = run.wanted;
    const newer = () => mine !== run.wanted;
    try {
      await once(newer);
      if (!newer() && !state.first) await asOpened(newer);
      failures = 0;
    } catch (error) {
      if (!(error instanceof Stopped) || ++failures > 2) {
        showFailure(error.message);
        continue;
      }
      if (error.message) tell(say("page.lost", error.message));
      await revived();
      mine = 0;
    }
  }
  run.running = false;
}

// revived starts the engine again with what is open.
async function revived() {
  await restarted();
  await reopened();
}

// reopened opens once more what is open, with the inputs that were added.
async function reopened() {
  await ask({ ask: "open", name: state.name, text: state.text, vary: state.vary, files: state.files });
  for (const key of state.added) await ask({ ask: "mover", key });
}

// once simulates and answers what is set; newer says that something else is wanted.
async function once(newer) {
  const since = performance.now();
  const mark = markOf();
  const begun = await ask({ ask: "begin", set: setting(), on: isOn() });
  if (newer()) return;
  if (begun.problems && begun.problems.length) {
    showRefused(begun.problems);
    return;
  }
  showRefused([]);
  let done = begun.done || 0;
  const need = begun.need;
  showProgress(done, need);
  const all = [...stages.filter((n) => n > done && n < need), need];
  for (const stage of all) {
    const first = stage === all[0];
    while (done < stage) {
      const before = done;
      const step = await ask({ ask: "step" });
      done = step.done;
      if (newer() && !(first && run.rough < patience)) return;
      showProgress(done, need);
      if (done <= before) break;
    }
    const answer = await ask({ ask: "answer", draws: roughDraws });
    if (first) run.rough = performance.now() - since;
    const last = stage === need;
    const more = last && (answer.money || []).length > 0;
    showAnswer(answer, mark, last ? (more ? "nearly" : "sure") : "rough", performance.now() - since);
    if (newer()) return;
    if (more) {
      await pause();
      if (newer()) return;
      const sure = await ask({ ask: "answer", draws: sureDraws });
      if (newer()) return;
      showAnswer(sure, mark, "sure", performance.now() - since);
    }
  }
}

// asOpened simulates the scenario as it was opened, when something else was set before
// that was sure, so that every figure can be seen against it.
async function asOpened(newer) {
  const on = state.alternatives.filter((a) => a.opened).map((a) => a.name);
  const begun = await ask({ ask: "begin", set: [], on });
  for (let done = begun.done || 0; done < begun.need; ) {
    if (newer()) return;
    done = (await ask({ ask: "step" })).done;
  }
  if (newer()) return;
  const answer = await ask({ ask: "answer", draws: sureDraws });
  if (newer() || state.first) return;
  state.first = { ...answer, mark: JSON.stringify([[], on]), kind: "sure" };
  if (state.answer) drawAnswer();
}

// pause lets what a person does come first.
const pause = () => new Promise((resume) => setTimeout(resume, 60));
