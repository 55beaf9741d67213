"""Something comes off and never goes back.

The job ends with a part or fastener on the bench. Whatever was taken off must be installed again, in
every variant. A block may leave things off when it lists them under `ends-with`.

Add an `install` step for it, in the variants that lack one.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, at_end
from putback.ledger.closing import Unfinished, unfinished
from putback.ledger.newness import is_condemned
from putback.ledger.opened import Opened
from putback.model.called import counted, placed, verb_s
from putback.model.states import GroupState, PartState
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.source.span import Span
from putback.variants import VariantSet

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
            hint = None
            if is_condemned(left.state):
                hint = f"what is replaced while it is off goes on with 'install: {left.key}': add that step"
            yield Fault(left.span, message, left.ways, hint, left.variants, left.among, root)
        for (block, span, variants), found in by_block.items():
            come = "comes" if len(found) == 1 and verb_s(found[0][1].thing, "is", "are") == "is" else "come"
            go = "goes" if come == "comes" else "go"
            message = f"{listed([words for words, _ in found])} {come} off here and never {go} back"
            also = tuple(way for _, left in found for way in left.ways)
            hint = f"add 'reverse: {block}', or steps that put it back"
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
