"""A shopping list on a page, with boxes to tick."""

from __future__ import annotations

from collections.abc import Iterator

from docutils import nodes

from putback.ledger.opened import Opened
from putback.sheet.supply import ShoppingList
from putback.sphinxext.building import paragraph, table
from putback.words import Language
from putback.words.shopping import ShownSupply, shown_list


def shopping_tables(wanted: ShoppingList, opened: Opened, words: Language) -> Iterator[nodes.Node]:
    """Yield a table for each kind of thing to get, with what leads to it."""
    labels = words.labels.supplies
    titles = words.names([words.job_named(each.title) for each in wanted.jobs])
    yield paragraph(f"{labels.jobs}: {titles}.")
    parts = list(shown_list(wanted, opened, words))
    yield paragraph(labels.lead if parts else labels.nothing)
    for part in parts:
        title = paragraph("", "leads-in")
        title += nodes.strong(part.title, part.title)
        yield title
        yield _table(part.rows, words)


def _table(rows: tuple[ShownSupply, ...], words: Language) -> nodes.table:
    """Return rows to tick; without columns for amounts and numbers where no row has any."""
    labels = words.labels.supplies
    names = [f"{row.name} ({row.limits})" if row.limits else row.name for row in rows]
    if not any(row.amount or row.number for row in rows):
        return table(
            [labels.item, labels.got], [(name, "☐") for name in names], (90, 10), "supplies", "colwidths-given"
        )
    body = [(name, row.number or "–", row.amount or "–", "☐") for row, name in zip(rows, names, strict=True)]
    heads = [labels.item, words.labels.job.number, labels.amount, labels.got]
    return table(heads, body, (54, 18, 20, 8), "supplies", "colwidths-given")
