"""A shopping list on a page, with boxes to tick, and on sheets of its own."""

from __future__ import annotations

from collections.abc import Iterator

from docutils import nodes

from putback.ledger.opened import Opened
from putback.sheet.supply import ShoppingList
from putback.sphinxext.building import paragraph, table
from putback.words import Language
from putback.words.shopping import shown_list


def shopping_tables(wanted: ShoppingList, opened: Opened, words: Language) -> Iterator[nodes.Node]:
    """Yield a table for each kind of thing to get, with what leads to it."""
    labels, job = words.labels.supplies, words.labels.job
    titles = words.names([words.job_named(each.title) for each in wanted.jobs])
    yield paragraph(f"{labels.jobs}: {titles}.")
    parts = list(shown_list(wanted, opened, words))
    yield paragraph(labels.lead if parts else labels.nothing)
    for part in parts:
        yield paragraph(part.title, "list-of-supplies", "leads-in")
        rows = [
            ("☐", row.amount or "–", f"{row.name} ({row.limits})" if row.limits else row.name, row.number or "–")
            for row in part.rows
        ]
        yield table([labels.got, labels.amount, labels.item, job.number], rows, (8, 20, 52, 20), "supplies")
