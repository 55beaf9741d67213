"""What is drawn from the live package while the documentation is built: the library, and words of the trade."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Any

from docutils import nodes
from sphinx.util.docutils import SphinxDirective

from putback.guide.library import Shelf, read_shelf
from putback.model.library import LibraryEntry
from putback.source.schema import shipped
from putback.sphinxext.building import Cell, table
from putback.sphinxext.jobpage import panel
from putback.trade.pairs import PAIRS
from putback.trade.unsaid import UNSAID
from putback.units import show

if TYPE_CHECKING:
    from sphinx.application import Sphinx


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


def setup(app: Sphinx) -> dict[str, Any]:
    """Register the directives."""
    app.add_directive("putback-library", ShowLibrary)
    app.add_directive("putback-words", ShowWords)
    return {"version": "1", "parallel_read_safe": True, "parallel_write_safe": True}
