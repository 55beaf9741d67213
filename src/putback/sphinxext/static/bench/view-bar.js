/*
 * The bar at the foot of the page: how far the job is, what is off now, where to go on. What is told once stands above
 * it until the next thing is told or somebody closes it.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { make, button, fill, say, set, mark, goTo, clock } = Putback.page;

  function open(job, words, bench, steps, openSheet) {
    const at = words.bar;
    let passes = null; // how many steps were ticked when what is told was told
    const number = (key) => (steps.get(key) ? steps.get(key).step.n : "");
    const done = make("span", { class: "bench-done" });
    const line = make("progress", { "aria-label": at.name, max: 1, value: 0 });
    const timers = make("span", { class: "bench-timers" });
    const offWords = make("span", {});
    const off = make("button", { type: "button", "aria-expanded": "false", "aria-controls": "bench-off", click: turn }, offWords);
    const next = button("", () => {
      const { next: key, nextBox } = bench.state();
      const found = steps.get(key);
      if (found) goTo(found.it, nextBox === null ? null : found.body.querySelectorAll(".grid input")[nextBox]);
    }, { class: "bench-next" });
    const sheet = button(at.sheet, openSheet);
    const said = make("div", { class: "bench-words", role: "status" });
    const closing = button(at.close, () => tell(""), { class: "bench-close" });
    const told = make("div", { class: "bench-told", hidden: true }, said, closing);
    const panel = make("section", { class: "bench-panel", id: "bench-off", hidden: true, tabindex: "-1", "aria-label": at.off_now });
    const bar = make("aside", { class: "bench-bar", "aria-label": at.name },
      panel, told, line,
      make("div", { class: "bench-row" },
        make("p", { class: "bench-job" }, make("strong", {}, job.title), " ", done, timers),
        make("div", { class: "bench-buttons" }, off, sheet, next)));
    document.body.append(bar);
    // What is brought into sight stands clear of the bar.
    new ResizeObserver(() => document.documentElement.style.setProperty("--bench-bar", `${bar.offsetHeight + 8}px`)).observe(bar);
    // Browsers bring what the keyboard leads to into the window, and not always above the bar. Under a finger nothing moves.
    document.addEventListener("focusin", ({ target }) => {
      if (Putback.page.going || !target.matches(":focus-visible")) return;
      const under = target.getBoundingClientRect().bottom + 8 - bar.getBoundingClientRect().top;
      if (under > 0 && !bar.contains(target) && !target.closest("dialog")) root.scrollBy({ top: under, behavior: "instant" });
    });
    bar.addEventListener("keydown", (event) => {
      if (event.key === "Escape" && !panel.hidden) {
        turn();
        off.focus();
      }
    });

    function turn() {
      panel.hidden = !panel.hidden;
      mark(off, "aria-expanded", !panel.hidden);
      shown(bench.state());
      if (!panel.hidden) panel.focus();
    }

    /**
     * Tell something; a screen reader hears it, whatever it reads now. What is `passing` goes away when somebody goes on;
     * nothing closes the rest.
     */
    function tell(text, passing) {
      passes = passing ? bench.state().done : null;
      set(told, "hidden", !text);
      said.replaceChildren();
      if (text) said.append(text);
    }

    function link(pattern, key) {
      const found = steps.get(key);
      if (!found) return null;
      return make("a", { href: `#${found.step.id}`, click: (event) => {
        event.preventDefault();
        Putback.reveal(found.it);
        goTo(found.it);
      } }, fill(pattern, { step: found.step.n }));
    }

    /** At which place of the next step one goes on, where it is ticked place by place. */
    function placeOf({ next: key, nextBox }) {
      const { boxes } = steps.get(key) ? steps.get(key).step : {};
      return boxes && nextBox !== null ? ` (${boxes[nextBox]})` : "";
    }

    /** How a thing stands, in words. */
    function standing(item) {
      const value = item.state || {};
      if (value.is === "out" && value.of === 1) return words.state.off;
      const pattern = words.state[value.is] || "";
      return fill(pattern, { n: value.n || 0, of: value.of || 0, at: value.at || "", loose: value.loose || 0 });
    }

    function row(item) {
      const name = item.count > 1 ? fill(at.pieces, { name: item.name, count: item.count }) : item.name;
      const places = item.state && item.state.places && item.state.places.length ? ` (${item.state.places.join(", ")})` : "";
      const more = [link(at.since, item.since), item.back ? link(item.kind === "equipment" ? at.away_at : at.back_at, item.back) : at.stays, item.may ? at.perhaps : null];
      const where = make("div", { class: "bench-where" }, ...more.filter((each) => each).map((each) => make("span", {}, each)));
      return make("li", {}, make("strong", {}, name + places), " ", make("span", { class: "bench-tag" }, standing(item)), where);
    }

    /** What goes back next stands first; what no step puts back, last. */
    function inTurn(off) {
      const turn = (item) => (item.back && steps.get(item.back) ? steps.get(item.back).index : Infinity);
      return off.slice().sort((one, other) => (turn(one) === turn(other) ? 0 : turn(one) - turn(other)));
    }

    function list(state) {
      const before = panel.scrollTop;
      const rows = inTurn(state.off).map(row);
      const skipped = state.skipped.map((key) => link("{step}", key)).filter((each) => each);
      panel.replaceChildren(
        make("div", { class: "bench-head" }, make("h2", {}, at.off_now),
          make("p", {}, state.off.length ? fill(at.goes_back, { count: state.goesBack }) : state.closed ? at.closed : at.none_off)),
        make("ul", { class: "bench-list" }, ...rows),
        make("p", {}, at.off_lead),
        ...(state.round && state.round.number ? [make("p", {}, fill(at.went_back, { step: number(state.round.back) })),
          make("p", {}, button(at.take_back, () => bench.takeBack()))] : []),
        ...(skipped.length ? [make("p", { class: "bench-skips" }, at.left_out, ...skipped.flatMap((each) => [" ", each]))] : []),
        button(at.close, () => {
          turn();
          off.focus();
        }));
      panel.scrollTop = before;
    }

    function shown(state) {
      if (passes !== null && passes !== state.done) tell("");
      say(done, fill(at.done, { done: state.done, of: state.of }));
      set(line, "max", Math.max(1, state.of));
      set(line, "value", state.done);
      say(offWords, fill(at.off, { count: state.goesBack }));
      say(next, state.next ? fill(at.next_step, { step: number(state.next) + placeOf(state) }) : at.no_next);
      set(next, "disabled", !state.next);
      const running = state.timers.map((key) => [key, state.steps[key].timer]).filter(([, timer]) => timer && timer.state === "running");
      say(timers, running.map(([key, timer]) => ` · ${fill(at.timer, { step: number(key), left: clock(timer.left) })}`).join(""));
      if (!panel.hidden) list(state);
    }

    return { shown, tell, number };
  }

  Putback.bar = { open };
})(window);
