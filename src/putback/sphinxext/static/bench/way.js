/*
 * Which steps are on the way: for this machine, with these answers, in this round. A round begins with the job, and again
 * whenever a step leads back to an earlier one.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { diagram } = Putback;

  /** What the data leaves out, since most steps and jobs have it so. */
  const STEP = { set: 1, up: null, kind: "tick", boxes: null, branches: [], blanks: [], timer: null };
  const JOB = { options: [], vars: [], rows: [], built: 1, lines: [], sections: [], follow: [], listed: {}, moments: [] };
  const LATER = { questions: [], things: [], values: [], back: [], joins: [], counts: [], settings: [] };

  const whole = (job) => ({ ...JOB, ...LATER, ...job, steps: job.steps.map((step) => ({ ...STEP, ...step })) });

  /** Return what of a job's data, made whole, is looked up again and again. */
  function indexed(job) {
    const { steps } = job;
    const moments = steps.map(() => []); // of each step, the moments that it has
    const ticks = job.moments.map((moment) => (moment.length > 1 ? moment.slice(1) : [0]));
    job.moments.forEach((moment, place) => moments[moment[0]].push(place));
    const boxes = steps.map((step) => (step.boxes ? step.boxes.map((name, box) => box) : [0]));
    const places = []; // of each box of a step, where in the walk it stands
    let before = 0;
    steps.forEach((step, number) => {
      places.push(
        boxes[number].map((box) => {
          const found = moments[number].find((place) => ticks[place].includes(box));
          return found === undefined ? (moments[number].length ? moments[number][0] : before) : found;
        })
      );
      if (moments[number].length) before = moments[number][0];
    });
    const firsts = places.map((each) => Math.min(...each));
    const names = steps.map((step, number) => boxes[number].map((box) => named(step.key, step.boxes ? box : null, 0)));
    const byKey = new Map();
    steps.forEach((step, number) => byKey.set(step.key, number));
    const questions = steps.map(() => []);
    job.questions.forEach((question, place) => {
      for (const step of asking(question)) questions[step].push({ ...question, place });
    });
    const under = steps.map(() => []);
    steps.forEach((step, number) => step.up && under[step.up[0]].push(number));
    const joins = job.joins.slice().sort((one, other) => one[1] - other[1]);
    return { job, steps, moments, ticks, boxes, places, firsts, names, byKey, questions, under, joins };
  }

  /** Return the steps that ask a question: one, or several for different machines. */
  const asking = (question) => [question.step, ...(question.also || [])];

  /** Return the name of a mark: of a step, one of its boxes or blanks, and a round. */
  function named(key, part, round) {
    return key + (part === null ? "" : "/" + part) + (round ? "@" + round : "");
  }

  /**
   * Return the rounds of a record, the first first. `marks` tells what a person has done: `ticked(step, box, round)`, and
   * `answered(question, round)`, which is undefined where nobody has said anything.
   */
  function rounds(index, options, marks) {
    const found = [];
    let next = { number: 0, lap: 0, from: 0, kept: new Map(), back: null };
    while (next && found.length < 200) {
      const round = next;
      round.answers = answersIn(index, round, found[found.length - 1], marks);
      const told = (question) => (round.kept.has(question) ? round.kept.get(question) : round.answers.get(question) === true);
      round.around = diagram.surroundings(index.job, options, round.lap, told);
      round.stretches = stretches(index, round);
      found.push(round);
      next = after(index, round, marks);
    }
    return found;
  }

  /**
   * Return what each question was answered with as of a round: those before its beginning, as in the round before. What
   * has to be answered otherwise for look-ups (`kept`) is not among them.
   */
  function answersIn(index, round, earlier, marks) {
    const answers = new Map();
    index.job.questions.forEach((question, number) => {
      const since = Math.min(...asking(question).map((step) => placeOf(index, step, null)));
      if (earlier && since < round.from) {
        if (earlier.answers.has(number)) answers.set(number, earlier.answers.get(number));
        return;
      }
      const answer = marks.answered(number, round.number);
      if (answer !== undefined) answers.set(number, answer);
    });
    return answers;
  }

  /** Return where in the walk a box of a step stands; without a box, where the step begins. */
  function placeOf(index, step, box) {
    const place = index.places[step][box];
    return place === undefined ? index.firsts[step] : place;
  }

  /** Return the stretches of a round in which look-ups use the same lap: from which moment on, and with what around. */
  function stretches(index, round) {
    const found = [{ from: round.from, around: round.around }];
    for (const [lap, moment, set, next, into] of index.joins) {
      const { around } = found[found.length - 1];
      if (lap !== around.lap || moment <= round.from || diagram.holds(set, around) === "no") continue;
      const asked = { ...around, lap: next };
      const kept = diagram.steered(into, asked);
      const told = (question) => (kept.has(question) ? kept.get(question) : around.answered(question));
      found.push({ from: moment, around: { ...asked, answered: told } });
    }
    return found;
  }

  /** Return with what around a moment of a round is looked up. */
  function aroundAt(round, moment) {
    let found = round.stretches[0];
    for (const stretch of round.stretches) if (stretch.from <= moment) found = stretch;
    return found.around;
  }

  /** Return the round that a step which leads back has begun, or null. */
  function after(index, round, marks) {
    for (let step = 0; step < index.steps.length; step += 1) {
      if (index.steps[step].kind !== "back") continue;
      const box = index.boxes[step].find((each) => owns(index, round, step, each) && marks.ticked(step, each, round.number));
      if (box !== undefined) return begun(index, round, step, box);
    }
    return null;
  }

  function begun(index, round, step, box) {
    const moment = placeOf(index, step, box);
    const around = aroundAt(round, moment);
    const rows = index.job.back.filter((row) => row[1] === moment);
    const row = rows.find((each) => each[0] === around.lap && diagram.holds(each[2], around) !== "no");
    const number = round.number + 1;
    const by = { step, box };
    if (row) {
      const asked = { ...around, lap: row[3] };
      return { number, lap: row[3], from: row[5], kept: diagram.steered(row[4], asked), back: by };
    }
    const to = index.steps[step].to;
    const from = rows.length ? rows[0][5] : typeof to === "number" ? placeOf(index, to, null) : round.from;
    return { number, lap: around.lap, from, kept: new Map(), back: by };
  }

  /** Return whether a box of a step belongs to a round: whether it stands after the round's beginning. */
  function owns(index, round, step, box) {
    return !round.number || (!index.steps[step].later && placeOf(index, step, box) >= round.from);
  }

  /** Return the last of some rounds that a box of a step belongs to. */
  function ownerOf(index, all, step, box) {
    for (let place = all.length - 1; place > 0; place -= 1) if (owns(index, all[place], step, box)) return all[place];
    return all[0];
  }

  /**
   * Return for each step how it stands to the way of the last round: {here, why, boxes}, `here` being yes, no or perhaps,
   * for the step and for each of its boxes.
   */
  function onTheWay(index, all, marks) {
    const found = [];
    const round = all[all.length - 1];
    let led = null; // what has led away
    index.steps.forEach((step, number) => {
      const holds = diagram.holds(step.set, round.around);
      const boxes = index.boxes[number].map((box) => boxHere(index, found, round, number, box, marks));
      const best = ["yes", "perhaps", "no"].find((each) => boxes.some((box) => box.here === each)) || "no";
      const sample = boxes.find((box) => box.here === best) || { why: null };
      let [here, why] = [best, sample.why];
      if (holds !== "yes") [here, why] = holds === "no" ? ["no", "variant"] : here === "no" ? [here, why] : [holds, "option"];
      if (here !== "no" && led && !step.later) [here, why] = ["no", led];
      found.push({ here, why, boxes: boxes.map((box) => (here === "no" || box.here === "no" ? "no" : here === "perhaps" ? here : box.here)) });
      if (here === "yes" && (step.kind === "stop" || step.kind === "back") && !led) led = step.kind === "stop" ? "stopped" : "back";
    });
    return found;
  }

  /** Return whether one box of a step is on the way, but for what led away before it. */
  function boxHere(index, found, round, number, box, marks) {
    const step = index.steps[number];
    if (step.boxSets && step.boxSets[box] !== undefined) {
      const holds = diagram.holds(step.boxSets[box], round.around);
      if (holds !== "yes") return { here: holds, why: holds === "no" ? "variant" : "option" };
    }
    if (!step.up) return { here: "yes", why: null };
    const [above, branch] = step.up;
    const outer = found[above];
    if (outer.here === "no") return { here: "no", why: outer.why };
    if (branch >= 0) {
      const open = opened(index, round, above, branch, step.boxes ? box : null, marks);
      if (open !== "yes") return { here: open, why: open === "no" ? "branch" : "answer" };
    }
    return { here: outer.here, why: outer.why };
  }

  /** Return whether a branch of a step is open at a box: yes, no, or perhaps when nobody has said anything. */
  function opened(index, round, step, branch, box, marks) {
    const asked = index.questions[step].filter((each) => each.branch === branch);
    const question = asked.find((each) => each.box === box) || asked.find((each) => each.box === null);
    const wanted = question ? [question] : asked;
    if (!wanted.length) return "perhaps";
    const answers = wanted.map((each) => round.answers.get(each.place));
    if (answers.some((answer) => answer === true)) return "yes";
    if (answers.every((answer) => answer === false)) return "no";
    return isTicked(index, round, step, marks) ? "no" : "perhaps";
  }

  /** Return whether all boxes of a step are ticked in the round that they belong to. */
  function isTicked(index, round, step, marks) {
    return index.boxes[step].every((box) => marks.now(step, box));
  }

  Putback.way = { whole, indexed, asking, named, rounds, placeOf, aroundAt, owns, ownerOf, onTheWay, opened };
})(typeof window === "object" ? window : globalThis);
