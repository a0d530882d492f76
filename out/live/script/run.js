// The run: a change is laid over the scenario, simulated step by step, and
// answered roughly, then nearly, then surely. A newer change ends it at once, and a press on Stop.
const run = { wanted: 0, mine: 0, running: false, paused: false, stop: false, rough: 0, watch: 0, suspect: 0, long: 0 };

const stages = [2, 5, 20, 50, 100, 200, 500, 1000];
const roughDraws = 120;
const sureDraws = 10000;
const patience = 300; // ms: a rough answer that takes less is shown also in mid-move
const hardAfter = 4000, longest = 60000; // ms: one step that takes more is stopped with its worker
const longRun = 1500; // ms: a run that takes more can be stopped by a press
const mostFailures = 2; // an engine that ends by itself is started again so often for one change

// changed begins the run of what is set now.
function changed() {
  run.wanted++;
  run.stop = false;
  stale();
  if (!run.running) running();
  else if (!run.watch) watch(hardAfter);
}

// stopRun ends a run where it is; what it has come to stays.
function stopRun() {
  if (!run.running) return;
  run.wanted++;
  run.stop = true;
  if (!run.watch) watch(hardAfter);
}

const watch = (after) => { run.watch = setTimeout(halt, after); };

// halt stops a step that does not come back although something newer is wanted. One that
// was stopped may just be slow: each stop doubles the time that the next has, so that a
// slow machine comes to rest too; and a reply that came while the page was busy is read first.
function halt() {
  run.watch = 0;
  if (!run.running || run.mine === run.wanted) return;
  const left = Math.min(longest, Math.max(hardAfter, 2 * engine.slowest)) - busyFor();
  if (engine.reviving || left > 0) return watch(Math.max(200, left));
  if (run.suspect !== engine.asked) {
    run.suspect = engine.asked;
    return watch(200);
  }
  engine.slowest = Math.max(engine.slowest, busyFor());
  dropped(engine.worker, new Stopped(""));
}

async function running() {
  run.running = true;
  let failures = 0;
  run.long = setTimeout(() => { byId("answer").dataset.long = "true"; }, longRun);
  for (run.mine = 0; run.mine !== run.wanted && !run.paused && !run.stop; ) {
    const mine = (run.mine = run.wanted);
    const newer = () => mine !== run.wanted;
    try {
      await once(newer);
      if (!newer() && !state.first) await asOpened(newer);
      failures = 0;
    } catch (error) {
      const stopped = error instanceof Stopped;
      if (stopped && error.message) tell(say("page.lost", error.message));
      if (stopped && (!error.message || ++failures <= mostFailures)) run.mine = 0; // once more
      else if (!newer()) showFailure(error.message);
    }
  }
  clearTimeout(run.long);
  delete byId("answer").dataset.long;
  run.running = false;
  if (run.stop) showStopped();
  run.stop = false;
}

// once simulates and answers what is set; newer says that something else is wanted.
async function once(newer) {
  const since = performance.now();
  const mark = markOf();
  const begun = await ask({ ask: "begin", set: setting(), on: isOn() });
  const go = begunOn(engine.worker);
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
      const step = await go({ ask: "step" });
      done = step.done;
      if (newer() && (run.paused || !first || run.rough >= patience)) return;
      showProgress(done, need);
      if (done <= before) break;
    }
    if (run.paused) return;
    const answer = await go({ ask: "answer", draws: roughDraws });
    if (first) run.rough = performance.now() - since;
    const last = stage === need;
    const more = last && (answer.money || []).length > 0;
    showAnswer(answer, mark, last ? (more ? "nearly" : "sure") : "rough", performance.now() - since);
    if (newer()) return;
    if (more) {
      await pause();
      if (newer()) return;
      const sure = await go({ ask: "answer", draws: sureDraws });
      if (newer()) return;
      showAnswer(sure, mark, "sure", performance.now() - since);
    }
  }
}

// begunOn asks the engine on which a run was begun, and no other that was started since.
const begunOn = (worker) => (request) => {
  if (engine.worker !== worker) throw new Stopped("");
  return posted(request);
};

// asOpened simulates the scenario as it was opened, when something else was set before
// that was sure, so that every figure can be seen against it.
async function asOpened(newer) {
  const on = state.alternatives.filter((a) => a.opened).map((a) => a.name);
  const begun = await ask({ ask: "begin", set: [], on });
  const go = begunOn(engine.worker);
  for (let done = begun.done || 0; done < begun.need; ) {
    if (newer()) return;
    done = (await go({ ask: "step" })).done;
  }
  if (newer()) return;
  const answer = await go({ ask: "answer", draws: sureDraws });
  if (newer() || state.first) return;
  state.first = { ...answer, mark: JSON.stringify([[], on]), kind: "sure" };
  if (state.answer) drawAnswer();
}

// pause lets what a person does come first.
const pause = () => new Promise((resume) => setTimeout(resume, 60));
