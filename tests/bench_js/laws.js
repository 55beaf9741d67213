/* What holds of every job, whatever its data: `JOBS`, worked through by whatever the page says comes next. */
(function (root) {
  "use strict";

  /** Choose what exists, differently for each seed. */
  function chosen(page, job, random) {
    for (const option of job.options) {
      const state = page.state().options.find((each) => each.key === option.key);
      const left = option.choices.filter((choice, place) => state.possible[place]);
      page.choose(option.key, left[Math.floor(random() * left.length)].key);
    }
  }

  function tickNext(page) {
    const { next, nextBox } = page.state();
    if (nextBox === null) page.tick(next, true);
    else page.box(next, nextBox, true);
    return next;
  }

  /** With every answer good, the job closes; things go back at the steps that were told; counts are those printed. */
  root.goodWay = function (job, seed) {
    const page = new Tablet().open(job);
    chosen(page, job, dice(seed));
    for (let turn = 0; page.state().next; turn += 1) {
      if (turn > 3000) throw new Error("no end");
      const before = page.state().off;
      const step = tickNext(page);
      const now = new Set(page.state().off.map((each) => each.key));
      for (const each of before)
        if (!now.has(each.key)) same(step, each.back, job.job + ": " + each.key + " went back");
      same(page.state().skipped, [], job.job + " " + step);
    }
    const { done, of, closed, off, count } = page.state();
    same(done, of);
    same(closed, off.length === 0, job.job);
    for (const each of off) same([each.key, each.back, each.may], [each.key, null, false]);
    for (const row of count) {
      const { branch, varies } = job.counts[row.row];
      if (row.here !== "yes" || varies) continue;
      const now = [row.out, row.back, row.new];
      same(now, branch ? [0, 0, 0] : [row.must.out, row.must.back, row.must.new], job.job + " count " + row.row);
    }
  };

  /** Whatever somebody does, in whatever order: nothing is raised, and taking it all back leaves nothing off. */
  root.anyWay = function (job, seed) {
    const random = dice(seed);
    const pick = (list) => list[Math.floor(random() * list.length)];
    const tablet = new Tablet();
    let page = tablet.open(job);
    for (let turn = 0; turn < 25; turn += 1) {
      const place = Math.floor(random() * job.steps.length);
      const step = job.steps[place];
      const kind = Math.floor(random() * 10);
      if (kind < 4) page.tick(step.key, random() < 0.8);
      else if (kind === 4 && step.boxes) page.box(step.key, Math.floor(random() * step.boxes.length), random() < 0.7);
      else if (kind === 5 && job.questions.length) {
        const asked = pick(job.questions);
        page.answer(job.steps[asked.step].key, pick([asked.branch, "good", null]), asked.box === undefined ? null : asked.box);
      } else if (kind === 6 && (step.blanks || []).length) page.read(step.key, 0, pick(["1", "0.2", "x", "", "99999"]));
      else if (kind === 7 && job.options.length) {
        const option = pick(job.options);
        page.choose(option.key, pick([null, pick(option.choices).key]));
      } else if (kind === 8) page.takeBack();
      else if (kind === 9) page = tablet.open(job);
      const { off, done, of, count, round } = page.state();
      if (done > of || off.some((each) => each.count < 0) || count.some((row) => row.back > row.out)) throw new Error(job.job + " " + turn);
      if (round.number > turn) throw new Error("more rounds than turns");
      same(JSON.stringify(tablet.open(job).state()), JSON.stringify(page.state()), job.job + ": another look says the same");
    }
    while (page.state().round.number) page.takeBack();
    for (const step of job.steps) page.tick(step.key, false);
    for (const { step, box } of job.questions) page.answer(job.steps[step].key, null, box === undefined ? null : box);
    const opens = job.things.filter((thing) => thing.opens).map((thing) => thing.key);
    same(page.state().off.filter((each) => !opens.includes(each.key)), [], job.job);
    same(page.state().done, 0);
  };
})(typeof window === "object" ? window : globalThis);
