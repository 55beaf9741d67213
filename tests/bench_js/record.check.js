(function () {
  "use strict";
  const { fresh, mark, read, written, fromText, copy, merge, held, stepOf } = Putback.record;
  const job = { guide: "g", job: "j", title: "T", digest: "d" };
  const made = () => fresh(job, "abcd", 1000);

  check("what is written is read again", function () {
    const record = made();
    mark(record, "ticks", "k1", true, 1001);
    mark(record, "readings", "k4/0@2", { text: "\u2028</script>", unit: "N\u00b7m" }, 1002);
    mark(record, "answers", "k4", [0, 2], 1003);
    mark(record, "timers", "k8", { from: 5, seconds: 6 }, 1004);
    mark(record, "about", "name", "Zo\u00eb", 1005);
    record.numbers.k1 = "1";
    same(fromText(written(record)), { ok: true, record });
    same(fromText("\ufeff" + written(record)).ok, true);
  });

  check("marks get later and later, whatever the clock says", function () {
    const record = made();
    for (const now of [5000, 4000, 4000, 6000]) mark(record, "ticks", "k" + now + Object.keys(record.marks.ticks).length, true, now);
    same(Object.values(record.marks.ticks).map((each) => each.at), [5000, 5001, 5002, 6000]);
  });

  check("of two records, the newer mark of each wins, whoever merges", function () {
    const [one, other] = [made(), made()];
    mark(one, "ticks", "k1", true, 2000);
    mark(other, "ticks", "k2", true, 2500);
    mark(one, "ticks", "k3", true, 2600);
    mark(other, "ticks", "k3", false, 2700);
    const [left, right] = [copy(one), copy(other)];
    same([merge(left, other), merge(right, one)], [true, true]);
    same(left.marks, right.marks);
    same(["k1", "k2", "k3"].map((key) => read(left, "ticks", key)), [true, true, false]);
    same([merge(left, right), merge(left, other)], [false, false]);
  });

  check("merging is the same in any order, for random records", function () {
    const random = dice(3);
    for (let turn = 0; turn < 300; turn += 1) {
      const three = [0, 1, 2].map(function () {
        const record = made();
        for (let count = 0; count < 6; count += 1) {
          record.marks.ticks["k" + Math.floor(random() * 4)] = { is: random() < 0.5, at: Math.floor(random() * 3) };
          record.marks.blanks["b"] = { is: random() < 0.5 ? "x" : "y", at: Math.floor(random() * 3) };
        }
        return record;
      });
      const join = (order) => order.reduce((all, place) => (merge(all, three[place]), all), made()).marks;
      const first = join([0, 1, 2]);
      for (const order of [[2, 1, 0], [1, 0, 2], [0, 0, 2, 1, 2]]) same(join(order), first, "turn " + turn);
    }
  });

  check("ticks and readings of steps that are gone are counted apart", function () {
    const record = made();
    mark(record, "ticks", "k1@2", true, 1);
    mark(record, "ticks", "k2/3", true, 2);
    mark(record, "ticks", "k3", false, 3);
    mark(record, "readings", "k5/0", { text: "7", unit: "" }, 4);
    mark(record, "readings", "k6/0", { text: " ", unit: "" }, 4);
    same(held(record, (key) => key === "k1" || key === "k5"), { kept: ["k1", "k5"], lost: ["k2"] });
    same(["k", "k~2/1@3", "k@1", "k/0"].map(stepOf), ["k", "k~2", "k", "k"]);
  });

  const good = () => JSON.parse(written(made()));
  const BROKEN = [
    ["version", (data) => (data.version = "1")], ["version", (data) => (data.version = 0.5)], ["guide", (data) => (data.guide = 5)],
    ["job", (data) => delete data.job], ["title", (data) => (data.title = "x".repeat(501))], ["digest", (data) => (data.digest = null)],
    ["id", (data) => (data.id = "../../x")], ["id", (data) => (data.id = "__proto__")], ["id", (data) => (data.id = ["abcd"])],
    ["made", (data) => (data.made = -1)], ["made", (data) => (data.made = 1e300)], ["changed", (data) => (data.changed = "now")],
    ["marks", (data) => (data.marks = [])], ["marks", (data) => (data.marks = null)], ["marks.ticks", (data) => (data.marks.ticks = 7)],
    ["marks.ticks", (data) => (data.marks.ticks = { k: true })], ["marks.ticks", (data) => (data.marks.ticks = { k: { is: "yes", at: 1 } })],
    ["marks.ticks", (data) => (data.marks.ticks = { k: { is: true } })], ["marks.ticks", (data) => (data.marks.ticks = { k: { is: true, at: 1.5 } })],
    ["marks.ticks", (data) => (data.marks.ticks = { ["k".repeat(501)]: { is: true, at: 1 } })],
    ["marks.readings", (data) => (data.marks.readings = { k: { is: { text: 5, unit: "" }, at: 1 } })],
    ["marks.readings", (data) => (data.marks.readings = { k: { is: { text: "x".repeat(501), unit: "" }, at: 1 } })],
    ["marks.answers", (data) => (data.marks.answers = { k: { is: ["0"], at: 1 } })],
    ["marks.answers", (data) => (data.marks.answers = { k: { is: new Array(99).fill(0), at: 1 } })],
    ["marks.timers", (data) => (data.marks.timers = { k: { is: { from: 1, seconds: -1 }, at: 1 } })],
    ["marks.choices", (data) => (data.marks.choices = { k: { is: 5, at: 1 } })],
    ["marks.about", (data) => (data.marks.about = { name: { is: {}, at: 1 } })],
    ["numbers", (data) => (data.numbers = { k: 5 })], ["numbers", (data) => (data.numbers = [])],
  ]; // prettier-ignore

  check("what is broken is refused, with its place", function () {
    for (const [where, spoil] of BROKEN) {
      const data = good();
      spoil(data);
      same(fromText(JSON.stringify(data)), { ok: false, code: "broken", where }, String(spoil));
    }
  });

  check("what is no record has a code that says why", function () {
    const code = (text, longest) => fromText(text, longest).code;
    same([code(""), code("  \n"), code(undefined), code({})], ["empty", "empty", "empty", "empty"]);
    same([code("{"), code("NaN"), code("<html>"), code("[".repeat(200000))], ["not-json", "not-json", "not-json", "not-json"]);
    same([code("[]"), code("null"), code("5"), code('"x"'), code("{}"), code('{"format":"other"}')], new Array(6).fill("not-a-record"));
    same(code(JSON.stringify({ ...good(), version: 2 })), "newer-version");
    same(code("x".repeat(11), 10), "too-big");
  });

  check("names that mean something to the language mean nothing here", function () {
    const text = '{"format":"putback-bench-record","version":1,"guide":"g","job":"j","title":"T","digest":"d","id":"abcd","made":1,"changed":1,' +
      '"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}},"marks":{"__proto__":{"polluted":1},"ticks":{"__proto__":{"is":true,"at":1},' +
      '"constructor":{"is":true,"at":2},"toString":{"is":true,"at":3},"hasOwnProperty":{"is":true,"at":4}},"unknown":{"x":{"is":1,"at":1}}},"numbers":{"__proto__":"7"}}'; // prettier-ignore
    const { ok, record } = fromText(text);
    same([ok, {}.polluted, Object.keys(record.marks.ticks).length, record.marks.unknown], [true, undefined, 4, undefined]);
    same([read(record, "ticks", "__proto__"), read(record, "ticks", "valueOf")], [true, undefined]);
    same(Object.getPrototypeOf(record.marks.ticks), null);
    merge(made(), record);
    same(Object.keys(Object.prototype), []);
  });
})();
