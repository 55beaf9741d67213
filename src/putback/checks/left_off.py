"""Something comes off and never goes back.

The job ends with a part or fastener on the bench. Whatever was taken off must be installed again, in every variant. A
block may leave things off if it lists them under `ends-with`.

Add an `install` step for it, in the variants that lack one.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end
from putback.ledger.book import Book
from putback.ledger.closing import Unfinished, unfinished
from putback.ledger.newness import is_condemned
from putback.ledger.opened import Opened
from putback.mending.listing import listed_at_end
from putback.mending.missing import back_block, back_step, site_of, tightened_later
from putback.mending.sites import some_when, with_keys
from putback.model.called import counted, placed, verb_s
from putback.model.job import Block
from putback.model.machine import Fastener, Line, Part
from putback.model.states import GroupState, PartState
from putback.model.verbs.pieces import Install, Replace
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.span import Span
from putback.variants import NONE, VariantSet

LEVEL = Level.ERROR
GROUP = Group.CLOSING
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


def find(opened: Opened) -> Iterator[Fault]:
    """Yield what is off at the end; what a block leaves is one fault at the step that does the block."""
    for book in opened.books:
        by_block: dict[tuple[str, Span, VariantSet], list[tuple[str, Unfinished]]] = {}
        for left in unfinished(book):
            what = _left(left)
            if what is None or left.thing is None:
                continue
            if left.block is not None:
                by_block.setdefault((left.block, left.span, left.variants), []).append((what[0], left))
                continue
            words, count = what
            off, back = verb_s(left.thing, "comes", "come", count), verb_s(left.thing, "goes", "go", count)
            message = f"{words} {off} off and never {back} back"
            root = at_end(book, left.key, left.entry)
            hint = _hint(opened, book, left)
            if is_condemned(left.state):
                hint = f"what is replaced while it is off must still be installed: add 'install: {left.key}'"
            yield Fault(left.span, message, left.ways, hint, left.variants, left.among, root)
        for (_, span, variants), found in by_block.items():
            come = "comes" if len(found) == 1 and verb_s(found[0][1].thing, "is", "are") == "is" else "come"
            go = "goes" if come == "comes" else "go"
            message = f"{listed([words for words, _ in found])} {come} off here and never {go} back"
            also = tuple(way for _, left in found for way in left.ways)
            hint = back_step(book, "install", found[0][1]) if len(found) == 1 else back_block(book, found[0][1])
            root = at_end(book, ",".join(left.key for _, left in found), found[0][1].entry)
            yield Fault(span, message, also, hint, variants, found[0][1].among, root)


def _left(left: Unfinished) -> tuple[str, int] | None:
    """Return what is off, in words and in number; None when it is not off, or told by `pieces-missing`."""
    match left.thing, left.state:
        case (thing, PartState(on=False)) if thing is not None:
            return thing.name, 1
        case (thing, GroupState(out=out, taken=taken, places=places)) if thing is not None and out and out >= taken:
            return f"{counted(thing, out)}{placed(thing, places, as_='out')}", out
        case _:
            return None


def _hint(opened: Opened, book: Book, left: Unfinished) -> str | None:
    """Return the steps that put it back: with a new one, a way of turning, a tightening, where they are called for."""
    thing, withs = left.thing, list[str]()
    if _elsewhere(book, left):
        return None
    if listing := listed_at_end(opened, book, left.key):
        return listing
    if isinstance(book.sequence, Block) and _by_others(opened, book, left.key):
        return "if the job that does this block puts it back, list it under 'ends-with'"
    if isinstance(thing, Part | Fastener) and thing.single_use:
        withs.append("'new: true'")
    if isinstance(thing, Part) and thing.rotation:
        withs.append(f"'turn: {thing.rotation}'")
    when = some_when(book, left.key, left.variants)
    then = f" and 'align: {left.key}'{with_keys(when)}" if _strayed(book, left) else ""
    if isinstance(thing, Fastener) and thing.turned and not tightened_later(book, left):
        then += f" and 'tighten: {left.key}'{with_keys(when)}"
    return f"add 'install: {left.key}'{with_keys([*withs, *when])}{then}{site_of(book, left, left.span)}"


def _elsewhere(book: Book, left: Unfinished) -> bool:
    """Tell whether it goes back on another way through the job only: one step more would be one too many there."""
    space = book.graph.space
    here = space.variants_of(left.variants)
    return any(
        entry.target and entry.target.name == left.key and space.both(space.variants_of(entry.variants), here) != NONE
        for entry in book.of(Install, Replace)
        if left.entry is None or entry.index > left.entry.index
    )


def _by_others(opened: Opened, book: Book, key: str) -> bool:
    """Tell whether a job or block puts back what this one leaves."""
    return any(
        isinstance(step.action, Install) and key in {ref.name for ref in step.things}
        for sequence in opened.guide.sequences()
        if sequence.path != book.sequence.path
        for step in sequence.steps()
    )


def _strayed(book: Book, left: Unfinished) -> bool:
    """Tell whether it was marked before it came off, and is to be aligned."""
    return isinstance(left.thing, Part | Line) and left.thing.adjustable
