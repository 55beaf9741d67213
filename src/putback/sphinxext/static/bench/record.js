/*
 * What a person has done on one sheet of one job: marks, each with the time at which it was made. Marks are never taken
 * away but written over, so that two records of the same sheet can be merged: the newer mark of each wins.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});

  const FORMAT = "putback-bench-record";
  const VERSION = 1;
  const TEXT = 500; // characters of what a person wrote
  const MANY = 20000; // marks of one kind
  const LATEST = 8.64e15; // the last moment that a date can tell
  const ID = /^[a-z0-9]{4,40}$/;

  const text = (value) => typeof value === "string" && value.length <= TEXT;
  const bool = (value) => typeof value === "boolean";
  const whole = (value, most) => Number.isInteger(value) && value >= 0 && value <= most;
  const plain = (value) => typeof value === "object" && value !== null && !Array.isArray(value);

  /** What a mark of each kind may be. */
  const KINDS = {
    ticks: bool,
    readings: (value) => plain(value) && text(value.text) && text(value.unit),
    answers: (value) => value === null || (Array.isArray(value) && value.length < 50 && value.every((one) => whole(one, 1000))),
    choices: (value) => value === null || text(value),
    counted: bool,
    blanks: text,
    timers: (value) => value === null || (plain(value) && whole(value.from, LATEST) && whole(value.seconds, 1e8)),
    about: (value) => text(value) || bool(value),
  };

  function fresh(job, id, now) {
    // Whatever is longer than what `cleaned` takes would never be read again.
    const title = String(job.title).slice(0, TEXT);
    const record = { format: FORMAT, version: VERSION, guide: job.guide, job: job.job, title };
    return Object.assign(record, { digest: job.digest, id, made: now, changed: now, marks: noMarks(), numbers: bare() });
  }

  /** Return an object without a prototype: no name in it means anything but itself. */
  const bare = () => Object.create(null);

  function noMarks() {
    const marks = bare();
    for (const kind of Object.keys(KINDS)) marks[kind] = bare();
    return marks;
  }

  /** Return the latest time of any mark. */
  function latest(record) {
    let found = 0;
    for (const kind of Object.keys(KINDS))
      for (const key of Object.keys(record.marks[kind])) found = Math.max(found, record.marks[kind][key].at);
    return found;
  }

  /**
   * Make a mark. Its time is later than that of any other, even when the clock has been set back: what is done now must
   * win over what was done before.
   */
  function mark(record, kind, key, value, now) {
    record.marks[kind][key] = { is: value, at: Math.min(LATEST, Math.max(now, latest(record) + 1)) };
    record.changed = now;
  }

  /** Return the value of a mark, or undefined. */
  function read(record, kind, key) {
    const found = record.marks[kind][key];
    return found ? found.is : undefined;
  }

  const written = (record) => JSON.stringify(record, null, 1);

  class Broken extends Error {}

  function must(holds, where) {
    if (!holds) throw new Broken(where);
  }

  /**
   * Return {ok: true, record} of a text that a record was written to, or {ok: false, code, where}. The record is made
   * anew of what is known; whatever else stands in the text is left out.
   */
  function fromText(raw, longest) {
    if (typeof raw !== "string" || !raw.trim()) return { ok: false, code: "empty", where: "" };
    if (longest && raw.length > longest) return { ok: false, code: "too-big", where: "" };
    let data;
    try {
      data = JSON.parse(raw.replace(/^\ufeff/, ""));
    } catch (error) {
      return { ok: false, code: "not-json", where: "" };
    }
    if (!plain(data) || data.format !== FORMAT) return { ok: false, code: "not-a-record", where: "" };
    if (!Number.isInteger(data.version) || data.version < 1) return { ok: false, code: "broken", where: "version" };
    if (data.version > VERSION) return { ok: false, code: "newer-version", where: "version" };
    try {
      return { ok: true, record: cleaned(data) };
    } catch (error) {
      if (!(error instanceof Broken)) throw error;
      return { ok: false, code: "broken", where: error.message };
    }
  }

  function cleaned(data) {
    const record = { format: FORMAT, version: VERSION };
    for (const name of ["guide", "job", "title", "digest"]) {
      must(text(data[name]), name);
      record[name] = data[name];
    }
    must(typeof data.id === "string" && ID.test(data.id), "id");
    must(whole(data.made, LATEST), "made");
    must(whole(data.changed, LATEST), "changed");
    must(plain(data.marks), "marks");
    Object.assign(record, { id: data.id, made: data.made, changed: data.changed, marks: noMarks(), numbers: bare() });
    for (const kind of Object.keys(KINDS)) if (has(data.marks, kind)) copied(data.marks[kind], record.marks[kind], kind);
    if (has(data, "numbers")) {
      must(plain(data.numbers) && Object.keys(data.numbers).length <= MANY, "numbers");
      for (const key of Object.keys(data.numbers)) {
        must(key.length <= TEXT && typeof data.numbers[key] === "string" && data.numbers[key].length <= 20, "numbers");
        record.numbers[key] = data.numbers[key];
      }
    }
    return record;
  }

  const has = (object, name) => Object.prototype.hasOwnProperty.call(object, name);

  function copied(marks, to, kind) {
    const where = "marks." + kind;
    must(plain(marks) && Object.keys(marks).length <= MANY, where);
    for (const key of Object.keys(marks)) {
      const one = marks[key];
      must(key.length <= TEXT && plain(one) && KINDS[kind](one.is) && whole(one.at, LATEST), where);
      to[key] = { is: value(kind, one.is), at: one.at };
    }
  }

  function value(kind, is) {
    if (kind === "readings") return { text: is.text, unit: is.unit };
    if (kind === "answers" && is) return is.slice();
    return kind === "timers" && is ? { from: is.from, seconds: is.seconds } : is;
  }

  /** Return a copy that shares nothing. */
  const copy = (record) => fromText(written(record)).record;

  /** Merge the marks of another record of the same sheet into one, and return whether that changed anything. */
  function merge(record, other) {
    let changed = false;
    for (const kind of Object.keys(KINDS)) {
      for (const key of Object.keys(other.marks[kind])) {
        const [mine, its] = [record.marks[kind][key], other.marks[kind][key]];
        if (mine && (mine.at > its.at || (mine.at === its.at && rank(mine.is) >= rank(its.is)))) continue;
        record.marks[kind][key] = { is: value(kind, its.is), at: its.at };
        changed = true;
      }
    }
    for (const key of Object.keys(other.numbers)) if (!has(record.numbers, key)) record.numbers[key] = other.numbers[key];
    if (other.changed > record.changed) record.changed = other.changed;
    return changed;
  }

  /** Two marks of the same moment: the same one of them wins, whoever merges. */
  const rank = (is) => JSON.stringify(is);

  /** Return whether nobody has done anything here. */
  const untouched = (record) => Object.keys(KINDS).every((kind) => !Object.keys(record.marks[kind]).length);

  /** Return the key of a step, from the name of a mark with its box or blank, and its round. */
  const stepOf = (name) => name.replace(/(\/\d+)?(@\d+)?$/, "");

  /** Return the keys of steps with a tick or a reading: those that a job has, and those that it no longer has. */
  function held(record, known) {
    const { ticks, readings } = record.marks;
    const names = Object.keys(ticks).filter((name) => ticks[name].is);
    names.push(...Object.keys(readings).filter((name) => readings[name].is.text.trim()));
    const all = [...new Set(names.map(stepOf))].sort();
    return { kept: all.filter((key) => known(key)), lost: all.filter((key) => !known(key)) };
  }

  Putback.record = { FORMAT, VERSION, TEXT, fresh, mark, read, written, fromText, copy, merge, untouched, held, stepOf };
})(typeof window === "object" ? window : globalThis);
