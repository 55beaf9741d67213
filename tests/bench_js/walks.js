/*
 * Takes walks on pages of jobs: `JOBS` are their data, `WALKS` are {job, chosen, events}. An event is {tick: moment},
 * {answer: question, yes}, {back: moment} or {off: {thing: value}}, which is what must be off by then.
 */
(function (root) {
  "use strict";

  function bare(value) {
    const { is, closed, n, loose, at, places } = value;
    return { is, closed, n: n || 0, loose: loose || 0, at: at || 0, places: places || [] };
  }

  function act(page, job, event) {
    const stateOf = (step) => page.state().steps[job.steps[step].key];
    if (event.tick !== undefined) {
      const [step, ...boxes] = job.moments[event.tick];
      const { key, boxes: grid } = job.steps[step];
      const { here, why, boxesHere } = stateOf(step);
      const reached = boxes.every((box) => boxesHere[box] === "yes");
      if (here !== "yes" || !reached) throw new Error(key + " is not on the way: " + [here, why, boxesHere].join(" "));
      if (grid) for (const box of boxes) page.box(key, box, true);
      else page.tick(key, true);
    } else if (event.answer !== undefined) {
      const { step, also, branch, box } = job.questions[event.answer];
      const here = [step, ...(also || [])].find((each) => stateOf(each).here !== "no") || step;
      const at = box === undefined ? null : box;
      const { branches } = stateOf(here).answers.find((each) => each.box === at);
      const { key } = job.steps[here];
      if (event.yes) page.answer(key, branch, at);
      else if (branches === null) page.answer(key, "good", at);
    }
  }

  root.walk = function ({ job: number, chosen, events }) {
    const job = JOBS[number];
    const page = new Tablet().open(job);
    for (const option of Object.keys(chosen)) page.choose(option, chosen[option]);
    events.forEach(function (event, place) {
      if (!event.off) return act(page, job, event);
      const found = {};
      for (const each of page.state().off) found[each.kind + " " + each.key] = each.states.map(bare);
      const wanted = {};
      for (const key of Object.keys(event.off)) wanted[key] = [bare(event.off[key])];
      return same(found, wanted, job.job + " " + JSON.stringify(chosen) + " event " + place);
    });
    return page;
  };

  root.walkAll = function () {
    WALKS.forEach((walk, place) => check("walk " + place, () => root.walk(walk)));
  };
})(typeof window === "object" ? window : globalThis);
