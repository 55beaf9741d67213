/* The screen stays on while somebody works: while the page is seen, and not long after the last thing that was done. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const REST = 30 * 60 * 1000; // ms

  function open(now) {
    let lock = null;
    let last = -Infinity;
    let asking = false;
    let end = 0;

    const working = () => now() - last < REST && document.visibilityState === "visible";

    function ask() {
      if (lock || asking || !working() || !navigator.wakeLock) return;
      asking = true;
      navigator.wakeLock.request("screen").then((found) => {
        asking = false;
        lock = found;
        lock.addEventListener("release", () => {
          lock = null;
        });
        if (!working()) lock.release();
      }, () => {
        asking = false; // The battery is low, or the page may not: then the screen goes off.
      });
    }

    function worked() {
      last = now();
      clearTimeout(end);
      end = setTimeout(() => lock && lock.release(), REST);
      ask();
    }

    document.addEventListener("visibilitychange", ask);
    return { worked };
  }

  Putback.awake = { open };
})(window);
