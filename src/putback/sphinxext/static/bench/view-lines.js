/*
 * What is not for the machine in front, and branches that nobody was sent to, fold away. Nothing is taken out of the
 * page: whoever looks for it finds it, and it can be shown.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { make, button, say, set, mark } = Putback.page;
  const SHOWN = "bench-show-others";

  /** Return what is done for some machines only: what shows it, whether it is a row, and where the state says it. */
  function limited(job, page) {
    const found = [];
    const add = (of, it, row, here) => it && of !== 1 && found.push({ it, row, here });
    job.lines.forEach(([of, step], number) => {
      if (of === 1) return;
      const here = (state) => state.lines[number];
      if (step >= 0) add(of, document.getElementById(job.steps[step].id), false, here);
      for (const it of page.getElementsByClassName(`line-${number}`)) add(of, it, false, here);
    });
    job.sections.forEach((of, index) =>
      add(of, page.querySelector(`section[id$="-section-${index + 1}"]`), false, (state) => state.sections[index]));
    const follows = page.querySelectorAll(".follow-up-after");
    job.follow.forEach((of, index) => add(of, follows[index], false, (state) => state.follow[index]));
    for (const [name, sets] of Object.entries(job.listed)) {
      const rows = rowsOf(job, page, name);
      sets.forEach((of, index) => add(of, rows[index], true, (state) => state.listed[name][index]));
    }
    return found;
  }

  /** Return the rows of a list or table, in the order in which they stand. */
  function rowsOf(job, page, name) {
    if (name === "count-back" || name === "settings") {
      const tables = page.querySelectorAll("table.count-back");
      const table = tables[name === "settings" && job.counts.length ? 1 : 0];
      return table ? table.tBodies[0].rows : [];
    }
    return page.querySelectorAll(`.set-up-list.${CSS.escape(name)} :is(tbody > tr, li)`);
  }

  /** A branch: its label becomes a button that opens and shuts it. */
  function branchOf(it, key, index, words, changed) {
    const label = it.querySelector(":scope > .otherwise-label");
    const inner = make("div", { class: "bench-branch", id: `${it.parentElement.id}-branch-${index + 1}` });
    const others = [...it.children].filter((child) => child !== label);
    inner.append(...others);
    const tag = make("span", { class: "bench-tag" });
    const branch = { it, inner, tag, key, index, byHand: null, taken: null };
    const title = label.textContent.trim();
    branch.toggle = button(title + " ", () => {
      branch.byHand = branch.toggle.getAttribute("aria-expanded") !== "true";
      changed();
    }, { "aria-controls": inner.id });
    branch.toggle.append(tag);
    label.replaceChildren(branch.toggle);
    inner.addEventListener("beforematch", () => {
      branch.byHand = true;
      changed();
    });
    it.append(inner);
    return branch;
  }

  function open(job, words, bench, steps, typing) {
    const page = document.querySelector("main") || document.body;
    const parts = limited(job, page);
    const branches = [];
    const show = () => shown(bench.state());
    for (const { step, it } of steps.values()) {
      const below = it.querySelectorAll(":scope > .otherwise");
      step.branches.forEach((branch, index) => {
        if (below[index]) branches.push(branchOf(below[index], step.key, index, words, show));
      });
    }
    const view = { rows: 0, shown };
    let first = true;

    /** The keys of the steps that stand in a branch. */
    function insideOf({ key, index }) {
      const above = steps.get(key).index;
      return job.steps.filter(({ up }) => up && up[0] === above && up[1] === index).map((step) => step.key);
    }

    /** Whether an answer leads to a branch: true, false, or null when nobody has said yet. */
    function taken(branch, state) {
      const answers = ((state.steps[branch.key] || {}).answers || []).map((answer) => answer.branches);
      if (answers.some((branches) => branches && branches.includes(branch.index))) return true;
      return answers.length && answers.every((branches) => branches) ? false : null;
    }

    /** Show what is where; return what to tell of branches that somebody is now sent to. */
    function shown(state) {
      const told = [];
      view.rows = 0;
      for (const part of parts) {
        const other = part.here(state) === "no";
        part.it.classList.toggle("bench-other", other);
        mark(part.it, "data-bench", other && !part.row ? words.machine.not_yours : null);
        if (other && part.row) view.rows += 1;
      }
      for (const branch of branches) {
        if (typing() === branch.key) continue; // no branch opens and shuts under a hand that types
        const now = taken(branch, state);
        if (now !== branch.taken) branch.byHand = null;
        if (now && branch.taken !== true && !first) told.push({ code: "branch", step: branch.key, opened: insideOf(branch) });
        branch.taken = now;
        const unfolded = branch.byHand === null ? now === true : branch.byHand;
        mark(branch.toggle, "aria-expanded", unfolded);
        if (unfolded) mark(branch.inner, "hidden", null);
        else mark(branch.inner, "hidden", "until-found");
        say(branch.tag, now === true ? words.step.needed : now === false ? words.step.not_needed : "");
        branch.it.classList.toggle("bench-taken", now === true);
      }
      first = false;
      return told;
    }

    /** Let a place be seen to which a link leads. */
    view.reveal = (target) => {
      if (!target) return;
      if (target.closest(".bench-other")) view.showOthers(true);
      for (const branch of branches) if (branch.inner.contains(target)) branch.byHand = true;
      show();
    };
    view.showOthers = (on) => {
      document.documentElement.classList.toggle(SHOWN, on);
    };
    view.showsOthers = () => document.documentElement.classList.contains(SHOWN);
    return view;
  }

  Putback.lines = { open, rowsOf };
})(window);
