/*
 * The sheets of one job: each person may take one. A sheet is a record under its id; which one is open is remembered for
 * this tab where that works, and for the job. What the machine is like is remembered for the whole guide.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { record: records } = Putback;

  function open(store, job, env) {
    const random = env.random || Math.random;
    const place = ["job", job.job];
    const mine = { guide: job.guide, job: job.job };

    function newId() {
      let id = Math.floor(env.now()).toString(36);
      while (id.length < 16) id += Math.floor(random() * 36 ** 4).toString(36);
      return id.slice(0, 20);
    }

    /** Return a record that is kept, or null. One that cannot be read stays where it is. */
    function load(id) {
      const found = records.fromText(store.get([...place, "sheet", id]));
      if (!found.ok || found.record.id !== id) return null;
      return found.record.guide === mine.guide && found.record.job === mine.job ? found.record : null;
    }

    const written = new Map(); // what this page wrote last, which need not be read again

    /** Keep a record, together with what another tab has written to it meanwhile; return whether that was anything. */
    function save(record) {
      const name = [...place, "sheet", record.id];
      const there = store.get(name);
      const other = there !== null && there !== written.get(record.id) ? load(record.id) : null;
      const more = other ? records.merge(record, other) : false;
      const text = records.written(record);
      if (text !== there) store.put(name, text);
      written.set(record.id, text);
      return more;
    }

    const all = () => store.names([...place, "sheet"]).map(load).filter((record) => record);

    function tab(id) {
      const name = Putback.store.keyOf([env.folder, job.guide, job.job, "open"]);
      try {
        if (id) env.session().setItem(name, id);
        else return env.session().getItem(name);
      } catch (error) {
        // Then the job alone remembers it.
      }
      return null;
    }

    /** Remember which sheet is open. */
    function point(id) {
      tab(id);
      if (store.get([...place, "open"]) !== id) store.put([...place, "open"], id);
    }

    /** Return the sheet to open: that of this tab, the last one of the job, the newest that is not put away, a new one. */
    function first() {
      for (const id of [tab(), store.get([...place, "open"])]) {
        const found = id ? load(id) : null;
        if (found) return found;
      }
      const others = all().filter((record) => !records.read(record, "about", "away"));
      return others.sort((one, other) => other.changed - one.changed)[0] || empty();
    }

    /** Return a sheet that nothing was done on. It is kept with its first mark; another tab may have begun it. */
    function empty() {
      const promised = store.get([...place, "open"]);
      const id = promised && /^[a-z0-9]{4,40}$/.test(promised) && !store.get([...place, "sheet", promised]) ? promised : newId();
      point(id);
      return records.fresh(job, id, env.now());
    }


    const drop = (id) => store.drop([...place, "sheet", id]);
    const forget = (id) => store.forget([...place, "sheet", id]);
    const full = () => store.state() === "full";

    /** Return what the machine is like, as chosen on any page of the guide: a record's marks of choices. */
    function machine() {
      const found = records.fromText(store.get(["machine"]));
      return found.ok ? found.record : records.fresh({ ...mine, job: "", title: "", digest: "" }, "machine", env.now());
    }

    function chooseForAll(option, choice) {
      const record = machine();
      records.mark(record, "choices", option, choice, env.now());
      store.put(["machine"], records.written(record));
    }

    const isSheet = (full, id) => store.is(full, [...place, "sheet", id]);
    const isMachine = (full) => store.is(full, ["machine"]);
    return { newId, load, save, all, point, first, drop, forget, full, machine, chooseForAll, isSheet, isMachine };
  }

  Putback.sheets = { open };
})(typeof window === "object" ? window : globalThis);
