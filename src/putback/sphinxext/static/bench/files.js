/* A record as a file, and a file as a record. What comes from a file is looked at before anything is changed. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { record: records } = Putback;

  const BIGGEST = 1000000; // characters; the largest sheet of a shipped job with every blank filled is far below
  const SHORT = 120;

  /** Return {name, type, text} of the file that a record is given out as. */
  function exported(record, now) {
    const day = new Date(now);
    const two = (number) => String(number).padStart(2, "0");
    const date = [day.getFullYear(), two(day.getMonth() + 1), two(day.getDate())].join("-");
    const parts = ["putback", record.guide, record.job, records.read(record, "about", "name") || "", date];
    const name = parts.map(slug).filter((part) => part).join("-") + ".json";
    return { name, type: "application/json", text: records.written(record) + "\n" };
  }

  /** Return a word that is safe in the name of a file anywhere. */
  function slug(word) {
    const flat = String(word).normalize("NFD").replace(/[\u0300-\u036f]/g, "").replace(/\u00df/g, "ss");
    return flat.toLowerCase().replace(/[^a-z0-9]+/g, "-").replace(/^-+|-+$/g, "").slice(0, 40);
  }

  /** Return what a text would be as a sheet of this job, or a code that says why it is none. */
  function examine(raw, job, known, sheets) {
    const found = records.fromText(raw, BIGGEST);
    if (!found.ok) return found;
    const record = found.record;
    const code = record.guide !== job.guide ? "other-guide" : record.job !== job.job ? "other-job" : null;
    if (code) {
      const short = (name) => record[name].slice(0, SHORT);
      return { ok: false, code, where: "", guide: short("guide"), job: short("job"), title: short("title") };
    }
    const twin = sheets.load(record.id);
    const held = records.held(record, known);
    return {
      ok: true,
      record,
      name: records.read(record, "about", "name") || "",
      changed: record.changed,
      same: record.digest === job.digest,
      kept: held.kept.length,
      lost: held.lost.map((key) => record.numbers[key] || "").filter((number) => number),
      lostCount: held.lost.length,
      twin: twin ? { id: twin.id, name: records.read(twin, "about", "name") || "", changed: twin.changed } : null,
      equal: !!twin && alike(twin, record),
    };
  }

  /** Return whether neither of two records has a mark that the other lacks. */
  function alike(one, other) {
    return !records.merge(records.copy(one), other) && !records.merge(records.copy(other), one);
  }

  Putback.files = { BIGGEST, exported, examine };
})(typeof window === "object" ? window : globalThis);
