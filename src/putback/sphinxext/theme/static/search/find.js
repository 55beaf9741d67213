/* Finds what is typed in the passages of a manual. Nothing here touches the page. */

(function (root) {
  "use strict";

  const Putback = (root.Putback = root.Putback || {});

  /* Letters that are more than a base letter with marks, each as it is typed without them. */
  const PLAIN = { "ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "đ": "d", "ð": "d", "ł": "l", "ı": "i", "þ": "th", "×": "x" };
  const DASHES = "\u2010\u2011\u2012\u2013\u2014\u2212";
  /* Between letters these say nothing: an apostrophe, the dot of N·m, a place where a word may be parted. */
  const SILENT = "'\u2018\u2019\u00b7\u22c5\u00ad\u200b\u200c\u200d\u2060\ufeff";
  const folded = new Map();

  function foldLetter(letter) {
    let plain = folded.get(letter);
    if (plain === undefined) {
      const low = letter.toLowerCase().normalize("NFKD").toLowerCase().replace(/\p{M}/gu, "");
      plain = "";
      for (const each of low) {
        if (SILENT.includes(each)) continue;
        plain += PLAIN[each] || (DASHES.includes(each) ? "-" : each);
      }
      folded.set(letter, plain);
    }
    return plain;
  }

  /* Return a text without case, marks and what says nothing; `at` says where each letter of it stands in the text.
     In German, "ae", "oe" and "ue" are another way to write what is folded to "a", "o" and "u". */
  function fold(text, german) {
    let out = "";
    const at = [];
    let place = 0;
    for (const letter of text) {
      const plain = foldLetter(letter);
      const umlaut = german && plain === "e" && /[aou]/.test(out.slice(-1));
      if (!umlaut) {
        out += plain;
        for (let count = plain.length; count > 0; count--) at.push(place);
      }
      place += letter.length;
    }
    at.push(place);
    return { text: out, at: at };
  }

  const WORD = /[\p{L}\p{N}]+(?:[-./,_][\p{L}\p{N}]+)*/gu;
  const LETTER = /[\p{L}\p{N}]/u;
  const DIGIT = /\p{N}/u;

  /* Return the pattern of one typed word: a number is found with and without what parts it. */
  function pattern(word) {
    const signs = Array.from(word);
    const digits = !/[^\p{N}]/u.test(word);
    let source = "";
    signs.forEach(function (sign, index) {
      const before = signs[index - 1];
      if (/[-./,_]/.test(sign)) {
        const decimal = /[.,]/.test(sign) && DIGIT.test(before) && DIGIT.test(signs[index + 1] || "");
        source += decimal ? "[.,]" : "[-./,_\\s]?";
        return;
      }
      if (before !== undefined && LETTER.test(before)) {
        const turns = DIGIT.test(before) !== DIGIT.test(sign);
        if (turns) source += "[-./\\s]?";
        else if (digits && signs.length >= 5) source += "-?";
      }
      source += sign;
    });
    return source;
  }

  /* Return what is typed as terms. */
  function terms(query, german) {
    const seen = new Set();
    return (fold(query, german).text.match(WORD) || [])
      .filter(function (word) {
        const again = seen.has(word);
        seen.add(word);
        return !again;
      })
      .slice(0, 12)
      .map(function (word) {
        return term(word.slice(0, 80));
      });
  }

  function term(word) {
    const numbered = DIGIT.test(word);
    return {
      word: word,
      numbered: numbered,
      /* So many letters must agree before the middle of a word is a hit. */
      inside: word.length >= (numbered ? 3 : 4) && !/^\p{N}+[.,]\p{N}+$/u.test(word),
      pattern: new RegExp(pattern(word), "gu"),
    };
  }

  const WHOLE = 0, BEGINS = 1, INSIDE = 2;

  /* Return where a term stands in a folded text, as [start, end, how well]. */
  function places(term, text, most) {
    const found = [];
    term.pattern.lastIndex = 0;
    let hit;
    while (found.length < most && (hit = term.pattern.exec(text)) !== null) {
      const start = hit.index, end = start + hit[0].length;
      const how = quality(term, text, start, end);
      if (how !== INSIDE || term.inside) found.push([start, end, how]);
    }
    return found;
  }

  function quality(term, text, start, end) {
    if (start > 0 && (LETTER.test(text[start - 1]) || (DIGIT.test(text[start]) && decimal(text, start - 1)))) {
      return INSIDE;
    }
    if (end < text.length && (LETTER.test(text[end]) || (DIGIT.test(text[end - 1]) && decimal(text, end)))) {
      return BEGINS;
    }
    return WHOLE;
  }

  /* Tell whether the sign at a place is the point of a decimal. */
  function decimal(text, at) {
    return (
      /[.,]/.test(text[at]) && at > 0 && at + 1 < text.length && DIGIT.test(text[at - 1]) && DIGIT.test(text[at + 1])
    );
  }

  /* Make a search over data as `search-data.js` has it. */
  function searcher(data, language) {
    const german = /^de\b/i.test(language || "");
    const all = data.passages.map(function (each) {
      const own = fold(each[3], german).text;
      return { title: own, text: fold(each[4], german).text };
    });

    function around(index) {
      const passage = data.passages[index];
      const said = [fold(data.pages[passage[0]][1], german).text];
      for (let at = passage[5]; at >= 0; at = data.passages[at][5]) said.push(all[at].title);
      return said.join("\n");
    }

    /* A word that stands nowhere loses its ending: "screws" finds "screw". */
    function known(wanted) {
      const everywhere = function (tried) {
        return all.some(function (each) {
          return places(tried, each.title, 1).length > 0 || places(tried, each.text, 1).length > 0;
        });
      };
      if (wanted.numbered || everywhere(wanted)) return wanted;
      for (let length = wanted.word.length - 1; length >= Math.max(4, wanted.word.length - 3); length--) {
        const shorter = term(wanted.word.slice(0, length));
        if (everywhere(shorter)) return shorter;
      }
      return wanted;
    }

    /* Return the score of a passage, the nearest 0; null when a word is missing. */
    function score(index, wanted) {
      const each = all[index];
      let sum = 0, own = 0, context = null;
      const spread = [];
      for (const one of wanted) {
        const title = places(one, each.title, 20), text = places(one, each.text, 20);
        const best = function (found) {
          return Math.min.apply(null, found.map(function (place) { return place[2]; }));
        };
        if (title.length > 0 || text.length > 0) {
          own++;
          sum += title.length > 0 ? 4 * best(title) : 5 + 4 * best(text);
          const behind = each.title.length + 1;
          spread.push(title.concat(text.map(function (place) { return [place[0] + behind, place[1] + behind]; })));
        } else {
          context = context === null ? around(index) : context;
          const found = places(one, context, 20);
          if (found.length === 0) return null;
          sum += 14 + 4 * best(found);
        }
      }
      if (own === 0) return null;
      return sum + Math.min(apart(spread) / 12, 12) + Math.min(each.title.length / 40, 3);
    }

    /* Return what is found for a query, the nearest first: places in the list of passages. */
    function find(query) {
      const wanted = terms(query, german).map(known);
      if (wanted.length === 0) return { terms: wanted, found: [] };
      const whole = fold(query.trim(), german).text;
      const found = [];
      for (let index = 0; index < all.length; index++) {
        let near = score(index, wanted);
        if (near === null) continue;
        if (all[index].title === whole) near -= 20;
        found.push([near, index]);
      }
      found.sort(function (one, other) { return one[0] - other[0] || one[1] - other[1]; });
      return { terms: wanted, found: found.map(function (each) { return each[1]; }) };
    }

    /* Return a text in pieces [words, whether they are a hit]; with `most`, only so many letters around the first hit. */
    function marked(text, wanted, most) {
      const plain = fold(text, german);
      const hits = [];
      for (const one of wanted) {
        for (const place of places(one, plain.text, 50)) hits.push([plain.at[place[0]], plain.at[place[1] - 1] + 1]);
      }
      hits.sort(function (one, other) { return one[0] - other[0] || other[1] - one[1]; });
      const start = most && text.length > most ? cut(text, nearest(hits, most), most) : 0;
      const end = most ? wordEnd(text, start + most) : text.length;
      const pieces = [];
      let at = start;
      for (const hit of hits) {
        const from = Math.max(hit[0], at), to = Math.min(whole(text, hit[1]), end);
        if (from >= to) continue;
        if (from > at) pieces.push([text.slice(at, from), false]);
        pieces.push([text.slice(from, to), true]);
        at = to;
      }
      if (at < end) pieces.push([text.slice(at, end), false]);
      if (start > 0 && pieces.length > 0) pieces.unshift(["… ", false]);
      if (end < text.length) pieces.push([" …", false]);
      return pieces;
    }

    return {
      find: find,
      marked: marked,
      passage: function (index) {
        const each = data.passages[index], page = data.pages[each[0]];
        const within = each[5] >= 0 ? data.passages[each[5]][3] : "";
        return {
          address: page[0] + (each[1] ? "#" + each[1] : ""),
          number: each[2],
          title: each[3],
          text: each[4],
          page: page[1],
          section: within === page[1] ? "" : within,
        };
      },
    };
  }

  /* Return how far apart the words stand where they are nearest to one another. */
  function apart(spread) {
    const marks = [];
    spread.forEach(function (found, which) {
      for (const place of found) marks.push([place[0], which]);
    });
    marks.sort(function (one, other) { return one[0] - other[0]; });
    let least = spread.length > 1 ? Infinity : 0;
    const last = spread.map(function () { return -1; });
    for (const mark of marks) {
      last[mark[1]] = mark[0];
      const first = Math.min.apply(null, last);
      if (first >= 0) least = Math.min(least, mark[0] - first);
    }
    return least;
  }

  /* Return where the stretch of some letters begins that has the most hits. */
  function nearest(hits, most) {
    let best = 0, count = 0;
    for (const hit of hits) {
      const inside = hits.filter(function (other) { return other[0] >= hit[0] && other[1] <= hit[0] + most * 0.7; });
      if (inside.length > count) {
        count = inside.length;
        best = hit[0];
      }
    }
    return best;
  }

  /* Return where an excerpt begins: a little before the first hit, at a word. */
  function cut(text, first, most) {
    const start = Math.min(first - Math.floor(most * 0.25), text.length - most);
    if (start <= 0) return 0;
    const space = text.indexOf(" ", start);
    return space >= 0 && space < first ? space + 1 : first;
  }

  function wordEnd(text, end) {
    if (end >= text.length) return text.length;
    const space = text.lastIndexOf(" ", end);
    return space > end - 30 ? space : whole(text, end);
  }

  /* Keep both halves of a letter together, and a letter with its marks. */
  function whole(text, end) {
    while (end < text.length && /^[\udc00-\udfff\u0300-\u036f]/.test(text[end])) end++;
    return end;
  }

  Putback.search = { fold: fold, terms: terms, searcher: searcher };
})(typeof window === "undefined" ? globalThis : window);
