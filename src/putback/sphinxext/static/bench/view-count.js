/* What is counted at the end, what is signed, and boxes and lines to write on that belong to no step. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { make, fill, say, set } = Putback.page;

  function open(job, words, bench, steps) {
    const at = words.step;
    const page = document.querySelector(".job");
    const rows = [...Putback.lines.rowsOf(job, page, "count-back")].slice(0, job.counts.length);
    const mine = new Set();
    const names = new Map();
    for (const [key, { step, it, body }] of steps) {
      it.querySelectorAll(":scope > .tick > input").forEach((box) => mine.add(box));
      body.querySelectorAll(".grid input").forEach((box) => mine.add(box));
      body.querySelectorAll(".blank input").forEach((input, index) =>
        index < step.blanks.length ? mine.add(input) : names.set(input, `${key}-${index}`));
    }
    const counts = rows.map((row, index) => {
      const box = row.querySelector("input[type=checkbox]");
      box.addEventListener("change", () => bench.counted(index, box.checked));
      mine.add(box);
      const told = make("p", { class: "bench-count" });
      const differs = make("p", { class: "bench-count" });
      row.cells[0].append(told, differs);
      return { row, box, told, differs };
    });
    const signed = [...page.querySelectorAll(".sign-off input")];
    const others = [...page.querySelectorAll(":is(.steps, table, .sign-off) input")].filter((input) => !mine.has(input));
    const kept = others.map((input, index) => {
      const sign = signed.indexOf(input);
      const ticks = input.type === "checkbox";
      const place = `${ticks ? "box" : "line"}-${index + 1}`;
      const name = names.get(input) || (sign >= 0 && job.blanks[sign]) || place;
      input.addEventListener(ticks ? "change" : "input", () => bench.blank(name, ticks ? (input.checked ? "x" : "") : input.value));
      return { input, name, ticks };
    });

    function shown(state) {
      state.count.forEach((count, index) => {
        const one = counts[index];
        if (!one) return;
        set(one.box, "checked", Boolean(count.counted));
        const values = { out: count.out, back: count.back, new: count.new };
        const any = count.out || count.back || count.new;
        say(one.told, any ? fill(at.by_ticks, values) : "");
        say(one.differs, any && !count.same ? at.differs : "");
        one.row.classList.toggle("bench-differs", Boolean(any) && !count.same);
      });
      for (const { input, name, ticks } of kept) {
        const text = state.blanks[name] || "";
        if (ticks) set(input, "checked", Boolean(text));
        else if (document.activeElement !== input) set(input, "value", text);
      }
    }

    return { shown };
  }

  Putback.count = { open };
})(window);
