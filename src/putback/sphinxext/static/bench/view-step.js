/* A step: its box, the boxes of its places, its readings with what they mean, its answers, its timer. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { make, button, fill, say, set, mark, clock, hour } = Putback.page;
  const PAUSE = 700; // ms without a key after which a reading is judged aloud

  /** Whether numbers say which branch follows; else somebody has to. */
  function judges(step) {
    return step.blanks.some((blank) => (blank.units || []).some((unit) => unit.limit || unit.branches));
  }

  function open(job, words, bench, steps, onPause) {
    const views = new Map();
    const at = words.step;
    let typing = null;

    function box(view) {
      view.box = view.it.querySelector(":scope > .tick > input");
      view.places = [...view.body.querySelectorAll(".grid input")];
      if (view.box) view.box.addEventListener("change", () => bench.tick(view.key, view.box.checked));
      view.places.forEach((place, index) => {
        place.addEventListener("change", () => bench.box(view.key, index, place.checked));
      });
    }

    function reading(view, input, index) {
      const blank = view.step.blanks[index];
      const units = blank.units || [];
      const verdict = make("p", { class: "bench-verdict" });
      const one = { input, blank, verdict, choice: null, limit: null };
      const holder = input.closest(".blank");
      if (units.length > 1) {
        const printed = holder.querySelector(".unit");
        const name = holder.querySelector(".blank-label").textContent;
        one.choice = make("select", { class: "unit", "aria-label": fill(at.unit, { label: name }), change: tell },
          ...units.map((unit) => make("option", { value: unit.unit }, unit.shown || unit.unit)));
        if (printed) printed.remove();
        holder.append(one.choice);
      }
      holder.append(verdict);
      function tell() {
        bench.read(view.key, index, input.value, one.choice ? one.choice.value : (units[0] || {}).unit);
      }
      input.addEventListener("input", () => {
        clearTimeout(typing && typing.timer);
        typing = { key: view.key, timer: setTimeout(settle, PAUSE) };
        tell();
      });
      input.addEventListener("change", settle);
      return one;
    }

    /** What is typed counts from its first letter, but it is not judged aloud before the hand rests. */
    function settle() {
      if (!typing) return;
      clearTimeout(typing.timer);
      typing = null;
      onPause();
    }

    /** Buttons for what no number says: as it should be, or what else; at each place where that is asked for each. */
    function answers(view) {
      const { step } = view;
      view.answers = [];
      if (!step.branches.some((branch) => branch.words) || judges(step)) return;
      const asked = job.questions.filter((question) => question.step === view.index).map((question) => question.box);
      const several = step.branches.length > 1;
      const options = [["good", at.good], ...step.branches.map((each, k) => [k, several ? each.words.replace(/:\s*$/, "") : at.bad])];
      for (const box of new Set(asked)) {
        const place = box === null || !step.boxes ? "" : step.boxes[box];
        const buttons = options.map(([what, label]) => {
          const press = () => {
            const again = pressed(what, answerAt(bench.state(), view, box));
            const keeps = what !== "good" && step.branches[what].each; // pressed once more, it says so itself
            bench.answer(view.key, again && !keeps ? null : what, box === null ? undefined : box);
          };
          return { what, it: button(label, press, { "aria-pressed": "false" }) };
        });
        view.answers.push({ box, buttons });
        const name = fill(at.answers, { step: step.n }) + (place ? `: ${place}` : "");
        view.body.append(make("div", { class: "bench-answers", role: "group", "aria-label": name },
          place ? make("strong", {}, place) : null, ...buttons.map((each) => each.it)));
      }
    }

    const answerAt = (state, view, box) =>
      ((state.steps[view.key] || {}).answers || []).find((each) => each.box === box) || { branches: null };

    function pressed(what, { branches }) {
      return branches !== null && (what === "good" ? !branches.length : branches.includes(what));
    }

    function timer(view) {
      const { timer } = view.step;
      if (!timer) return;
      view.clock = make("span", { class: "bench-clock" });
      view.start = button(fill(timer.most ? at.start_limit : at.start, { time: timer.text }), () => bench.startTimer(view.key));
      view.stop = button(at.stop, () => bench.stopTimer(view.key));
      view.timer = make("div", { class: "bench-timer" }, view.clock, view.start, view.stop);
      view.body.append(view.timer);
    }

    for (const [key, { index, step, it, body }] of steps) {
      const view = { key, index, step, it, body, timer: null };
      box(view);
      // Only those that the data knows; the others are kept like the lines of the sign-off.
      const lines = [...body.querySelectorAll(".blank input")].slice(0, step.blanks.length);
      view.readings = lines.map((input, index) => reading(view, input, index));
      answers(view);
      timer(view);
      view.again = make("p", { class: "bench-again", hidden: true }, at.again);
      body.prepend(view.again);
      views.set(key, view);
    }

    function judged(one, now) {
      const is = now ? now.is : "empty";
      const unit = (one.blank.units || []).find((each) => each.unit === now.unit);
      const limit = unit && unit.words ? unit.words : one.step.good;
      const said = {
        good: at.verdict_good,
        low: limit ? fill(at.verdict_low, { limit }) : at.verdict_out,
        high: limit ? fill(at.verdict_high, { limit }) : at.verdict_out,
        outside: at.verdict_out,
        unclear: at.unclear,
        garbage: at.garbage,
        unit: at.wrong_unit,
      }[is];
      say(one.verdict, said || "");
      mark(one.verdict, "data-is", said ? (is === "good" ? "good" : "bad") : null);
      mark(one.input, "aria-invalid", is === "garbage" || is === "unit" || is === "unclear" ? "true" : null);
    }

    function showTimer(view, now) {
      const running = now.timer && now.timer.state === "running";
      const over = now.timer && now.timer.state === "over";
      set(view.start, "hidden", Boolean(running));
      set(view.stop, "hidden", !running && !over);
      mark(view.timer, "data-state", running || over ? now.timer.state : null);
      if (!now.timer) return say(view.clock, "");
      const values = { left: clock(now.timer.left), end: hour(now.timer.ends) };
      const pattern = over ? at.over : now.timer.most ? at.limit_running : at.running;
      return say(view.clock, fill(pattern, values));
    }

    function shown(state) {
      for (const [key, view] of views) {
        const now = state.steps[key];
        if (!now) continue;
        if (view.box) set(view.box, "checked", now.ticked);
        view.places.forEach((place, index) => {
          set(place, "checked", Boolean(now.boxes[index]));
          set(place.parentElement, "hidden", (now.boxesHere || [])[index] === "no");
        });
        view.it.classList.toggle("bench-ticked", now.ticked);
        view.it.classList.toggle("bench-skipped", now.skipped);
        mark(view.it, "aria-current", state.next === key ? "step" : null);
        set(view.again, "hidden", !now.again || now.ticked);
        view.readings.forEach((one, index) => {
          const read = now.readings[index] || { text: "", is: "empty" };
          one.step = view.step;
          const worked = typeof read.worked === "number" ? String(read.worked) : "";
          set(one.input, "placeholder", job.decimal === "," ? worked.replace(".", ",") : worked);
          if (document.activeElement !== one.input) set(one.input, "value", read.text || "");
          if (one.choice && read.unit) set(one.choice, "value", read.unit);
          if (!typing || typing.key !== key) judged(one, read);
        });
        for (const { box, buttons } of view.answers) {
          const given = answerAt(state, view, box);
          for (const { what, it } of buttons) mark(it, "aria-pressed", String(pressed(what, given)));
        }
        if (view.timer) showTimer(view, now);
      }
    }

    return { shown, typing: () => (typing ? typing.key : null), settle };
  }

  Putback.atStep = { open };
})(window);
