/*
 * How each thing stands by what is ticked, and where it goes back. Nothing is worked out here: what holds after each
 * moment of the walk was worked out when the page was made, and is only looked up.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { diagram, way } = Putback;

  /** Return what all questions about the ledger share: the rounds, and what is ticked and on the way in each. */
  function opened(index, rounds, here, marks) {
    const last = rounds[rounds.length - 1];
    const done = rounds.map((round) =>
      index.job.moments.map(([step], moment) =>
        moment < round.from ? false : index.ticks[moment].every((box) => marks.ticked(step, box, round.number))
      )
    );
    const onWay = index.job.moments.map(([step], moment) =>
      moment < last.from ? false : index.ticks[moment].some((box) => here[step].boxes[box] !== "no")
    );
    const latest = done[done.length - 1].lastIndexOf(true);
    return { index, job: index.job, rounds, last, done, onWay, latest };
  }

  /** Yield, the newest first, each ticked row of a thing with its round's surroundings. */
  function* touched(book, thing) {
    for (let place = book.rounds.length - 1; place >= 0; place -= 1) {
      const round = book.rounds[place];
      const rows = rowsIn(round, thing);
      for (let at = rows.length - 1; at >= 0; at -= 1)
        if (book.done[place][rows[at].row[0]]) yield { place, row: rows[at].row, around: rows[at].around };
    }
  }

  /** Return the rows of a thing in a round, in walking order, each from the lap that holds there. */
  function rowsIn(round, thing) {
    const found = [];
    round.stretches.forEach((stretch, place) => {
      const next = round.stretches[place + 1];
      const end = next ? next.from : Infinity;
      for (const row of lapOf(thing, stretch.around.lap))
        if (row[0] >= stretch.from && row[0] < end) found.push({ row, around: stretch.around });
    });
    return found;
  }

  function lapOf(thing, lap) {
    return (lap === 0 ? thing.rows : thing.laps && thing.laps[String(lap)]) || [];
  }

  /** Return the ways in which a thing may stand now: {value, moment, place}; several only when an option is open. */
  function standing(book, thing) {
    const entries = [];
    for (const { place, row, around } of touched(book, thing)) {
      let sure = false;
      for (const [set, value] of row[1]) {
        const holds = diagram.holds(set, around);
        if (holds === "no") continue;
        entries.push({ set, around, value: book.job.values[value], moment: row[0], place });
        sure = sure || holds === "yes";
      }
      if (sure) break;
    }
    const { around } = book.rounds[0];
    for (const [set, value] of thing.opens || [])
      entries.push({ set, around, value: book.job.values[value], moment: null, place: null });
    const ways = diagram.first(entries, { set: book.job.built, around: book.last.around });
    return ways.map((each) => entries[each] || { value: null, moment: null, place: null });
  }

  const isClosed = (stands) => stands.value === null || stands.value.closed;

  /** Return the last ticked moment of the last round that touches a thing, or the moment before the round begins. */
  function lastTouch(book, thing) {
    let found = book.last.from - 1;
    const done = book.done[book.done.length - 1];
    for (const { row, around } of rowsIn(book.last, thing))
      if (done[row[0]] && row[1].some(([set]) => diagram.holds(set, around) !== "no")) found = row[0];
    return found;
  }

  /** Return the moment at which a thing goes back, with all answers good from here on; null when it does not. */
  function goesBack(book, thing) {
    const since = lastTouch(book, thing);
    for (const { row, around } of rowsIn(book.last, thing)) {
      if (row[0] <= since || !book.onWay[row[0]]) continue;
      for (const [set, value] of row[1])
        if (book.job.values[value].closed && diagram.holds(set, around) !== "no") return row[0];
    }
    return null;
  }

  /** Return the moments before its last ticked one that touch a thing too, and are not ticked. */
  function gaps(book, thing) {
    const since = lastTouch(book, thing);
    const done = book.done[book.done.length - 1];
    return rowsIn(book.last, thing)
      .filter(({ row, around }) => row[0] < since && !done[row[0]] && book.onWay[row[0]] &&
        row[1].some(([set]) => diagram.holds(set, around) === "yes")) // prettier-ignore
      .map(({ row }) => row[0]);
  }

  /** Return what is off now: how each thing stands that is not, or may not be, as it must be in the end. */
  function off(book) {
    const found = [];
    book.job.things.forEach((thing, place) => {
      const ways = standing(book, thing);
      const not = ways.filter((each) => !isClosed(each));
      if (!not.length) return;
      const since = not[0].moment === null ? null : book.job.moments[not[0].moment][0];
      const back = goesBack(book, thing);
      found.push({
        thing: place,
        key: thing.key,
        name: thing.name,
        kind: thing.kind,
        count: thing.kind === "line" ? 1 : not[0].value.n || 0,
        state: not[0].value,
        states: not.map((each) => each.value),
        may: ways.length > not.length,
        since,
        back: back === null ? null : book.job.moments[back][0],
        gaps: gaps(book, thing).map((moment) => book.job.moments[moment][0]),
      });
    });
    return found;
  }

  /** Return how many pieces are missing while a thing stands as a value says; a line is one, however many ends are open. */
  function missing(thing, value) {
    if (!value || value.closed || !["off", "out", "open"].includes(value.is)) return 0;
    return thing.kind === "line" ? Math.min(1, value.n || 0) : value.n || 0;
  }

  /** Return how many pieces of a thing came off, went back, and went in new, by what is ticked. */
  function tally(book, thing) {
    const ways = standing(book, thing);
    const stands = (ways.find((each) => !isClosed(each)) || ways[0]).value;
    const opens = (thing.opens || []).find(([set]) => diagram.holds(set, book.rounds[0].around) !== "no");
    let empty = opens ? missing(thing, book.job.values[opens[1]]) : 0;
    let fresh = 0;
    const places = new Set();
    for (const { row, around } of touched(book, thing)) {
      const entry = row[1].find(([set]) => diagram.holds(set, around) !== "no");
      if (!entry) continue;
      empty = Math.max(empty, entry[2] || 0);
      fresh += entry[3] || 0;
      for (const name of entry[4] || []) places.add(name);
    }
    const out = Math.max(empty, places.size, fresh);
    return { out, back: Math.max(0, out - missing(thing, stands)), new: fresh };
  }

  /** Return the rows of the count-back as they are by what is ticked. */
  function counts(book) {
    const tallies = new Map();
    const of = (thing) => {
      if (!tallies.has(thing)) tallies.set(thing, tally(book, book.job.things[thing]));
      return tallies.get(thing);
    };
    const named = (row) => row.things.join(",");
    return book.job.counts.map((row, place) => {
      const all = { out: 0, back: 0, new: 0 };
      for (const thing of row.things) for (const name of Object.keys(all)) all[name] += of(thing)[name];
      const usual = book.job.counts.filter(
        (each) => !each.branch && named(each) === named(row) && diagram.holds(each.set, book.last.around) !== "no"
      );
      const most = (name) => Math.max(0, ...usual.map((each) => each[name]));
      const now = {};
      for (const name of Object.keys(all)) now[name] = shared(row, all[name], most(name));
      const must = { out: row.out, back: row.back, new: row.new };
      const here = diagram.holds(row.set, book.last.around);
      return { row: place, ...now, must, here, same: now.out === now.back, varies: !!row.varies };
    });
  }

  /** A branch's row has what goes beyond the usual row; the usual row has no more than it says, if there is one. */
  function shared(row, all, usual) {
    if (row.branch) return Math.max(0, all - usual);
    return usual ? Math.min(all, usual) : all;
  }

  Putback.ledger = { opened, standing, off, counts, tally, goesBack, gaps };
})(typeof window === "object" ? window : globalThis);
