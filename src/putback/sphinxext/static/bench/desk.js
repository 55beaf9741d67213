/* What a person does with whole sheets: take one, name it, put it away, give it out as a file, take one in. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { files, record: records } = Putback;

  /** Return what can be done with the sheets of a page, which is what `session` has open. */
  function on(page) {
    const { job, sheets, known } = page;
    const load = (id) => (page.record.id === id ? page.record : sheets.load(id));
    const about = (record, name) => records.read(record, "about", name);

    function summary(record) {
      const { id, made, changed, digest } = record;
      const done = records.held(record, known).kept.length;
      return { id, name: about(record, "name") || "", made, changed, away: !!about(record, "away"), done, digest, same: digest === job.digest };
    }

    function list() {
      const found = sheets.all().filter((record) => record.id !== page.record.id);
      return [page.record, ...found].sort((one, other) => other.changed - one.changed).map(summary);
    }

    function shown(record) {
      page.show(record);
      page.notices.push({ code: "sheet", id: record.id, name: about(record, "name") || "" });
      page.publish();
    }

    /** Mark a sheet, which need not be the open one. */
    function mark(id, name, value) {
      const record = load(id);
      if (!record) return;
      records.mark(record, "about", name, value, page.now());
      sheets.save(record);
      page.publish();
    }

    function newSheet(name) {
      const record = records.fresh(job, sheets.newId(), page.now());
      if (name) records.mark(record, "about", "name", page.cut(name), page.now());
      sheets.save(record);
      shown(record);
    }

    function openSheet(id) {
      const record = load(id);
      if (record && record !== page.record) shown(record);
    }

    /** A sheet that is put away keeps the machine that it was worked on. */
    function putAway(id, away) {
      if (away && page.record.id === id) page.freeze();
      mark(id, "away", !!away);
    }

    function dropSheet(id) {
      sheets.drop(id);
      if (page.record.id === id) shown(sheets.first());
      else page.publish();
    }

    /** Return the file of the open sheet: with the choices that it was worked with. */
    function exported() {
      const copy = records.copy(page.record);
      const { choices } = page.chosen().marks;
      for (const option of Object.keys(choices)) copy.marks.choices[option] = { ...choices[option] };
      return files.exported(copy, page.now());
    }

    const examine = (text) => files.examine(text, job, known, sheets);

    /** Take in what was examined; without room for it, all stays as it was. */
    function take(found, how) {
      if (!found || !found.ok) return { ok: false, code: "not-a-record" };
      const record = records.copy(found.record);
      const twin = load(record.id);
      const merges = how && how.as === "merge" && twin;
      if (merges) records.merge(record, twin);
      else if (twin) record.id = sheets.newId();
      // What it was worked with stays with it: it may be of another machine of the model.
      if (!merges && Object.keys(record.marks.choices).length) records.mark(record, "about", "own", true, page.now());
      sheets.save(record);
      if (sheets.full()) {
        sheets.forget(record.id);
        return { ok: false, code: "full" };
      }
      shown(record);
      return { ok: true };
    }

    const nameSheet = (id, name) => mark(id, "name", page.cut(name));
    return { sheets: list, newSheet, openSheet, nameSheet, putAway, dropSheet, exported, examine, take };
  }

  Putback.desk = { on };
})(typeof window === "object" ? window : globalThis);
