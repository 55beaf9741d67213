/*
 * What a record says of a job's steps: what is ticked, what a reading is worth, and what a question was answered with,
 * by the reading where it tells, else by hand.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { judge, record: records, way } = Putback;

  /** Return the marks of a record as `way` and `ledger` ask for them. `decimal` is the decimal sign of the page. */
  function opened(index, record, decimal) {
    const keyed = (step, part, round) => way.named(index.steps[step].key, part, round);
    const read = (kind, step, part, round) => records.read(record, kind, keyed(step, part, round));
    const marks = { all: null };

    marks.ticked = function (step, box, round) {
      const name = index.names[step][box];
      return records.read(record, "ticks", round ? name + "@" + round : name) === true;
    };

    /** Return whether a box is ticked in the last round that it belongs to. `all` has to be set before. */
    marks.now = (step, box) => marks.ticked(step, box, way.ownerOf(index, marks.all, step, box).number);

    /** Return how a blank of a step was filled in, in one round. */
    marks.reading = function (step, blank, round) {
      const found = read("readings", step, blank, round) || { text: "", unit: "" };
      const { of } = index.steps[step].blanks[blank];
      const worked = of && !found.text.trim() ? workedOut(step, blank, of, round) : null;
      const text = worked === null ? found.text : worked.text;
      const told = judged(index.steps[step], blank, text, worked ? worked.unit : found.unit, worked ? "." : decimal);
      return { text: found.text, ...told, worked: worked ? told.value : null };
    };

    /** Return what comes of the readings before a blank, as {text, unit}, or null while one of them is missing. */
    function workedOut(step, blank, of, round) {
      const read = [];
      for (let place = 0; place < blank; place += 1)
        if (index.steps[step].blanks[place].role === "reading") read.push(marks.reading(step, place, round));
      if (!read.length || read.some((each) => each.value === null || each.unit !== read[0].unit)) return null;
      const values = read.map((each) => each.value);
      const [low, high] = [Math.min(...values), Math.max(...values)];
      const sum = values.reduce((all, each) => all + each, 0);
      const found = { largest: high, smallest: low, average: sum / values.length, difference: high - low }[of];
      if (found === undefined) return null;
      // As exact as what was read, since 0.3 - 0.2 is a little less than 0.1 to a machine.
      const digits = Math.max(...values.map((each) => (String(each).split(".")[1] || "").length));
      return { text: found.toFixed(Math.min(9, of === "average" ? digits + 1 : digits)), unit: read[0].unit };
    }

    /** Return the branches that the readings of a step open at a box (none: all is well), or undefined. */
    marks.byReading = function (step, box, round) {
      const { blanks, branches } = index.steps[step];
      const open = new Set();
      let telling = 0;
      let good = 0;
      (blanks || []).forEach((blank, number) => {
        const elsewhere = box !== null && blank.box !== null && blank.box !== undefined && blank.box !== box;
        if (!tells(blank) || elsewhere) return;
        telling += 1;
        const reading = marks.reading(step, number, round);
        if (reading.branch !== null && reading.branch < branches.length) open.add(reading.branch);
        else if (reading.is === "good") good += 1;
      });
      if (open.size) return [...open].sort((one, other) => one - other);
      return telling && good === telling ? [] : undefined;
    };

    marks.byHand = (step, box, round) => read("answers", step, box, round) || undefined;

    /** Return the branches that are open at a box of a step in a round, or undefined when nobody has said anything. */
    marks.branches = function (step, box, round) {
      const found = marks.byReading(step, box, round) || marks.byHand(step, box, round);
      return found && !several(index.steps[step]) ? found.slice(0, 1) : found;
    };

    marks.answered = function (question, round) {
      const { branch, box } = index.job.questions[question];
      for (const step of way.asking(index.job.questions[question])) {
        const found = marks.branches(step, box === undefined ? null : box, round);
        if (found) return found.includes(branch);
      }
      return undefined;
    };
    return marks;
  }

  /** Return whether several branches of a step may be open at once. */
  const several = (step) => step.branches.length > 0 && step.branches.every((branch) => branch.each);

  /** Return whether a blank can say by itself which branch is open. */
  const tells = (blank) =>
    (blank.role === "reading" || blank.role === "worked") &&
    (blank.units || []).some((unit) => unit.limit || (unit.branches || []).some((range) => range));

  const asLimit = (unit, range, shown) => ({
    unit,
    shown,
    low: range ? range[0] : null,
    high: range ? range[1] : null,
    lowOpen: !!(range && range[2]),
    highOpen: !!(range && range[3]),
  });

  /** Judge what stands in a blank of a step: as `judge` does, with the branch that it leads to, or null. */
  function judged(step, blank, text, unit, decimal) {
    const about = (step.blanks || [])[blank] || {};
    const units = about.units || [];
    const found = judge.judge(text, unit, units.map((each) => asLimit(each.unit, each.limit, each.shown)), decimal);
    const told = { is: found.is, value: found.value, unit: found.unit, branch: null };
    const here = units.find((each) => each.unit === found.unit);
    if (found.value === null || !here || found.is === "unit" || !tells(about)) return told;
    if (here.branches) {
      const fits = (range) => range && judge.within(found.value, asLimit("", range)) === "good";
      const at = here.branches.findIndex(fits);
      if (at >= 0 && found.is !== "good") [told.branch, told.is] = [at, found.is === "free" ? "outside" : found.is];
    } else if ((found.is === "low" || found.is === "high") && step.branches.length) told.branch = 0;
    return told;
  }

  Putback.answers = { opened, judged, several };
})(typeof window === "object" ? window : globalThis);
