/* The bench page of one job: what a person does is kept at once, and told to whoever shows it. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { acts, desk, diagram, record: records, sheets: shelves, state: states, store: stores, timers, way } = Putback;

  /** Return a page that knows its record, and what follows from it (`seen`). */
  function paged(data, env) {
    const job = way.whole(data);
    const store = stores.open(env.storage, env.folder, job.guide);
    const page = { job, store, index: way.indexed(job), sheets: shelves.open(store, job, env), now: () => env.now() };
    page.decimal = env.decimal || job.decimal || ".";
    page.known = (key) => page.index.byKey.has(key);
    page.notices = [];
    page.record = page.seen = page.edition = null;
    page.put = (kind, name, value) => records.mark(page.record, kind, name, value, page.now());
    page.cut = (text) => String(text === null || text === undefined ? "" : text).slice(0, records.TEXT);
    page.owner = (step, box) => way.ownerOf(page.index, page.seen.rounds, step, box || 0).number;
    page.ownMachine = () => records.read(page.record, "about", "own") === true;
    page.chosen = () => (page.ownMachine() ? page.record : page.sheets.machine());
    page.options = () => diagram.known(job, ((from) => (option) => records.read(from, "choices", option))(page.chosen()));
    page.look = () => look(page);
    page.show = (record) => show(page, record);
    page.freeze = () => freeze(page);

    /** Keep under which number a step was printed, for whoever reads the record with another edition. */
    page.noted = (step) => {
      const { key, n } = page.index.steps[step];
      page.record.numbers[key] = String(n).slice(0, 20);
    };
    return page;
  }

  function look(page) {
    const { job, index, record, edition } = page;
    const options = page.options();
    page.seen = states.made({ index, record, options, decimal: page.decimal, now: page.now() });
    const about = (name) => records.read(record, "about", name);
    const { id, made, changed } = record;
    const { state } = page.seen;
    state.sheet = { id, name: about("name") || "", made, changed, away: !!about("away") };
    state.kept = page.store.state();
    state.edition = edition;
    state.ownMachine = page.ownMachine();
    state.options = job.options.map((option, place) => ({
      key: option.key,
      choice: options[place] < 0 ? null : option.choices[options[place]].key,
      possible: diagram.possible(job, options, place),
    }));
    const sets = [].concat(state.lines, state.sections, state.follow, ...Object.values(state.listed));
    state.decided = !options.includes(-1) || !(sets.includes("perhaps") || state.off.some((each) => each.may));
  }

  /** Let a sheet keep the machine that it is worked on, whatever is chosen for others. */
  function freeze(page) {
    const { choices } = page.chosen().marks;
    for (const option of Object.keys(choices)) page.put("choices", option, choices[option].is);
    page.put("about", "own", true);
  }

  /** Open a sheet; one that was begun with another edition says once what of it still fits. */
  function show(page, record) {
    const { job, sheets } = page;
    page.record = record;
    page.edition = null;
    const used = !records.untouched(record);
    if (used && record.digest !== job.digest) {
      const { kept, lost } = records.held(record, page.known);
      const numbers = lost.map((key) => record.numbers[key]).filter((number) => number);
      page.edition = { kept: kept.length, lost: lost.length, numbers };
      page.notices.push({ code: "edition", kept: kept.length, lost: lost.length });
    }
    record.digest = job.digest;
    if (page.edition) sheets.save(record);
    sheets.point(record.id);
  }

  /** Return the notices of what has changed between two states of a sheet. */
  function compared(job, before, state) {
    const found = [];
    for (const { kind, key } of job.steps)
      if (kind === "stop" && state.steps[key].here === "yes" && before.steps[key].here !== "yes") found.push({ code: "stop", step: key });
    const whole = (one) => one.of > 0 && one.done === one.of;
    const stopped = job.steps.some(({ kind, key }) => kind === "stop" && state.steps[key].here === "yes");
    if (whole(state) && !whole(before) && !stopped) found.push({ code: "finished" });
    return found;
  }

  function open(data, env) {
    const page = paged(data, env);
    const { job, sheets, store, notices } = page;
    const listeners = [];
    let kept = store.state();
    let over = null; // the timers of which was told that they are over

    const overNow = () => page.seen.state.timers.filter((key) => page.seen.state.steps[key].timer.state === "over");

    /** Look anew, and tell what has changed. */
    page.publish = function () {
      const before = page.shown;
      look(page);
      const { state } = page.seen;
      if (state.kept !== kept) notices.push(state.kept === "yes" ? { code: "kept" } : { code: "kept-not", why: state.kept === "full" ? "full" : "denied" });
      kept = state.kept;
      if (before.sheet.id === state.sheet.id) notices.push(...compared(job, before, state));
      for (const key of overNow()) if (!over.has(key)) notices.push({ code: "timer-over", step: key });
      over = new Set(overNow());
      page.shown = state;
      const told = notices.splice(0);
      for (const listener of listeners) listener(state, told);
    };

    /** Make marks by a function, keep them, and tell. */
    page.change = function (make) {
      make();
      if (sheets.save(page.record)) notices.push({ code: "other-tab" });
      page.publish();
    };

    /** Look again at what is kept: another tab may have written, and time has gone by. */
    function refresh() {
      store.settle();
      const other = sheets.load(page.record.id);
      if (other && records.merge(page.record, other)) notices.push({ code: "other-tab" });
      page.publish();
    }

    function heard(key) {
      if (key === null || sheets.isMachine(key)) return page.publish();
      const other = sheets.isSheet(key, page.record.id) ? sheets.load(page.record.id) : null;
      if (!other) return undefined;
      const news = records.merge(page.record, other);
      // What the other tab has not seen yet is written again: nobody's ticks get lost.
      if (records.merge(other, page.record)) sheets.save(page.record);
      if (news) notices.push({ code: "other-tab" });
      return news ? page.publish() : undefined;
    }

    function nextChange() {
      const now = page.now();
      const marks = page.seen.state.timers.map((key) => page.seen.state.steps[key].timer);
      return timers.nextChange(marks.map(({ started, ends }) => timers.standing({ from: started, seconds: (ends - started) / 1000 }, now)));
    }

    function subscribe(listener) {
      listeners.push(listener);
      listener(page.seen.state, notices.splice(0));
    }

    page.show(sheets.first());
    look(page);
    page.shown = page.seen.state;
    over = new Set(overNow());
    const state = () => page.seen.state;
    return { state, subscribe, refresh, heard, nextChange, flush: () => void store.settle(), ...acts.on(page), ...desk.on(page) };
  }

  Putback.session = { open };
})(typeof window === "object" ? window : globalThis);
