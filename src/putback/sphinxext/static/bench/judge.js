/* What a person typed, as a number, and whether it is within a limit. What is not clearly a number is never good. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});

  const LONGEST = 24;
  const SPACES = /[\s\u00a0\u2009\u202f]+/g;
  const PLAIN = /^[-+]?(\d+([.,]\d*)?|[.,]\d+)$/;

  /** Return the number, null when it is none, or undefined when it can be read in two ways. */
  function parse(text, decimal) {
    let typed = String(text).trim();
    if (!typed || typed.length > LONGEST) return null;
    typed = typed.replace(/[\u2212\u2013]/g, "-").replace(/^([-+])\s+/, "$1");
    // Spaces may only stand between groups of three digits.
    if (/[\s\u00a0\u2009\u202f]/.test(typed)) {
      if (!/^[-+]?\d{1,3}([\s\u00a0\u2009\u202f]\d{3})+([.,]\d+)?$/.test(typed)) return null;
      typed = typed.replace(SPACES, "");
    }
    if (/[.,].*[.,]/.test(typed)) typed = ungrouped(typed);
    if (typed === null || !PLAIN.test(typed)) return null;
    const sign = decimal === "," ? "," : ".";
    // "1,234" is about one where a comma is the decimal sign, and above a thousand where it stands between groups.
    const grouped = /^[-+]?[1-9]\d{0,2}([.,])\d{3}$/.exec(typed);
    if (grouped && grouped[1] !== sign) return undefined;
    return Number(typed.replace(",", "."));
  }

  /** Return a number that has more than one sign between its digits without those between groups, or null. */
  function ungrouped(typed) {
    const found = /^([-+]?)(\d{1,3}(?:\.\d{3})+)(?:,(\d+))?$|^([-+]?)(\d{1,3}(?:,\d{3})+)(?:\.(\d+))?$/.exec(typed);
    if (!found) return null;
    const digits = (found[2] || found[5]).replace(/[.,]/g, "");
    const rest = found[3] || found[6];
    return (found[1] || found[4] || "") + digits + (rest ? "." + rest : "");
  }

  /** Return what was typed without a unit after it, and that unit ("" for none). */
  function parted(text, names) {
    // "900 1/min": a blank stands before a unit that begins with a digit.
    const typed = String(text).trim();
    const ends = names.find((name) => /^\d/.test(name) && typed.endsWith(` ${name}`));
    if (ends) return [typed.slice(0, -ends.length), ends];
    const found = /^\s*([-+\u2212\u2013]?[\d.,\s\u00a0\u2009\u202f]*\d[.,]?)\s*([^\d\s].*?)?\s*$/.exec(String(text));
    return found ? [found[1], (found[2] || "").replace(SPACES, " ")] : [String(text), ""];
  }

  /** Return a unit in one way of writing it, so that "Nm" and "N·m" are the same. */
  function plain(unit) {
    return String(unit)
      .replace(/[\s\u00a0\u202f\u00b7\u22c5.*-]/g, "")
      .replace(/\u03a9/g, "\u2126")
      .replace(/\u03bc/g, "\u00b5")
      .replace(/\u2033|''/g, '"');
  }

  /**
   * Judge a reading. `limits` is a list of {unit, shown, low, high, lowOpen, highOpen}, one for each unit that is
   * printed, `shown` where the page has another name for it; low and high may be null. The answer's `is`: empty, garbage, unclear, unit (another unit than one of these), free (there
   * is nothing to hold it against), good, low, high.
   */
  function judge(text, unit, limits, decimal) {
    const list = Array.isArray(limits) ? limits : [];
    const answer = { is: "empty", value: null, unit: unit || (list.length ? list[0].unit : "") };
    if (text === null || text === undefined || !String(text).trim()) return answer;
    const [digits, typed] = parted(text, list.map(({ shown }) => shown || "").filter((name) => name));
    const value = parse(digits, decimal);
    if (value === null || value === undefined || !isFinite(value)) {
      answer.is = value === undefined ? "unclear" : "garbage";
      return answer;
    }
    const wanted = typed || answer.unit;
    const limit = list.find((each) => [each.unit, each.shown].some((name) => name && plain(name) === plain(wanted)));
    if (!limit) {
      // Words after a number are only understood where they are a unit of this reading.
      answer.is = list.length ? "unit" : typed ? "garbage" : "free";
      if (answer.is === "free") answer.value = value;
      return answer;
    }
    answer.value = value;
    answer.unit = limit.unit;
    answer.is = within(value, limit);
    return answer;
  }

  function within(value, limit) {
    const low = typeof limit.low === "number";
    const high = typeof limit.high === "number";
    if (low && (limit.lowOpen ? value <= limit.low : value < limit.low)) return "low";
    if (high && (limit.highOpen ? value >= limit.high : value > limit.high)) return "high";
    return low || high ? "good" : "free";
  }

  Putback.judge = { parse, judge, within };
})(typeof window === "object" ? window : globalThis);
