"""An adjustable part comes off unmarked, or goes back without being aligned.

Its old position is lost, or never restored: a trim tab that pulls to one side, timing that knocks. The machine file
says `adjustable: true`.

Alike pieces with `own-places: true` (push rods, valves) have run in with their neighbours: mixed up, they wear all over
again.

Mark or measure it before what holds it is loose, and add an `align` step after it goes back. For pieces with places of
their own, `mark` each, or lay them out in order (in the `text` of that step); they need no `align`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.ledger import Book
from putback.ledger.book import memory_account
from putback.ledger.opened import Opened
from putback.mending.sooner import before_loose
from putback.model.called import has_own_places, is_one_of_a_kind, named, verb_s
from putback.model.machine import Line, Part
from putback.model.states import GroupState, LineState, MarkState, PartState, is_whole
from putback.model.verbs.lines import Disconnect
from putback.model.verbs.marking import Align
from putback.model.verbs.pieces import Remove, Replace
from putback.source.finding import Level
from putback.variants import NONE

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - remove: tensioner-bolt
  - remove: tensioner
            ^^^^^^^^^ tensioner comes off, but its position is not marked or measured first
  - install: tensioner
  - align: tensioner
  - install: tensioner-bolt
  - tighten: tensioner-bolt
  - check: belt
    limit: gives 10 mm at 20 N
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - mark: tensioner
  - remove: tensioner-bolt
  - remove: tensioner
  - install: tensioner
  - align: tensioner
  - install: tensioner-bolt
  - tighten: tensioner-bolt
  - check: belt
    limit: gives 10 mm at 20 N
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield adjustable parts that come off unmarked, or are in place but astray at the end."""
    for book in opened.in_place():
        yield from _unmarked(book)
    for book in opened.books:
        yield from _aligned_off(book)
        yield from _astray(book)


def _unmarked(book: Book) -> Iterator[Fault]:
    for entry in book.of(Remove, Replace, Disconnect):
        target = entry.target
        if target is None or memory_account(target.name) not in book.history:
            continue
        variants = book.where(
            memory_account(target.name),
            entry,
            lambda state: isinstance(state, MarkState) and not state.marked and not state.astray,
        )
        if variants != NONE:
            thing = book.graph.machine.things[target.name]
            message = f"{thing.name} comes off, but its position is not marked or measured first"
            if has_own_places(thing):
                come = verb_s(thing, "comes", "come")
                where = "which way round it goes back" if is_one_of_a_kind(thing) else "which piece goes back where"
                message = f"{named(thing)} {come} off, but nothing shows {where}"
            hint = f"add 'mark: {target.name}' before {before_loose(book, entry, target.name)}"
            yield Fault(target.span, message, entry.ways, hint, variants, book.reached(entry))


def _aligned_off(book: Book) -> Iterator[Fault]:
    """Yield parts that are aligned while they are off: they go back anyhow after that."""
    for entry in book.of(Align):
        target = entry.target
        thing = book.graph.machine.things.get(target.name) if target else None
        if target is None or not isinstance(thing, Part | Line):
            continue
        for variants, state in book.before(target.name, entry):
            if isinstance(state, PartState | GroupState | LineState) and not is_whole(state):
                message = f"{thing.name} is aligned here, but is not in place"
                also = (*cause(book, state.off_by, "it came off here"), *entry.ways)
                yield Fault(target.span, message, also, "align it after it goes back", variants, book.reached(entry))


def _astray(book: Book) -> Iterator[Fault]:
    for key, thing in book.graph.machine.things.items():
        if not isinstance(thing, Part | Line) or not thing.adjustable or key in book.leaves:
            continue
        # Of each end by itself: ways to two of them have nothing to do with each other.
        closings = ((end, held) for end in book.ends for held in book.closing(memory_account(key), end))
        for end, (variants, state) in closings:
            if not isinstance(state, MarkState) or not state.astray:
                continue
            for held, piece in book.closing(key, end):
                here = book.graph.space.both(variants, held)
                if here == NONE or not isinstance(piece, PartState | GroupState | LineState) or not is_whole(piece):
                    continue
                entry = book.by(piece.on_by)
                also = (
                    *cause(book, state.on_by, "marked here"),
                    *cause(book, state.off_by, "it came off here"),
                )
                yield Fault(
                    entry.target.span if entry and entry.target else book.sequence.span,
                    f"{thing.name} goes back and is never aligned again",
                    (*also, *(entry.ways if entry else ())),
                    f"add 'align: {key}' after it",
                    here,
                    end.variants,
                )
