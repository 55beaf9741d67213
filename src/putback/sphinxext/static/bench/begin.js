/* Opens the sheet of this job, and shows it in the page. Where anything fails, the page stays as it was printed. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { fill, steps: stepsOf, goTo } = Putback.page;

  function begin(job, words) {
    const now = () => Date.now();
    const bench = Putback.session.open(job, {
      storage: () => root.localStorage,
      session: () => root.sessionStorage,
      now,
      folder: Putback.store.folderOf(root.location.href, job.root),
      decimal: job.decimal,
    });
    const steps = stepsOf(job);
    let due = 0;
    const lines = Putback.lines.open(job, words, bench, steps, () => atStep.typing());
    const atStep = Putback.atStep.open(job, words, bench, steps, () => show(bench.state(), []));
    const machine = Putback.machineView.open(job, words, bench, lines);
    const count = Putback.count.open(job, words, bench, steps);
    const sheet = Putback.sheetView.open(job, words, bench, (text) => bar.tell(text, true));
    const bar = Putback.bar.open(job, words, bench, steps, () => sheet.open());
    const notice = Putback.notices.open(words, bar.number, sheet.called, bench);

    function show(state, notices) {
      const opened = lines.shown(state);
      atStep.shown(state);
      machine.shown(state);
      count.shown(state);
      bar.shown(state);
      sheet.shown(state);
      const told = notice([...opened, ...notices], atStep.typing());
      if (told.text) bar.tell(told.text, told.passing);
      clearTimeout(due);
      const next = bench.nextChange();
      if (next !== null) due = setTimeout(bench.refresh, Math.max(50, next));
    }

    Putback.reveal = lines.reveal;
    document.documentElement.classList.add("bench");
    bench.subscribe(show); // it is called at once, too
    root.addEventListener("storage", (event) => bench.heard(event.key));
    root.addEventListener("pagehide", () => bench.flush());
    document.addEventListener("visibilitychange", () => bench.refresh());
    root.addEventListener("pageshow", () => bench.refresh()); // a browser may have put its own ticks back
    const linked = () => {
      const target = document.querySelector(":target");
      lines.reveal(target);
      if (target && target.scrollIntoView) target.scrollIntoView();
    };
    root.addEventListener("hashchange", linked);
    if (bench.state().kept !== "yes") bar.tell(words.said.not_kept);
    if (root.location.hash) linked();
    // What a person does keeps the screen on, and not what the page does by itself: a timer may run for a day.
    const awake = Putback.awake.open(now);
    for (const act of ["click", "input"]) document.addEventListener(act, awake.worked, true);
    Putback.bench = bench;
  }

  if (root.PUTBACK_JOB && root.PUTBACK_WORDS && Putback.session) begin(root.PUTBACK_JOB, root.PUTBACK_WORDS);
})(window);
