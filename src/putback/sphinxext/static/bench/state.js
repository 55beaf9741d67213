/* What the page shows: one plain object, made anew from the job's data and the record after each change. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { answers, diagram, ledger, record: records, timers, way } = Putback;

  /** Return all that follows from a record: `around` has index, record, options (places of choices), decimal and now. */
  function made(around) {
    const { index, record, options, now } = around;
    const marks = answers.opened(index, record, around.decimal);
    const rounds = way.rounds(index, options, marks);
    marks.all = rounds;
    const here = way.onTheWay(index, rounds, marks);
    const book = ledger.opened(index, rounds, here, marks);
    const last = rounds[rounds.length - 1];
    const keyed = (step) => (step === null ? null : index.steps[step].key);
    const seen = { index, record, marks, rounds, here, last, now };
    const steps = Object.create(null);
    index.steps.forEach((step, number) => (steps[step.key] = stepState(seen, number)));
    const walk = walked(seen);
    skip(walk, steps);
    const off = ledger.off(book).map((each) => ({
      ...each,
      since: keyed(each.since),
      back: keyed(each.back),
      gaps: each.gaps.map(keyed),
    }));
    const bySet = (sets) => (sets || []).map((set) => diagram.holds(set, last.around));
    const state = { steps, off, ...progress(seen, walk, steps) };
    state.goesBack = off.reduce((sum, each) => sum + each.count, 0);
    state.count = ledger.counts(book).map((row) => ({ ...row, counted: !!records.read(record, "counted", rowName(index.job, row.row)) }));
    state.settings = index.job.settings.map((row, place) => ({ row: place, is: settingIs(book, row), step: keyed(row.step) }));
    state.closed = closed(state, here);
    state.lines = bySet(index.job.lines.map((line) => line[0]));
    state.sections = bySet(index.job.sections);
    state.follow = bySet(index.job.follow);
    state.listed = {};
    for (const name of Object.keys(index.job.listed)) state.listed[name] = bySet(index.job.listed[name]);
    state.round = { number: last.number, back: last.back ? keyed(last.back.step) : null };
    const running = Object.keys(steps).filter((key) => steps[key].timer);
    state.timers = running.sort((one, other) => steps[one].timer.ends - steps[other].timer.ends);
    state.blanks = Object.create(null);
    for (const name of Object.keys(record.marks.blanks)) state.blanks[name] = records.read(record, "blanks", name);
    state.note = records.read(record, "about", "note") || "";
    return { state, marks, rounds, here };
  }

  function stepState(seen, number) {
    const { index, record, marks, rounds, here, now } = seen;
    const step = index.steps[number];
    const boxes = index.boxes[number].map((box) => marks.now(number, box));
    const wanted = boxes.filter((ticked, box) => here[number].boxes[box] !== "no");
    const owner = (box) => way.ownerOf(index, rounds, number, box).number;
    const before = (box) => rounds.some((round) => round.number < owner(box) && marks.ticked(number, box, round.number));
    const whole = owner(0);
    const timer = records.read(record, "timers", way.named(step.key, null, whole));
    return {
      here: here[number].here,
      why: here[number].why,
      ticked: (wanted.length ? wanted : boxes).every((ticked) => ticked),
      skipped: false,
      again: boxes.some((ticked, box) => !ticked && before(box)),
      boxes,
      boxesHere: here[number].boxes,
      readings: (step.blanks || []).map((blank, place) => marks.reading(number, place, owner(blank.box || 0))),
      answers: asked(index, number).map((box) => {
        const round = owner(box || 0);
        const branches = marks.branches(number, box, round);
        return { box, branches: branches === undefined ? null : branches, byReading: marks.byReading(number, box, round) !== undefined };
      }),
      timer: timer && step.timer ? timers.standing(timer, now, step.timer.most) : null,
    };
  }

  /** Return the places at which a step is asked; null for the step as a whole. */
  function asked(index, number) {
    const boxes = index.questions[number].map((question) => (question.box === undefined ? null : question.box));
    return [...new Set(boxes)];
  }

  /**
   * Return every box on the way, in walking order: {step, box, key, sure, ticked, at: when it was ticked}. Not `sure` is
   * what is on the way of some machines, while nobody has said which one this is.
   */
  function walked(seen) {
    const { index, record, marks, rounds, here } = seen;
    const found = [];
    index.steps.forEach((step, number) => {
      if (step.later || step.kind === "each" || !reached(here[number])) return;
      for (const box of index.boxes[number]) {
        if (here[number].boxes[box] === "no") continue;
        const round = way.ownerOf(index, rounds, number, box).number;
        const mark = record.marks.ticks[way.named(step.key, step.boxes ? box : null, round)];
        const ticked = marks.now(number, box);
        const sure = here[number].boxes[box] === "yes";
        found.push({ step: number, box, key: step.key, sure, ticked, at: ticked && mark ? mark.at : 0, place: index.places[number][box] });
      }
    });
    return found.sort((one, other) => one.place - other.place || one.step - other.step || one.box - other.box);
  }

  /** Return whether a step is on the way, at least of some machines that this one may be. */
  const reached = ({ here, why }) => here === "yes" || (here === "perhaps" && why === "option");

  /** Say of each step whether a later one is ticked while it is not. */
  function skip(walk, steps) {
    let later = false;
    for (const each of walk.slice().reverse()) {
      if (each.ticked) later = true;
      else if (later && each.sure) steps[each.key].skipped = true;
    }
  }

  function progress(seen, walk, steps) {
    const { index } = seen;
    // What only some machines need counts once somebody has done it.
    const counts = (one) => one.here === "yes" || (reached(one) && one.ticked);
    const onWay = index.steps.filter((step) => !step.later && step.kind !== "each" && counts(steps[step.key]));
    const done = onWay.filter((step) => steps[step.key].ticked).length;
    let latest = -1;
    walk.forEach((each, place) => {
      if (each.ticked && (latest < 0 || each.at >= walk[latest].at)) latest = place;
    });
    // Going on, nothing is passed over that the machine may need; coming back, only what it needs for certain is left.
    const open = walk.filter((each, place) => !each.ticked && (each.sure || place > latest));
    const next = open.find((each) => walk.indexOf(each) > latest) || open[0];
    return {
      done,
      of: onWay.length,
      next: next ? next.key : null,
      nextBox: next && index.steps[next.step].boxes ? next.box : null,
      skipped: onWay.map((step) => step.key).filter((key) => steps[key].skipped),
    };
  }

  function settingIs(book, row) {
    const thing = book.job.things[row.thing];
    if (!thing) return "untouched";
    const ways = ledger.standing(book, thing);
    if (ways.some((each) => each.value && !each.value.closed)) return "disturbed";
    return ways.some((each) => each.moment !== null) ? "back" : "untouched";
  }

  /** Return whether all is closed; null while an open option may change that. */
  function closed(state, here) {
    if (state.off.some((each) => !each.may) || state.done < state.of || state.skipped.length) return false;
    const open = state.off.length || here.some((each) => each.here === "perhaps" && each.why === "option");
    return open ? null : true;
  }

  const LONGEST = 400; // letters of such a name: a record takes a few more

  /** Return the name of a row of the count-back, which stays when rows before it come or go. */
  function rowName(job, place) {
    const things = (row) => row.things.map((thing) => job.things[thing].key).join("+");
    const named = (row) => things(row).slice(0, LONGEST) + (row.branch ? "?" : "");
    const name = named(job.counts[place]);
    const before = job.counts.slice(0, place).filter((row) => named(row) === name).length;
    return before ? name + "~" + (before + 1) : name;
  }

  Putback.state = { made, rowName };
})(typeof window === "object" ? window : globalThis);
