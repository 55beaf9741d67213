/* What is told once, when it happens. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { fill } = Putback.page;

  /** What somebody must have seen, whatever else is ticked. */
  const LASTS = ["kept-not", "edition", "stop", "timer-over"];

  function open(words, number, called, bench) {
    const at = words.said;
    const numbers = (keys) => (keys || []).map(number).filter((each) => each).join(", ");
    const waiting = new Map();

    function one(notice) {
      const step = notice.step ? number(notice.step) : "";
      switch (notice.code) {
        case "again": return fill(at.again, { step: number(notice.to), steps: numbers(notice.steps) });
        case "branch": return fill(at.branch, { step, steps: numbers(notice.opened) });
        case "stop": return fill(at.stop, { step });
        case "finished": return at.finished;
        case "kept-not": return notice.why === "full" ? at.full : at.not_kept;
        case "kept": return at.kept_again;
        case "other-tab": return at.other_tab;
        case "edition": return fill(at.edition, { kept: notice.kept, lost: notice.lost });
        case "unchosen": return at.unchosen;
        case "timer-over": return fill(at.timer_over, { step });
        case "sheet": return fill(at.sheet_open, { name: called(bench.state().sheet) });
        default: return "";
      }
    }

    /** Return what to tell, and whether it goes away when somebody goes on; what a reading leads to waits until the hand rests. */
    return (notices, typing) => {
      for (const notice of notices) waiting.set(`${notice.code} ${notice.step || ""}`, notice);
      const told = [];
      let passing = true;
      for (const [name, notice] of waiting) {
        const held = typing && notice.step === typing && (notice.code === "branch" || notice.code === "stop");
        if (held) continue;
        waiting.delete(name);
        if (notice.code === "timer-over" && root.navigator.vibrate) root.navigator.vibrate([300, 150, 300]);
        told.push(one(notice));
        passing = passing && !LASTS.includes(notice.code);
      }
      return { text: told.filter((text) => text).join(" "), passing };
    };
  }

  Putback.notices = { open };
})(window);
