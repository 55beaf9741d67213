(function () {
  "use strict";

  function worked() {
    const tablet = new Tablet();
    const page = tablet.open();
    page.choose("cooling", "raw");
    for (const key of ["k1", "k2"]) page.tick(key, true);
    page.read("k4", 0, "0,4");
    page.nameSheet(page.state().sheet.id, "J\u00f6rg Wei\u00df / <b>");
    return { tablet, page };
  }

  check("a record goes out as a file and comes in elsewhere, whole", function () {
    const { page } = worked();
    const file = page.exported();
    same(/^putback-small-engine-gap-jorg-weiss-b-2025-11-2[78]\.json$/.test(file.name), true, file.name);
    same(file.type, "application/json");
    const other = new Tablet().open();
    const found = other.examine(file.text);
    same([found.ok, found.same, found.kept, found.lostCount, found.twin, found.name], [true, true, 3, 0, null, "J\u00f6rg Wei\u00df / <b>"]);
    same([other.state().done, other.take(found, { as: "own" })], [0, { ok: true }]);
    const parts = ({ steps, off, done, of, blanks, count, round }) => ({ steps, off, done, of, blanks, count, round });
    same(parts(other.state()), parts(page.state()));
    same([other.state().options[0].choice, other.state().ownMachine], ["raw", true]);
  });

  check("a sheet that is here already becomes a sheet of its own, or is merged", function () {
    const { page, tablet } = worked();
    const { text } = page.exported();
    tablet.time += 1000;
    page.tick("k2", false);
    page.tick("k3", true);
    const found = page.examine(text);
    same([found.twin.id, found.equal], [page.state().sheet.id, false]);
    page.take(found, { as: "own" });
    same([page.sheets().length, page.state().steps.k2.ticked, page.state().steps.k3.ticked], [2, true, false]);
    page.openSheet(found.twin.id);
    page.take(page.examine(text), { as: "merge" });
    same([page.sheets().length, page.state().steps.k2.ticked, page.state().steps.k3.ticked], [2, false, true]);
    same([page.examine(page.exported().text).equal, page.state().steps.k1.ticked], [true, true]);
  });

  check("a file of another guide, job or edition says so", function () {
    const { page } = worked();
    const elsewhere = (more) => new Tablet().open(Object.assign(example(), more));
    const { text } = page.exported();
    const parts = ({ ok, code, guide, job, title }) => [ok, code, guide, job, title];
    same(parts(elsewhere({ guide: "other" }).examine(text)), [false, "other-guide", "small-engine", "gap", "Set the gap"]);
    same(parts(elsewhere({ job: "other" }).examine(text)), [false, "other-job", "small-engine", "gap", "Set the gap"]);
    const job = example();
    job.steps[1].key = "changed";
    const changed = elsewhere({ digest: "another", steps: job.steps });
    const found = changed.examine(text);
    same([found.ok, found.same, found.kept, found.lostCount, found.lost], [true, false, 2, 1, ["2"]]);
    changed.take(found, { as: "own" });
    same(changed.state().edition, { kept: 2, lost: 1, numbers: ["2"] });
  });

  check("without room a file is refused, and nothing is changed", function () {
    const { page } = worked();
    const tablet = new Tablet();
    const other = tablet.open();
    other.tick("k1", true);
    const before = [JSON.stringify(other.state()), JSON.stringify([...tablet.shelf.held])];
    tablet.shelf.room = before[1].length;
    same(other.take(other.examine(page.exported().text), { as: "own" }), { ok: false, code: "full" });
    same([JSON.stringify(other.state()), JSON.stringify([...tablet.shelf.held])], before);
    same(other.take({ ok: false }, { as: "own" }).ok, false);
    same(other.take(null, {}).ok, false);
  });

  /** Return a value that a hostile file may have anywhere. */
  function odd(random, depth) {
    const simple = [null, true, 0, -1, 1e308, "", "x", "__proto__", "<script>", "x".repeat(2000), 8.64e15, 1.5, "\u0000", [], {}];
    const pick = Math.floor(random() * (simple.length + (depth > 3 ? 0 : 3)));
    if (pick < simple.length) return simple[pick];
    if (pick === simple.length) return [odd(random, depth + 1), odd(random, depth + 1)];
    const made = {};
    for (const name of ["is", "at", "text", "constructor", "k1", "k4/0"]) if (random() < 0.5) made[name] = odd(random, depth + 1);
    return made;
  }

  /** Put something odd somewhere into a value. */
  function spoiled(value, random) {
    if (random() < 0.12 || typeof value !== "object" || value === null) return odd(random, 0);
    const names = Object.keys(value);
    if (!names.length || random() < 0.15) {
      const name = ["__proto__", "constructor", "k9", "ticks", "toString", ""][Math.floor(random() * 6)];
      Object.defineProperty(value, name, { value: odd(random, 0), enumerable: true, configurable: true, writable: true });
      return value;
    }
    const name = names[Math.floor(random() * names.length)];
    value[name] = spoiled(value[name], random);
    return value;
  }

  check("3,000 spoiled files raise nothing, change nothing, and what is taken can be shown", function () {
    const { page } = worked();
    page.tick("k4a", true);
    page.tick("k4b", true);
    page.startTimer("k8");
    const good = page.exported().text;
    const random = dice(20261127);
    const tally = { refused: 0, taken: 0 };
    for (let turn = 0; turn < 3000; turn += 1) {
      const tablet = new Tablet();
      const other = tablet.open();
      const before = JSON.stringify([other.state(), [...tablet.shelf.held]]);
      let data = JSON.parse(good);
      for (let times = 1 + Math.floor(random() * 3); times > 0; times -= 1) data = spoiled(data, random);
      let text = JSON.stringify(data) || "";
      if (random() < 0.2) text = text.slice(0, Math.floor(random() * text.length)) + ["", "}", "\u0000", "NaN"][Math.floor(random() * 4)];
      const found = other.examine(text);
      same(JSON.stringify([other.state(), [...tablet.shelf.held]]), before, "turn " + turn);
      if (!found.ok) {
        tally.refused += 1;
        same(typeof found.code, "string");
        continue;
      }
      tally.taken += 1;
      same(other.take(found, { as: "own" }).ok, true);
      other.tick("k1", true);
      other.tick("k4b", true);
      same(other.state().steps.k1.ticked, true, text);
      same(tablet.open().state().steps.k1.ticked, true, text);
    }
    same(Object.keys(Object.prototype), []);
    same([tally.refused > 500, tally.taken > 200], [true, true], JSON.stringify(tally));
  });

  check("a file that is too big or too deep is refused", function () {
    const page = new Tablet().open();
    same(page.examine("x".repeat(1000001)).code, "too-big");
    same(page.examine('{"a":'.repeat(150000)).code, "not-json");
    const deep = '{"format":"putback-bench-record","version":1,"marks":' + "[".repeat(100000) + "]".repeat(100000) + "}";
    same(["broken", "not-json"].includes(page.examine(deep).code), true);
    same(page.examine('{"marks":{"ticks":{' + new Array(3000).fill(0).map((none, place) => '"k' + place + '":1').join(",") + "}}}").code, "not-a-record");
  });
})();
