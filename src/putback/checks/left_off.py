"""Something comes off and never goes back.

The job ends with a part or fastener on the bench. Whatever was taken off must be installed again, in
every variant. A block may leave things off when it lists them under `leaves`.

Add an `install` step for it, in the variants that lack one.
"""

from collections.abc import Iterator

from putback.checks import Case, Fault
from putback.finding import Level
from putback.ledger.closing import unfinished
from putback.ledger.states import Group, Piece
from putback.words import counted, placed, verb_s

LEVEL = Level.ERROR
INJURES = True

FAILS = """
steps:
  - remove: cover-screws
            ^^^^^^^^^^^^ six cover screws come off and never go back
"""

PASSES = """
steps:
  - remove: guard-bolts
  - install: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(case: Case) -> Iterator[Fault]:
    """Yield what is off at the end."""
    for book in case.books:
        for left in unfinished(book):
            if left.thing is None:
                continue
            match left.state:
                case Piece(on=False):
                    count = 1
                case Group(out=out, taken=taken) if out and out >= taken:
                    count = out
                case _:
                    continue
            off = verb_s(left.thing, "comes", "come", count)
            back = verb_s(left.thing, "goes", "go", count)
            where = placed(left.thing, left.state.places, as_="out") if isinstance(left.state, Group) else ""
            message = f"{counted(left.thing, count)}{where} {off} off and never {back} back"
            yield Fault(left.span, message, left.ways, worlds=left.worlds, among=book.alive)
