/* Which machine is in front of the mechanic: chosen once, for all pages of the book. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { make, button, fill, say, set } = Putback.page;

  function open(job, words, bench, lines) {
    const at = words.machine;
    if (!job.options.length) return { shown() {} };
    const radios = new Map();
    const groups = job.options.map((option) => {
      const name = `bench-${option.key}`;
      const choice = (value, label, tell) => {
        const input = make("input", { type: "radio", name, change: () => bench.choose(option.key, value) });
        radios.set(`${option.key} ${value === null ? "" : value}`, input);
        return make("label", { class: "bench-choice" }, input,
          make("span", {}, label, tell ? make("span", { class: "bench-tell" }, tell) : null));
      };
      return make("fieldset", {},
        make("legend", {}, option.title),
        make("div", { class: "bench-choices" },
          ...option.choices.map((each) => choice(each.key, each.words, each.tell)), choice(null, at.unknown)));
    });
    const own = make("input", { type: "checkbox", change: () => bench.ownMachine(own.checked) });
    const show = make("input", { type: "checkbox", change: () => lines.showOthers(show.checked) });
    const hidden = make("p", { class: "bench-hidden" });
    const summary = make("summary", {}, make("span", { class: "bench-summary", role: "heading", "aria-level": "2" }));
    const showing = make("label", { class: "bench-check" }, show, make("span", {}, at.show));
    const block = make("details", { class: "bench-machine" }, summary,
      make("p", {}, at.lead), ...groups,
      make("label", { class: "bench-check" }, own, make("span", {}, at.own)),
      make("div", { class: "bench-folded" }, hidden, showing));
    const setUp = document.querySelector(".job .set-up");
    setUp.before(block);
    block.open = bench.state().options.some((option) => option.choice === null);

    function shown(state) {
      const chosen = [];
      for (const option of state.options) {
        const said = job.options.find((each) => each.key === option.key);
        const radio = radios.get(`${option.key} ${option.choice === null ? "" : option.choice}`);
        if (radio) set(radio, "checked", true);
        for (const each of said.choices) {
          if (option.choice === each.key) chosen.push(`${said.title}: ${each.words}`);
        }
      }
      say(summary.firstChild, chosen.length ? fill(at.summary, { choices: chosen.join(" · ") }) : at.title);
      set(own, "checked", Boolean(state.ownMachine));
      set(show, "checked", lines.showsOthers());
      const away = job.steps.filter((step) => (state.steps[step.key] || {}).why === "variant").length;
      say(hidden, fill(at.hidden, { steps: away, rows: lines.rows }));
      set(hidden.parentElement, "hidden", !away && !lines.rows);
    }

    return { shown };
  }

  Putback.machineView = { open };
})(window);
