/* The sheets of this job, and a sheet as a file. */
(function (root) {
  "use strict";
  const Putback = (root.Putback = root.Putback || {});
  const { make, button, fill, say, set, day } = Putback.page;

  function open(job, words, bench, tell) {
    const at = words.sheet;
    const list = make("ul", { class: "bench-list" });
    const name = make("input", { type: "text", autocomplete: "off", maxlength: "60", change: () => bench.nameSheet(bench.state().sheet.id, name.value.trim()) });
    const note = make("textarea", { rows: "3", maxlength: "2000", input: () => bench.note(note.value) });
    const away = button("", () => {
      const { sheet } = bench.state();
      bench.putAway(sheet.id, !sheet.away);
      fillIn();
    });
    const asked = make("div", { class: "bench-asked", role: "group", tabindex: "-1" });
    const file = make("input", { type: "file", accept: ".json,application/json", change: () => take(file.files[0]) });
    const kept = make("p", {});
    const edition = make("p", {});
    const dialog = make("dialog", { class: "bench-dialog", "aria-labelledby": "bench-sheet-title" },
      make("div", { class: "bench-head" },
        make("h2", { id: "bench-sheet-title" }, at.title),
        button(words.bar.close, () => dialog.close())),
      asked,
      make("p", {}, at.lead),
      list,
      make("div", { class: "bench-buttons" },
        button(at.new, () => {
          bench.newSheet("");
          fillIn();
          name.focus();
        }),
        away,
        button(at.drop, drop)),
      make("label", { class: "bench-field" }, make("span", {}, at.name), name),
      make("label", { class: "bench-field" }, make("span", {}, at.note), note),
      kept,
      edition,
      make("h3", {}, at.file),
      make("p", {}, at.file_lead),
      make("div", { class: "bench-buttons" }, button(at.export, save)),
      make("label", { class: "bench-field" }, make("span", {}, at.take), file));
    document.body.append(dialog);
    dialog.addEventListener("close", () => asked.replaceChildren());

    const called = (sheet) => sheet.name || fill(at.unnamed, { date: day(sheet.made) });

    /** Ask or tell something at the head of the dialog; each answer clears it. */
    function ask(text, ...answers) {
      asked.replaceChildren(make("p", { role: "alert" }, text), make("div", { class: "bench-buttons" },
        ...answers.map(([label, act]) => button(label, () => {
          asked.replaceChildren();
          act();
          fillIn();
        }))));
      asked.focus();
    }

    function row(sheet, current) {
      const tags = [sheet.id === current ? at.open_now : "", sheet.away ? at.away : "", sheet.same === false ? at.older : ""];
      const label = fill(at.row, { name: called(sheet), done: sheet.done, date: day(sheet.changed || sheet.made) });
      const out = make("li", {}, sheet.id === current ? make("strong", {}, label) : label, " ");
      tags.filter((tag) => tag).forEach((tag) => out.append(make("span", { class: "bench-tag" }, tag), " "));
      if (sheet.id !== current) {
        out.append(button(fill(at.open, { name: called(sheet) }), () => {
          bench.openSheet(sheet.id);
          fillIn();
        }));
      }
      return out;
    }

    function fillIn() {
      const { sheet, note: text, kept: how, edition: other } = bench.state();
      list.replaceChildren(...bench.sheets().map((each) => row(each, sheet.id)));
      if (document.activeElement !== name) set(name, "value", sheet.name || "");
      if (document.activeElement !== note) set(note, "value", text || "");
      const steps = other ? (other.numbers || []).join(", ") || "–" : "";
      say(edition, other ? fill(at.edition, { kept: other.kept, lost: other.lost, steps }) : "");
      say(away, sheet.away ? at.take_out : at.put_away);
      say(kept, `${how === "yes" ? at.kept : how === "full" ? words.said.full : words.said.not_kept} ${at.screen_on}`);
    }

    function drop() {
      const { sheet } = bench.state();
      ask(fill(at.drop_sure, { name: called(sheet) }), [at.drop_yes, () => bench.dropSheet(sheet.id)], [at.keep, () => {}]);
    }

    function save() {
      const out = bench.exported();
      const address = URL.createObjectURL(new Blob([out.text], { type: out.type }));
      const link = make("a", { href: address, download: out.name });
      document.body.append(link);
      link.click();
      link.remove();
      setTimeout(() => URL.revokeObjectURL(address), 60000);
      tell(fill(words.said.exported, { name: out.name }));
    }

    function refused(found) {
      const code = String(found.code || "").replace(/-/g, "_");
      const pattern = words.refusal[code] || words.refusal.not_a_record;
      return fill(pattern, { guide: found.guide || "", title: found.title || found.job || "", where: found.where || "" });
    }

    function take(chosen) {
      if (!chosen) return;
      file.value = "";
      const done = [words.bar.close, () => {}];
      if (chosen.size > 4 * Putback.files.BIGGEST) return void ask(words.refusal.too_big, done);
      chosen.text().then((text) => offer(bench.examine(text), done), () => ask(words.refusal.unread, done));
    }

    function offer(found, done) {
      if (!found.ok) return ask(refused(found), done);
      const lines = [fill(at.taken, { name: called({ name: found.name, made: found.changed }), date: day(found.changed) })];
      if (found.twin) lines.push(found.equal ? `${at.twin} ${at.equal}` : at.twin);
      if (!found.same) lines.push(fill(at.other_edition, { kept: found.kept, lost: found.lostCount, steps: (found.lost || []).join(", ") || "–" }));
      const into = (how) => () => {
        const taken = bench.take(found, { as: how });
        if (taken && taken.ok === false) ask(refused(taken), done);
        else tell(fill(words.said.imported, { name: called(bench.state().sheet) }));
      };
      const ways = [[at.as_own, into("own")]];
      if (found.twin) ways.push([at.merge, into("merge")]);
      return ask(lines.join(" "), ...ways, [at.keep, () => {}]);
    }

    return {
      shown: () => dialog.open && fillIn(),
      open() {
        fillIn();
        dialog.showModal();
      },
      called,
    };
  }

  Putback.sheetView = { open };
})(window);
