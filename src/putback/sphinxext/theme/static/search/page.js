/* The page that searches: shows what `find.js` finds in `search-data.js`. Whatever it writes is text, never markup. */

(function () {
  "use strict";

  const data = window.PUTBACK_SEARCH;
  const box = document.getElementById("search-box");
  if (!data || !window.Putback || !box) return; // what to do instead is on the page already

  const AT_ONCE = 30;
  const LONGEST = 180;
  const input = box.querySelector("input");
  const told = document.getElementById("search-count");
  const list = document.getElementById("search-results");
  const more = document.getElementById("search-more");
  const words = list.dataset;
  const search = window.Putback.search.searcher(data, document.documentElement.lang);
  let shown = { terms: [], found: [] };
  let last = null;
  let waiting = 0;

  document.getElementById("search-needs").hidden = true;

  function put(parent, pieces) {
    for (const piece of pieces) {
      const text = document.createTextNode(piece[0]);
      if (piece[1]) parent.appendChild(document.createElement("mark")).appendChild(text);
      else parent.appendChild(text);
    }
  }

  function line(parent, name, pieces) {
    const made = document.createElement("p");
    made.className = name;
    put(made, pieces);
    parent.appendChild(made);
  }

  function item(index) {
    const passage = search.passage(index);
    const made = document.createElement("li");
    const link = document.createElement("a");
    link.href = (document.documentElement.dataset.content_root || "./") + passage.address;
    if (passage.number) {
      const number = document.createElement("span");
      number.className = "found-step";
      number.textContent = words.step.replace("{number}", passage.number);
      link.append(number, " ");
    }
    put(link, search.marked(passage.title, shown.terms, 0));
    made.appendChild(link);
    const place = [passage.page, passage.section].filter(function (each) { return each && each !== passage.title; });
    if (place.length > 0) line(made, "found-in", [[place.join(" › "), false]]);
    if (passage.text) line(made, "context", search.marked(passage.text, shown.terms, LONGEST));
    return made;
  }

  function grow() {
    const from = list.children.length;
    for (const index of shown.found.slice(from, from + AT_ONCE)) list.appendChild(item(index));
    more.hidden = list.children.length >= shown.found.length;
    return list.children[from];
  }

  function show() {
    window.clearTimeout(waiting);
    const query = input.value.trim();
    if (query === last) return;
    last = query;
    shown = search.find(query);
    list.textContent = "";
    grow();
    const count = shown.found.length;
    told.textContent = shown.terms.length === 0 ? "" : count ? words.found.replace("{count}", count) : words.none;
    try {
      // Whoever comes back to the page finds what was found.
      window.history.replaceState(null, "", query ? "?q=" + encodeURIComponent(query) : location.pathname);
    } catch (refused) {
      // Then the address stays.
    }
  }

  function links() {
    return Array.from(list.querySelectorAll("a"));
  }

  function move(event) {
    if (event.altKey || event.ctrlKey || event.metaKey || event.shiftKey) return;
    const found = links(), at = found.indexOf(document.activeElement), typing = document.activeElement === input;
    if (at < 0 && !typing) return;
    if (event.key === "ArrowDown" && at + 1 < found.length) found[at + 1].focus();
    else if (event.key === "ArrowUp" && at > 0) found[at - 1].focus();
    else if ((event.key === "ArrowUp" && at === 0) || (event.key === "Escape" && at >= 0)) input.focus();
    else return;
    event.preventDefault();
  }

  box.addEventListener("submit", function (event) {
    event.preventDefault();
    show();
    const first = links()[0];
    if (first) first.focus();
  });
  input.addEventListener("input", function () {
    window.clearTimeout(waiting);
    waiting = window.setTimeout(show, 80);
  });
  more.addEventListener("click", function () {
    const next = grow();
    if (next) next.querySelector("a").focus();
  });
  document.addEventListener("keydown", move);

  input.value = new URLSearchParams(window.location.search).get("q") || "";
  show();
  input.focus();
})();
