"""Pages drawn from the live package while the documentation is built: checks, library, changes.

Each check gets a page of two lines in `docs/checks/`, which git ignores; what stands on it comes from the check's
module.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING, Any

from docutils import nodes
from sphinx import addnodes
from sphinx.errors import ExtensionError
from sphinx.util.docutils import SphinxDirective

from putback.checks import Group, KnownCheck, own_checks
from putback.guide.library import Shelf, read_shelf
from putback.model.library import LibraryEntry
from putback.source.schema import shipped
from putback.sphinxext.building import Cell, paragraph, section, table
from putback.sphinxext.jobpage import panel
from putback.trade.pairs import PAIRS
from putback.trade.unsaid import UNSAID
from putback.units import show

if TYPE_CHECKING:
    from sphinx.application import Sphinx

FOUND_BY = {
    "load": "while the file is read",
    "schema": "while the shape of the file is compared with its schema",
    "model": "while the values in the file are understood",
    "guide": "while the files of a guide are brought together",
    "lint": "after all other checks",
}
"""When a check without a generator of its own is found, by its `STAGE`."""

CHANGE = re.compile(r"(\d{4})\.([a-z-]+)\.md")
"""The name of a changelog fragment."""


def grouped(checks: Iterable[KnownCheck]) -> dict[Group, list[KnownCheck]]:
    """Return the checks by group, in the order of the groups; a group without checks is left out."""
    found: dict[Group, list[KnownCheck]] = {group: [] for group in Group}
    for check in checks:
        found[check.group].append(check)
    return {group: members for group, members in found.items() if members}


class ShowCheck(SphinxDirective):
    """What a check means: its text, level, whether it can be waived, and its two examples."""

    required_arguments = 1

    def run(self) -> list[nodes.Node]:
        """Return the page's nodes."""
        check = own_checks()[self.arguments[0]]
        self.env.note_dependency(check.file)
        waived = (
            "An author can waive it, with a reason."
            if check.can_be_waived
            else ("It cannot be waived: missing it can injure somebody.")
        )
        found = FOUND_BY.get(check.stage or "")
        when = f" It is found {found}." if found else ""
        return [
            *self.parse_text_to_nodes(check.text),
            paragraph(f"Level: {check.level.value}. {waived}{when}"),
            section("This fails", "fails", _code(check.module.FAILS, "text")),
            section("This passes", "passes", _code(check.module.PASSES, _lexer(check.module.PASSES))),
        ]


def _lexer(example: str) -> str:
    """Return what an example is written in: one with a page of prose in it is no YAML as a whole."""
    return "text" if ".md\n" in example else "yaml"


def _code(text: str, language: str) -> nodes.literal_block:
    text = text.strip("\n")
    return nodes.literal_block(text, text, language=language, classes=["example"])


class ShowChecks(SphinxDirective):
    """The table of all checks, by group."""

    def run(self) -> list[nodes.Node]:
        """Return a heading, what it is about, and a table for each group."""
        checks = own_checks()
        shown: list[nodes.Node] = []
        for group, members in grouped(checks.values()).items():
            shown += [nodes.rubric("", group.title), paragraph(group.about)]
            rows = [self.row(check) for check in members]
            shown.append(table(["Check", "What is wrong", "Level", "Can be waived"], rows, (22, 54, 12, 12), "checks"))
        toctree = addnodes.toctree(
            parent=self.env.docname, entries=[(None, f"checks/{name}") for name in checks], hidden=True, glob=False,
            includefiles=[f"checks/{name}" for name in checks], maxdepth=1, caption=None, titlesonly=True, numbered=0,
            includehidden=False, rawentries=[], rawcaption="",
        )  # fmt: skip
        return [*shown, toctree]

    def row(self, check: KnownCheck) -> list[Cell]:
        """Return one check's row; its name leads to its page."""
        link = addnodes.pending_xref(
            "", refdomain="std", reftype="doc", reftarget=f"/checks/{check.name}", refexplicit=True, refwarn=True
        )
        link += nodes.literal(check.name, check.name)
        name = nodes.paragraph("", "", link)
        summary = nodes.paragraph("", "", *self.parse_inline(check.summary)[0])
        return [name, summary, check.level.value, "yes" if check.can_be_waived else "no"]


