/* What the tests of the bench page's machinery are written with. The same files run in node and in a browser. */
(function (root) {
  "use strict";
  const results = [];

  /** Try one thing; what it throws is written down. */
  root.check = function (name, run) {
    let error = null;
    try {
      run();
    } catch (thrown) {
      error = String((thrown && thrown.stack) || thrown);
    }
    results.push([name, error]);
  };

  /** Compare two values by what is in them. */
  root.same = function (found, expected, about) {
    const [one, other] = [sorted(found), sorted(expected)].map((value) => JSON.stringify(value));
    if (one !== other) throw new Error((about ? about + ": " : "") + "found " + one + " instead of " + other);
  };

  function sorted(value) {
    if (typeof value === "number" && !isFinite(value)) return String(value);
    if (value === undefined) return "undefined";
    if (typeof value !== "object" || value === null) return value;
    if (Array.isArray(value)) return value.map(sorted);
    return Object.keys(value).sort().map((key) => [key, sorted(value[key])]);
  }

  /** A storage like the browser's, which can be made to fail. */
  root.Shelf = class {
    constructor(room) {
      this.held = new Map();
      this.room = room === undefined ? Infinity : room;
      this.refuses = null;
    }

    get length() {
      this.maybe();
      return this.held.size;
    }

    maybe() {
      if (this.refuses) throw this.refuses;
    }

    key(index) {
      return [...this.held.keys()][index];
    }

    getItem(key) {
      this.maybe();
      return this.held.has(key) ? this.held.get(key) : null;
    }

    setItem(key, text) {
      this.maybe();
      let used = key.length + String(text).length;
      for (const [other, value] of this.held) if (other !== key) used += other.length + value.length;
      if (used > this.room) throw Object.assign(new Error("full"), { name: "QuotaExceededError", code: 22 });
      this.held.set(key, String(text));
    }

    removeItem(key) {
      this.maybe();
      this.held.delete(key);
    }
  };

  /** Numbers that look random and are the same each time (Park and Miller 1988, "minimal standard"). */
  root.dice = function (seed) {
    let state = seed % 2147483647 || 1;
    return function () {
      state = (state * 48271) % 2147483647;
      return state / 2147483647;
    };
  };

  root.outcome = () => results;
})(typeof window === "object" ? window : globalThis);
