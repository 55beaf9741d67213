/* What a person does on the page: each act is a mark in the record, or a few. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { answers, diagram, record: records, state: states, way } = Putback;

  /** Return the acts on a page, which is what `session` has open. */
  function on(page) {
    const { job, index } = page;
    const { steps } = index;
    const stepOf = (key) => (index.byKey.has(key) ? index.byKey.get(key) : -1);
    const name = (step, part, round) => way.named(steps[step].key, part, round);
    const boxName = (step, box, round) => name(step, steps[step].boxes ? box : null, round);

    function tick(key, done) {
      const step = stepOf(key);
      if (step < 0) return;
      const here = page.seen.here[step].boxes;
      const reached = index.boxes[step].filter((box) => here[box] !== "no");
      page.change(() => ticked(step, reached.length ? reached : index.boxes[step], !!done));
    }

    function box(key, number, done) {
      const step = stepOf(key);
      if (step >= 0 && index.boxes[step].includes(number)) page.change(() => ticked(step, [number], !!done));
    }

    function ticked(step, boxes, done) {
      const leads = done && steps[step].kind === "back";
      const before = page.seen.state;
      if (done) for (const each of boxes) enter(step, steps[step].boxes ? each : null);
      if (leads) clearAfter(Math.max(...boxes.map((each) => page.owner(step, each))));
      for (const each of boxes) page.put("ticks", boxName(step, each, page.owner(step, each)), done);
      if (done) page.noted(step);
      if (!leads) return;
      page.look();
      const again = steps.map((each) => each.key).filter((key) => before.steps[key].ticked && page.seen.state.steps[key].again);
      const { to } = steps[step];
      page.notices.push({ code: "again", steps: again, to: steps[to] ? steps[to].key : null });
    }

    /** Whoever does a step of a branch says with it that the branch is open, unless somebody has said otherwise. */
    function enter(step, box) {
      if (!steps[step].up) return;
      const [above, branch] = steps[step].up;
      enter(above, box);
      const asked = index.questions[above].filter((each) => each.branch === branch);
      const at = asked.find((each) => each.box === box) || asked.find((each) => each.box === null) || asked[0];
      if (!at || page.seen.marks.branches(above, at.box, page.owner(above, at.box)) !== undefined) return;
      page.put("answers", name(above, at.box, page.owner(above, at.box)), [branch]);
      const opened = index.under[above].filter((each) => steps[each].up[1] === branch);
      page.notices.push({ code: "branch", step: steps[above].key, opened: opened.map((each) => steps[each].key) });
    }

    /** Whatever an earlier visit left in the rounds after this one counts no more. */
    function clearAfter(round) {
      const empty = { ticks: false, readings: { text: "", unit: "" }, answers: null, timers: null };
      for (const kind of Object.keys(empty))
        for (const mark of Object.keys(page.record.marks[kind])) {
          const found = /@(\d+)$/.exec(mark);
          if (found && Number(found[1]) > round) page.put(kind, mark, empty[kind]);
        }
    }

    function takeBack() {
      const [earlier, last] = page.seen.rounds.slice(-2);
      if (!last) return;
      page.change(() => {
        clearAfter(earlier.number);
        page.put("ticks", boxName(last.back.step, last.back.box, earlier.number), false);
      });
    }

    function read(key, blank, text, unit) {
      const step = stepOf(key);
      const about = step < 0 ? undefined : steps[step].blanks[blank];
      if (!about) return { is: "empty", value: null, unit: "", branch: null };
      const typed = { text: page.cut(text), unit: page.cut(unit) };
      page.change(() => {
        page.put("readings", name(step, blank, page.owner(step, about.box)), typed);
        page.noted(step);
      });
      return answers.judged(steps[step], blank, typed.text, typed.unit, page.decimal);
    }

    function answer(key, what, at) {
      const step = stepOf(key);
      const place = at === undefined ? null : at;
      if (step < 0 || !index.questions[step].some((each) => each.box === place)) return;
      const branch = steps[step].branches[what];
      if (what !== null && what !== "good" && !branch) return;
      const round = page.owner(step, place);
      const before = page.seen.marks.byHand(step, place, round) || [];
      let value = what === null ? null : what === "good" ? [] : [what];
      if (branch && branch.each) value = before.includes(what) ? before.filter((each) => each !== what) : [...before, what];
      page.change(() => page.put("answers", name(step, place, round), value));
    }

    const set = (option, value) => (page.ownMachine() ? page.put("choices", option, value) : page.sheets.chooseForAll(option, value));

    function choose(option, choice) {
      const at = job.options.findIndex((each) => each.key === option);
      if (at < 0 || (choice !== null && !job.options[at].choices.some((each) => each.key === choice))) return;
      page.change(() => {
        set(option, choice);
        const lost = impossible(at);
        for (const other of lost) set(other, null);
        if (lost.length) page.notices.push({ code: "unchosen", options: lost });
      });
    }

    /** Return the options whose choices no machine has together with what was just chosen. */
    function impossible(at) {
      const options = page.options();
      const exists = (tried) => diagram.possible(job, tried, at)[tried[at]];
      if (options[at] < 0 || exists(options)) return [];
      const tried = options.map((choice, place) => (place === at ? choice : -1));
      const lost = [];
      options.forEach((choice, place) => {
        if (place === at || choice < 0) return;
        tried[place] = choice;
        if (exists(tried)) return;
        tried[place] = -1;
        lost.push(job.options[place].key);
      });
      return lost;
    }

    function timer(key, runs) {
      const step = stepOf(key);
      if (step < 0 || !steps[step].timer) return;
      const value = runs ? { from: page.now(), seconds: steps[step].timer.seconds } : null;
      page.change(() => page.put("timers", name(step, null, page.owner(step, 0)), value));
    }

    return {
      tick, box, takeBack, read, answer, choose,
      ownMachine: (own) => page.change(() => (own ? page.freeze() : page.put("about", "own", false))),
      counted: (row, done) => job.counts[row] && page.change(() => page.put("counted", states.rowName(job, row), !!done)),
      blank: (of, text) => of && String(of).length < 100 && page.change(() => page.put("blanks", String(of), page.cut(text))),
      note: (text) => page.change(() => page.put("about", "note", page.cut(text))),
      startTimer: (key) => timer(key, true),
      stopTimer: (key) => timer(key, false),
    }; // prettier-ignore
  }

  Putback.acts = { on };
})(typeof window === "object" ? window : globalThis);
