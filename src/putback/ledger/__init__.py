"""The ledger: an account for everything in the machine, and an entry for every step.

`entries` writes a job or block out into single entries, each with the variants in which it happens. What an account can
hold stands in `model.states`, and how an entry changes it in the record of its verb. `walk` posts all entries and
returns a `Book`, which answers what stood where before any step, in which variants, and by which step. `hazards` says
what can hurt at an entry.

For others to call: `open_book`, `Book.before`, `Book.obstacles`, `Book.closing`, `hazards.hazards_at`.
"""

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.ledger.journey import End
from putback.ledger.obstacles import Obstacle
from putback.ledger.walk import open_book

__all__ = ["Book", "End", "Entry", "Obstacle", "open_book"]
