/*
 * A small job as the page gets it: screws and a cover come off, in one of two machines a filter too; a gap is measured,
 * and measured again after it was set. Then all goes back, each screw by its own box.
 */
(function (root) {
  "use strict";
  const [NEVER, ALWAYS, RAW, FRESH, WRONG, WRONG_AGAIN] = [0, 1, 2, 3, 4, 5];
  const [OUT, ONE_OUT, IN, OFF] = [0, 1, 2, 3];

  function step(n, more) {
    const usual = { n, id: "job-step-" + n, key: "k" + n, set: ALWAYS, up: null, kind: "tick", verb: "act" };
    return Object.assign(usual, { boxes: null, branches: [], good: "", blanks: [], timer: null }, more);
  }

  root.example = function () {
    const gap = { role: "reading", box: null, units: [] };
    gap.units = [{ unit: "mm", limit: [0.2, 0.3, false, false] }, { unit: "in", limit: [0.008, 0.012, false, false] }];
    const steps = [
      step("1"),
      step("2"),
      step("3", { set: RAW }),
      step("4", { kind: "reading", blanks: [gap], branches: [{ words: "If not:", each: false }], good: "0.2 mm to 0.3 mm" }),
      step("4a", { up: [3, 0] }),
      step("4b", { up: [3, 0], kind: "back", to: 3 }),
      step("5", { set: RAW }),
      step("6"),
      step("7", { boxes: ["left", "right"] }),
      step("8", { timer: { seconds: 600, most: false, text: "10 min" } }),
      step("F1", { later: true }),
    ];
    const screws = [[8, [[ALWAYS, ONE_OUT, 0, 1]]], [9, [[ALWAYS, IN, 0, 1]]]];
    return {
      format: 1, guide: "small-engine", edition: "1", job: "gap", title: "Set the gap", language: "en-GB", decimal: ".",
      root: "../", digest: "0123456789abcdef", words: {},
      options: [{ key: "cooling", title: "Cooling", tell: "", choices: [{ key: "raw", words: "raw water" }, { key: "fresh", words: "fresh water" }] }],
      fixed: {},
      vars: [["o", 0], ["q", 0, 0], ["q", 0, 1], ["w", 1]],
      rows: [[0, 1, 0], [0, 0, 1], [1, 1, 0], [2, 1, 0]],
      built: ALWAYS,
      lines: [[ALWAYS, -1], ...steps.map((each, number) => [each.set, number])],
      sections: [ALWAYS, FRESH], follow: [NEVER], listed: { tools: [ALWAYS, RAW] },
      steps,
      moments: [[0], [1], [2], [3], [4], [5], [6], [7], [8, 0], [8, 1], [9]],
      questions: [{ step: 3, branch: 0, box: null }],
      values: [
        { is: "out", closed: false, n: 2, of: 2 }, { is: "out", closed: false, n: 1, of: 2 },
        { is: "in", closed: true }, { is: "off", closed: false, n: 1 },
      ],
      things: [
        { key: "screws", name: "screws", kind: "fastener", count: 2, rows: [[0, [[ALWAYS, OUT, 2]]], ...screws], laps: { 1: screws } },
        { key: "cover", name: "cover", kind: "part", count: 1, rows: [[1, [[ALWAYS, OFF, 1]]], [7, [[ALWAYS, IN]]]], laps: { 1: [[7, [[ALWAYS, IN]]]] } },
        { key: "filter", name: "filter", kind: "part", count: 1, rows: [[2, [[RAW, OFF, 1]]], [6, [[RAW, IN]]]], laps: { 1: [[6, [[RAW, IN]]]] } },
      ],
      back: [[0, 5, WRONG, 1, ALWAYS, 3], [1, 5, WRONG_AGAIN, 1, ALWAYS, 3]],
      joins: [],
      counts: [
        { things: [0], set: ALWAYS, branch: false, out: 2, back: 2, new: 2, varies: false },
        { things: [1], set: ALWAYS, branch: false, out: 1, back: 1, new: 0, varies: false },
        { things: [2], set: RAW, branch: false, out: 1, back: 1, new: 0, varies: false },
      ],
      settings: [],
      blanks: ["sign-off-1", "sign-off-2"],
    }; // prettier-ignore
  };

  /** A machine that keeps what a page writes, with a clock; pages are opened on it. */
  root.Tablet = class {
    constructor() {
      this.shelf = new Shelf();
      this.time = 1764270000000;
      this.random = dice(7);
    }

    /** Open the page of a job; `tab` is a storage of this tab alone. */
    open(job, more) {
      const env = { storage: () => this.shelf, now: () => this.time, folder: "file:///guide/", random: this.random };
      const page = Putback.session.open(job || example(), Object.assign(env, more));
      page.notices = [];
      page.subscribe((state, notices) => page.notices.push(...notices));
      return page;
    }
  };
})(typeof window === "object" ? window : globalThis);
