/* Times that run by the clock on the wall, so that leaving the page, or a flat battery, does not stop them. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});

  const SLACK = 2000;

  /** Return how a timer stands, from {from: ms, seconds}; null when there is none. */
  function standing(timer, now, most) {
    if (!timer) return null;
    const length = timer.seconds * 1000;
    const ends = timer.from + length;
    // A clock that was set back before the start says nothing about what has gone by: the whole time is to go.
    const left = now + SLACK < timer.from ? length : Math.min(length, Math.max(0, ends - now));
    return { state: left > 0 ? "running" : "over", started: timer.from, ends, left, most: !!most };
  }

  /** Return hours, minutes and seconds, rounded up to whole seconds: nothing is left only when it is over. */
  function clock(left) {
    const seconds = Math.max(0, Math.ceil(left / 1000));
    return { h: Math.floor(seconds / 3600), m: Math.floor((seconds % 3600) / 60), s: seconds % 60 };
  }

  /** Return after how many ms a shown time is no longer right, or null when none of these runs. */
  function nextChange(standings) {
    const running = standings.filter((each) => each && each.state === "running");
    if (!running.length) return null;
    return Math.min(...running.map((each) => ((each.left - 1) % 1000) + 1));
  }

  Putback.timers = { standing, clock, nextChange };
})(typeof window === "object" ? window : globalThis);
