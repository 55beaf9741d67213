(function () {
  "use strict";
  const names = (page) => page.sheets().map((each) => each.name).sort();

  check("each person has a sheet of their own", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    page.tick("k1", true);
    page.nameSheet(page.state().sheet.id, "Ada");
    tablet.time += 5000;
    page.newSheet("Ben");
    same([page.state().done, page.state().sheet.name], [0, "Ben"]);
    page.tick("k2", true);
    same(names(page), ["Ada", "Ben"]);
    const [ben, ada] = page.sheets();
    same([ben.name, ben.done, ada.done, ada.same], ["Ben", 1, 1, true]);
    page.openSheet(ada.id);
    same([page.state().steps.k1.ticked, page.state().steps.k2.ticked], [true, false]);
    same(tablet.open().state().sheet.name, "Ada");
    same(page.notices.filter((each) => each.code === "sheet").map((each) => each.name), ["Ben", "Ada"]);
  });

  check("a new sheet is there before anything is ticked on it", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    page.tick("k1", true);
    page.newSheet("");
    const { id } = page.state().sheet;
    const again = tablet.open();
    same([again.state().sheet.id, again.state().done, again.sheets().length], [id, 0, 2]);
  });

  check("a tab remembers which sheet was open in it", function () {
    const tablet = new Tablet();
    const [left, right] = [new Shelf(), new Shelf()];
    const page = tablet.open(null, { session: () => left });
    page.nameSheet(page.state().sheet.id, "Ada");
    const other = tablet.open(null, { session: () => right });
    other.newSheet("Ben");
    other.tick("k1", true);
    same(tablet.open(null, { session: () => left }).state().sheet.name, "Ada");
    same(tablet.open(null, { session: () => right }).state().sheet.name, "Ben");
  });

  check("a sheet that is put away is kept, with the machine that it was worked on", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    page.choose("cooling", "raw");
    page.tick("k1", true);
    const { id } = page.state().sheet;
    page.putAway(id, true);
    same(page.state().sheet.away, true);
    page.newSheet("");
    page.choose("cooling", "fresh");
    page.openSheet(id);
    same([page.state().options[0].choice, page.state().steps.k1.ticked], ["raw", true]);
    page.putAway(id, false);
    same(page.state().sheet.away, false);
  });

  check("a sheet that is dropped is gone, and the newest other one is open", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    page.nameSheet(page.state().sheet.id, "Ada");
    page.newSheet("Ben");
    page.tick("k1", true);
    page.dropSheet(page.state().sheet.id);
    same([page.state().sheet.name, names(page), page.state().done], ["Ada", ["Ada"], 0]);
    page.dropSheet(page.state().sheet.id);
    same([page.state().sheet.name, page.state().done], ["", 0]);
    page.openSheet("nothing");
    page.nameSheet("nothing", "x");
    page.putAway("nothing", true);
    same(names(page), [""]);
  });

  check("a sheet that cannot be read is left where it is", function () {
    const spoilt = [() => "{", () => "null", () => '{"format":"putback-bench-record","version":99}', (text) => text.replace('"gap"', '"other"')];
    for (const spoil of spoilt) {
      const tablet = new Tablet();
      tablet.open().tick("k1", true);
      const key = [...tablet.shelf.held.keys()].find((each) => each.includes("|sheet|"));
      const text = spoil(tablet.shelf.held.get(key));
      tablet.shelf.held.set(key, text);
      const again = tablet.open();
      same(again.state().done, 0);
      again.tick("k2", true);
      same([tablet.shelf.held.get(key), tablet.open().state().done], [text, 1]);
    }
  });

  check("two tabs lose nobody's ticks, and the newer mark wins", function () {
    const tablet = new Tablet();
    const [one, other] = [tablet.open(), tablet.open()];
    one.tick("k1", true);
    tablet.time += 10;
    other.tick("k2", true);
    same([one.state().sheet.id === other.state().sheet.id, other.state().steps.k1.ticked], [true, true]);
    const key = [...tablet.shelf.held.keys()].find((each) => each.includes("|sheet|"));
    one.heard(key);
    same([one.state().steps.k2.ticked, one.notices[one.notices.length - 1]], [true, { code: "other-tab" }]);
    tablet.time += 10;
    one.tick("k2", false);
    other.heard(key);
    same(other.state().steps.k2.ticked, false);
    other.heard("something|else");
    other.heard(null);
  });

  check("a tab that was overwritten writes its ticks again", function () {
    const tablet = new Tablet();
    const [one, other] = [tablet.open(), tablet.open()];
    one.tick("k1", true);
    const key = [...tablet.shelf.held.keys()].find((each) => each.includes("|sheet|"));
    other.heard(key);
    const old = tablet.shelf.held.get(key);
    other.tick("k2", true);
    // Both wrote at once: what the first wrote is over the second's.
    tablet.shelf.held.set(key, old);
    other.heard(key);
    one.heard(key);
    same([one.state().steps.k2.ticked, tablet.open().state().steps.k2.ticked], [true, true]);
  });

  check("a choice in one tab is heard in the other", function () {
    const tablet = new Tablet();
    const [one, other] = [tablet.open(), tablet.open()];
    one.choose("cooling", "raw");
    other.heard([...tablet.shelf.held.keys()].find((each) => each.endsWith("|machine")));
    same(other.state().options[0].choice, "raw");
  });

  check("a folder's sheets stay in it", function () {
    const tablet = new Tablet();
    tablet.open().tick("k1", true);
    tablet.open().choose("cooling", "raw");
    const other = tablet.open(null, { folder: "file:///copy/" });
    same([other.state().done, other.state().options[0].choice], [0, null]);
  });

  check("a changed guide keeps the ticks of steps that are the same, and tells which are set aside, once", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    for (const key of ["k1", "k2", "k3"]) page.tick(key, true);
    page.read("k4", 0, "0.25");
    const changed = () => {
      const job = example();
      job.digest = "another";
      job.steps[0].n = "1b";
      job.steps[1].key = "changed";
      return job;
    };
    const next = tablet.open(changed());
    same(next.notices, [{ code: "edition", kept: 3, lost: 1 }]);
    same(next.state().edition, { kept: 3, lost: 1, numbers: ["2"] });
    same(["k1", "changed", "k3"].map((key) => next.state().steps[key].ticked), [true, false, true]);
    same(tablet.open(changed()).notices, []);
    same(tablet.open().state().steps.k2.ticked, true);
  });

  check("full or denied, the page works and says that nothing is kept", function () {
    const tablet = new Tablet();
    const page = tablet.open();
    tablet.shelf.room = 10;
    page.tick("k1", true);
    same([page.state().kept, page.state().done, page.notices], ["full", 1, [{ code: "kept-not", why: "full" }]]);
    tablet.shelf.room = Infinity;
    page.tick("k2", true);
    same([page.state().kept, page.notices[1], tablet.open().state().done], ["yes", { code: "kept" }, 2]);
    const denied = tablet.open(null, { storage: () => null });
    denied.tick("k1", true);
    denied.newSheet("Ben");
    denied.tick("k2", true);
    same([denied.state().kept, denied.sheets().length, denied.state().done], ["no", 2, 1]);
  });
})();
