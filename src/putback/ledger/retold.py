"""Whether a guide in another language has the same ledger: what was proved is what is printed."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.ledger.opened import Opened


def changed_by_words(proved: Opened, printed: Opened) -> str | None:
    """Return the file of the first job or block whose ledger is not the same in the other language; None for none."""
    if len(proved.books) != len(printed.books):
        return proved.guide.shown
    pairs = zip(proved.books, printed.books, strict=True)
    return next((own.sequence.path for own, other in pairs if _entries(own) != _entries(other)), None)


def _entries(book: Book) -> list[tuple[object, ...]]:
    return [(each.step.key, each.target and each.target.name, each.variants) for each in book.entries]
