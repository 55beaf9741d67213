(function () {
  "use strict";
  const { standing, clock, nextChange } = Putback.timers;
  const START = 1700000000000;
  const timer = { from: START, seconds: 90 };

  check("a timer ends by the clock, whatever happened between", function () {
    same(standing(timer, START, false), { state: "running", started: START, ends: START + 90000, left: 90000, most: false });
    same(standing(timer, START + 89999).left, 1);
    same(standing(timer, START + 90000).state, "over");
    same(standing(timer, START + 1e9), { state: "over", started: START, ends: START + 90000, left: 0, most: false });
  });

  check("no timer is none", function () {
    same(standing(null, START), null);
    same(standing(undefined, START), null);
  });

  check("a clock that was set back leaves the whole time to go", function () {
    same(standing(timer, START - 3600000).left, 90000);
    same(standing(timer, START - 3600000).state, "running");
  });

  check("a limit says that it is one", function () {
    same(standing(timer, START, true).most, true);
  });

  check("the shown time is rounded up, so that nothing is left only when it is over", function () {
    same(clock(90000), { h: 0, m: 1, s: 30 });
    same(clock(1), { h: 0, m: 0, s: 1 });
    same(clock(0), { h: 0, m: 0, s: 0 });
    same(clock(-5), { h: 0, m: 0, s: 0 });
    same(clock(7261000), { h: 2, m: 1, s: 1 });
  });

  check("the next change is when the shown second goes", function () {
    same(nextChange([]), null);
    same(nextChange([standing(timer, START + 1e9), null]), null);
    same(nextChange([standing(timer, START)]), 1000);
    same(nextChange([standing(timer, START + 250)]), 750);
    const shown = (now) => clock(standing(timer, now).left).s;
    for (const past of [1, 250, 999, 1000, 1001]) {
      const wait = nextChange([standing(timer, START + past)]);
      same(shown(START + past + wait) !== shown(START + past), true, "after " + past);
      same(shown(START + past + wait - 1), shown(START + past), "before " + past);
    }
  });
})();
