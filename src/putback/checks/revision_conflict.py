"""The list of revisions does not agree with the cover, or with itself.

Whoever has a printed book compares its cover with the list, to know whether it is still good. When the newest entry is
not the edition on the cover, or the dates do not go back from one entry to the next, an old book passes for a new one.

Put the newest edition first, and write its name and date as on the cover; or leave `edition` and `date` out, and the
cover has those of the newest.
"""

from collections.abc import Iterator
from itertools import pairwise

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.cover import Cover
from putback.model.said import Said
from putback.source.finding import Also, Level
from putback.source.quoting import quote

LEVEL = Level.WARNING
GROUP = Group.NUMBERS

FAILS = """
# guide.yaml
title: The pump
edition: 1st edition
         ^^^^^^^^^^^ this is '1st edition', but the newest of 'revisions' is '2nd edition'
revisions:
  - {edition: 2nd edition, date: 2026-03-01, changes: [The belt is renewed every year.]}
  - {edition: 1st edition, date: 2026-05-01, changes: [A first book.]}
                                 ^^^^^^^^^^ 2026-05-01 is later than the date of the edition above it
"""

PASSES = """
# guide.yaml
title: The pump
edition: 2nd edition
revisions:
  - {edition: 2nd edition, date: 2026-05-01, changes: [The belt is renewed every year.]}
  - {edition: 1st edition, date: 2026-03-01, changes: [A first book.]}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what cannot be so in the revisions of a guide."""
    cover = opened.guide.cover
    if cover is not None and cover.revisions:
        yield from _on_the_cover(cover)
        yield from _among_themselves(cover)


def _on_the_cover(cover: Cover) -> Iterator[Fault]:
    newest = cover.revisions[0]
    for here, there in ((cover.edition, newest.edition), (cover.date, newest.date)):
        if isinstance(here, Said) and here != there:
            message = f"this is {quote(here)}, but the newest of 'revisions' is {quote(there)}"
            yield Fault(here.span, message, (Also(there.span, "the newest"),))


def _among_themselves(cover: Cover) -> Iterator[Fault]:
    for newer, older in pairwise(cover.revisions):
        if older.date > newer.date:
            message = f"{older.date} is later than the date of the edition above it"
            yield Fault(older.date.span, message, (Also(newer.date.span, "above it"),))
    seen: dict[str, Said] = {}
    for each in cover.revisions:
        before = seen.setdefault(each.edition, each.edition)
        if before is not each.edition:
            message = f"{quote(each.edition)} is there twice"
            yield Fault(each.edition.span, message, (Also(before.span, "the other one"),))
