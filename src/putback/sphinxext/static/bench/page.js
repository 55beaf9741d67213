/*
 * What every view uses: making elements, filling patterns, finding the steps of the page.
 * What anybody wrote becomes text, never markup.
 */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});

  /** Make an element; of the looks, a function is what it does on an event, and null or false leaves one out. */
  function make(tag, looks, ...children) {
    const it = document.createElement(tag);
    for (const [name, value] of Object.entries(looks || {})) {
      if (typeof value === "function") it.addEventListener(name, value);
      else if (value !== null && value !== false) it.setAttribute(name, value === true ? "" : String(value));
    }
    it.append(...children.filter((child) => child !== null));
    return it;
  }

  function button(words, press, looks) {
    return make("button", { type: "button", click: press, ...looks }, words);
  }

  /** Put values into a pattern; a name that has none stays as it is written. */
  function fill(pattern, values) {
    return pattern.replace(/\{(\w+)\}/g, (whole, name) =>
      Object.prototype.hasOwnProperty.call(values, name) ? String(values[name]) : whole,
    );
  }

  /** Set text, or a property, only where it differs: so nothing is read aloud twice, and nothing is drawn again. */
  function say(it, words) {
    if (it.textContent !== words) it.textContent = words;
  }

  function set(it, name, value) {
    if (it[name] !== value) it[name] = value;
  }

  function mark(it, name, value) {
    if (value === null || value === false) {
      if (it.hasAttribute(name)) it.removeAttribute(name);
    } else if (it.getAttribute(name) !== String(value)) it.setAttribute(name, String(value));
  }

  /** Return the steps of the page by their keys: what is known of each, and where it stands. */
  function steps(job) {
    const found = new Map();
    job.steps.forEach((step, index) => {
      const it = document.getElementById(step.id);
      if (!it) return;
      const whole = { branches: [], blanks: [], good: "", boxes: null, timer: null, ...step };
      found.set(step.key, { index, step: whole, it, body: it.querySelector(":scope > .step-body") });
    });
    return found;
  }

  const moving = () => !root.matchMedia("(prefers-reduced-motion: reduce)").matches;

  /** Return where to begin to read for a step: at the safety messages and remarks that stand right before it. */
  function leadIn(it) {
    let first = it;
    let before = it.previousElementSibling;
    for (; before && /(^| )line-/.test(before.className); before = before.previousElementSibling) {
      if (before.getClientRects().length) first = before;
    }
    // The first step of what is done for each place, which is no branch: what stands before the whole is for it, too.
    const around = it.parentElement;
    return around.matches(".otherwise") && around.querySelector(".step") === it ? leadIn(around.parentElement) : first;
  }

  let led = null;

  /** Bring a step into sight, with what stands right before it, and put the focus on a box of it, or on its first one. */
  function goTo(it, box) {
    const target = box || it.querySelector("input:not([type=hidden]), button") || it;
    if (target === it) it.setAttribute("tabindex", "-1");
    target.focus({ preventScroll: true });
    const lead = leadIn(it);
    const room = root.innerHeight - (parseFloat(document.documentElement.style.getPropertyValue("--bench-bar")) || 0);
    const body = (it.querySelector(":scope > .step-body") || it).getBoundingClientRect();
    const top = lead.getBoundingClientRect().top;
    // What is higher than the screen is shown from its beginning; asked once more for the same step, the step itself.
    const high = body.bottom - top > room;
    const to = high && led === it ? it : lead;
    led = high && to !== it ? it : null;
    const space = high ? 0 : (room - (body.bottom - top)) / 2;
    const way = to.getBoundingClientRect().top - Math.max(8, space);
    root.scrollBy({ top: way, behavior: moving() && Math.abs(way) < 2 * room ? "smooth" : "instant" });
  }

  /** Return a length of time as on a clock: 9:41, 1:02:03. */
  function clock(ms) {
    const { h, m, s } = Putback.timers.clock(ms);
    const two = (number) => String(number).padStart(2, "0");
    return h ? `${h}:${two(m)}:${two(s)}` : `${m}:${two(s)}`;
  }

  const language = () => document.documentElement.lang || undefined;
  const hour = (ms) => new Date(ms).toLocaleTimeString(language(), { hour: "2-digit", minute: "2-digit" });
  const day = (ms) => new Date(ms).toLocaleString(language(), { dateStyle: "medium", timeStyle: "short" });

  Putback.page = { make, button, fill, say, set, mark, steps, goTo, clock, hour, day };
})(window);