class ShowLibrary(SphinxDirective):
    """One file of the library that comes with Putback."""

    required_arguments = 1

    def run(self) -> list[nodes.Node]:
        """Return safety messages as panels, everything else as a table."""
        name = self.arguments[0]
        folder = shipped("shared")
        self.env.note_dependency(str(folder / f"{name}.yaml"))
        shelf = read_shelf(folder, "shared")
        if name == "cautions":
            return list(_cautions(shelf))
        heads, widths = _HEADS[name]
        rows = [[_literal(key), *_facts(entry)] for key, entry in getattr(shelf, name).items()]
        return [table(heads, rows, widths, "library")]


_HEADS = {
    "hazards": (["Name", "Hazard", "Least signal word", "Comes from"], (22, 28, 18, 32)),
    "tools": (["Name", "Tool", "Range or drive"], (30, 35, 35)),
    "consumables": (["Name", "Consumable", "Tags"], (34, 36, 30)),
    "equipment": (["Name", "Equipment", "Rated load"], (34, 46, 20)),
}


def _cautions(shelf: Shelf) -> Iterator[nodes.Node]:
    for key, message in shelf.cautions.items():
        covers = [ref.name for ref in message.covers]
        line = nodes.paragraph("", "", nodes.literal(key, key))
        line += nodes.Text(f" covers {', '.join(covers)}" if covers else " covers no hazard")
        yield line
        yield panel(message)


def _literal(word: str) -> nodes.paragraph:
    return nodes.paragraph("", "", nodes.literal(word, word))


def _facts(entry: LibraryEntry) -> list[Cell]:
    facts: list[str] = []
    for name in ("verbs", "drives"):
        facts += getattr(entry, name, ())
    facts += [getattr(tag, "name", tag) for tag in getattr(entry, "tags", ())]
    for name in ("range", "rated_load"):
        if quantity := getattr(entry, name, None):
            facts.append(show(quantity))
    least = getattr(entry, "signal_at_least", None)
    return [entry.name, *([least.value] if least else []), ", ".join(facts) or "–"]


class ShowWords(SphinxDirective):
    """Words of the trade: pairs, or what nobody says."""

    required_arguments = 1

    def run(self) -> list[nodes.Node]:
        """Return a table."""
        if self.arguments[0] == "unsaid":
            said: list[list[Cell]] = [[each.words, _right(each.uk), _right(each.us or each.uk)] for each in UNSAID]
            return [table(["Nobody says", "British", "American"], said, (40, 30, 30), "words")]
        rows: list[list[Cell]] = [[_forms(pair.uk, pair.not_uk), _forms(pair.us, pair.not_us)] for pair in PAIRS]
        return [table(["British", "American"], rows, (50, 50), "words")]


def _forms(words: str, unless: str) -> str:
    return f"{words.replace('|', ', ')}{' (on both sides)' if unless == '.' else ''}"


def _right(words: str) -> str:
    return words.format(n="400")


class ShowChanges(SphinxDirective):
    """All changelog fragments, newest first."""

    def run(self) -> list[nodes.Node]:
        """Return a list with one item a fragment."""
        folder = Path(self.env.srcdir) / "changes"
        listed = nodes.bullet_list(bullet="-")
        for path in sorted(folder.glob("*.md"), reverse=True):
            self.env.note_dependency(str(path))
            if not CHANGE.fullmatch(path.name):
                raise ExtensionError(f"docs/changes/{path.name} is not named NNNN.topic.md")
            listed += nodes.list_item("", *self.parse_text_to_nodes(path.read_text(encoding="utf-8")))
        return [listed]


def write_pages(app: Sphinx, config: object) -> None:
    """Write a page for each check before Sphinx looks for pages, and take away those of checks that are gone."""
    del config
    folder = Path(app.srcdir) / "checks"
    for path in folder.glob("*.md"):
        if path.stem != "index" and path.stem not in own_checks():
            path.unlink()
    for name in own_checks():
        path = folder / f"{name}.md"
        text = f"# {name}\n\n```{{putback-check}} {name}\n```\n"
        if not path.is_file() or path.read_text(encoding="utf-8") != text:
            path.write_text(text, encoding="utf-8")


def setup(app: Sphinx) -> dict[str, Any]:
    """Register the directives."""
    app.connect("config-inited", write_pages)
    app.add_directive("putback-check", ShowCheck)
    app.add_directive("putback-checks", ShowChecks)
    app.add_directive("putback-library", ShowLibrary)
    app.add_directive("putback-words", ShowWords)
    app.add_directive("putback-changes", ShowChanges)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
