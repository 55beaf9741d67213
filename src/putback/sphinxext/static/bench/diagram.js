/*
 * Looking up in the decision diagram of a job: a set of machines and ways is a row that asks about one option or one
 * answer, with a child for each. What is not known of the machine is followed in all ways that exist.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});

  /** Return for each option of a job which of its choices is chosen, or -1. `choice` gives the key of a choice. */
  function known(job, choice) {
    return job.options.map((option) => option.choices.findIndex((each) => each.key === choice(option.key)));
  }

  /**
   * Return what look-ups need: the job, what is known of the machine, the lap, and what a question was answered with
   * (true: its branch was opened; what nobody has answered is false, since all is well until somebody says otherwise).
   */
  function surroundings(job, options, lap, answered) {
    return { job, options, lap, answered };
  }

  /** Follow a set as far as is known; return 0 (never), 1 (always), or the set whose row asks about an open option. */
  function settled(set, around) {
    const { job, options, lap, answered } = around;
    let at = set;
    while (at > 1) {
      const row = job.rows[at - 2];
      const asked = job.vars[row[0]];
      let child;
      if (asked[0] === "o") {
        if (options[asked[1]] < 0) return at;
        child = options[asked[1]];
      } else if (asked[0] === "q") {
        child = asked[2] === lap && answered(asked[1]) ? 0 : 1;
      } else {
        child = asked[1] === lap ? 0 : 1;
      }
      at = row[child + 1];
    }
    return at;
  }

  /**
   * Of sets in turn, each with its surroundings, return the places of those that can be the first that holds; the number
   * of sets when it can be that none does. With a machine that is known there is just one.
   */
  function first(entries, built) {
    const found = new Set();
    const seen = new Set();
    const { job } = built.around;

    function walk(machines, open) {
      machines = settled(machines, built.around);
      if (machines === 0) return;
      const left = [];
      for (const [place, set] of open) {
        const at = settled(set, entries[place].around);
        if (at !== 0) left.push([place, at]);
        if (at === 1) break;
      }
      const decided = left.length === 0 || left[0][1] === 1;
      if (machines === 1 && decided) {
        found.add(left.length ? left[0][0] : entries.length);
        return;
      }
      const key = machines + ":" + left.join(";");
      if (seen.has(key)) return;
      seen.add(key);
      // All rows ask in the same order, the last of `vars` first.
      const tops = [machines, ...left.map((each) => each[1])].filter((at) => at > 1);
      const asked = Math.max(...tops.map((at) => job.rows[at - 2][0]));
      const step = (at, choice) => (at > 1 && job.rows[at - 2][0] === asked ? job.rows[at - 2][choice + 1] : at);
      const choices = job.options[job.vars[asked][1]].choices.length;
      for (let choice = 0; choice < choices; choice += 1)
        walk(step(machines, choice), left.map(([place, at]) => [place, step(at, choice)]));
    }

    walk(built.set, entries.map((entry, place) => [place, entry.set]));
    return [...found].sort((one, other) => one - other);
  }

  /** Return "yes", "no" or "perhaps": whether a set holds. */
  function holds(set, around) {
    if (set === 1) return "yes";
    const at = settled(set, around);
    if (at < 2) return at ? "yes" : "no";
    const found = first([{ set: at, around }], { set: around.job.built, around });
    if (found.length > 1) return "perhaps";
    return found[0] === 0 ? "yes" : "no";
  }

  /**
   * Follow a set to where it holds, and return the answers that lead there: those given where they do, others else.
   * `answered` of the surroundings tells what was given.
   */
  function steered(set, around) {
    const { job, options, lap, answered } = around;
    const forced = new Map();
    const dead = new Map();

    /** Return whether no answers make a set hold on this machine. */
    function never(at) {
      if (at < 2) return at === 0;
      if (!dead.has(at)) {
        const [top, ...children] = job.rows[at - 2];
        const [kind, number] = job.vars[top];
        const left = kind === "o" && options[number] >= 0 ? [children[options[number]]] : children;
        dead.set(at, left.every(never));
      }
      return dead.get(at);
    }

    let at = set;
    while (at > 1 && !never(at)) {
      const [top, ...children] = job.rows[at - 2];
      const [kind, number, of] = job.vars[top];
      let child = kind === "o" ? options[number] : (kind === "w" ? number === lap : of === lap && answered(number)) ? 0 : 1;
      if (child < 0 || never(children[child])) child = children.findIndex((each) => !never(each));
      if (kind === "q" && of === lap) forced.set(number, child === 0);
      at = children[child];
    }
    return forced;
  }

  /** Return which choices of an open option still exist together with what is known. */
  function possible(job, options, option) {
    return job.options[option].choices.map((choice, place) => {
      const tried = options.slice();
      tried[option] = place;
      const around = surroundings(job, tried, 0, () => false);
      return first([], { set: job.built, around }).length > 0;
    });
  }

  Putback.diagram = { known, surroundings, settled, first, holds, steered, possible };
})(typeof window === "object" ? window : globalThis);
