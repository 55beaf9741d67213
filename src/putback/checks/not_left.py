"""A block or a job says that it leaves something off, but does not.

The job that does the block, the one that continues from the job, and the next person to change it, rely on `ends-with`.
Listing a thing there without need hides the day when it really is forgotten.

Remove the name from `ends-with`, or add the step that is missing.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, Root, leaving
from putback.ledger import Book
from putback.ledger.closing import is_closed
from putback.ledger.disturbing import disturbers_of
from putback.ledger.handover import is_left
from putback.ledger.opened import Opened, wider
from putback.mending.sites import at_line, own_step
from putback.model.called import named, verb_s
from putback.model.job import Block
from putback.model.needed import PLACED
from putback.model.setting import Setting
from putback.model.states import NEVER
from putback.model.terms import Ref
from putback.model.verbs.equipment import Place
from putback.source.finding import Level
from putback.source.grammar import listed
from putback.variants import VariantSet

LEVEL = Level.ERROR
GROUP = Group.CLOSING

FAILS = """
# blocks/guard-off.yaml
block: Take off the belt guard
ends-with: [guard-bolts, belt-guard]
                         ^^^^^^^^^^ belt guard is listed under 'ends-with', but the block does not leave it so
steps:
  - remove: guard-bolts
# jobs/example.yaml
steps:
  - do: guard-off
  - reverse: guard-off
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
# blocks/guard-off.yaml
block: Take off the belt guard
ends-with: [guard-bolts, belt-guard]
steps:
  - remove: guard-bolts
  - remove: belt-guard
# jobs/example.yaml
steps:
  - do: guard-off
  - reverse: guard-off
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield names under `ends-with` whose account closes as a whole machine's would, in every variant."""
    faults = list(_found(opened))
    if faults and opened.only:
        # What the chosen variants do not need, others may.
        everywhere = {fault.span for fault in _found(wider(opened))}
        faults = [fault for fault in faults if fault.span in everywhere]
    yield from faults


def _found(opened: Opened) -> Iterator[Fault]:
    for book in opened.books:
        block = isinstance(book.sequence, Block)
        done = [
            ref
            for ref in book.sequence.ends_with
            if (is_closed(book, ref.name) if block else not is_left(book, ref.name)) and not _by_others(book, ref.name)
        ]
        # What a job does not leave is mostly what one step takes off, that is lost.
        for refs in [[ref] for ref in done] if block else [done] if done else []:
            thing = book.graph.machine.things.get(refs[0].name)
            several = len(refs) > 1 or (thing is not None and verb_s(thing, "is", "are") == "are")
            listed_so = f"{_called(book, refs)} {'are' if several else 'is'} listed under 'ends-with'"
            what, them = "block" if block else "job", "them" if several else "it"
            message = f"{listed_so}, but the {what} does not leave {them} so"
            hint = _placed(book, refs[0].name) if block else None
            yield Fault(refs[0].span, message, (), hint, _all(book), root=_root(book, refs))


def _placed(book: Book, name: str) -> str | None:
    """Return the step that puts equipment in place before the first thing that needs it there; None for no such."""
    if name not in book.library.equipment or any(
        entry.target and entry.target.name == name for entry in book.of(Place)
    ):
        return None
    for entry in book.entries:
        thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
        if thing and any(need.control.name == name and need.position.name == PLACED for need in thing.needs):
            return f"add 'place: {name}' before {at_line(own_step(entry), book.sequence.span)}"
    return None


def _called(book: Book, refs: list[Ref]) -> str:
    things, equipment = book.graph.machine.things, book.library.equipment
    names = [
        named(things[ref.name])
        if ref.name in things
        else equipment[ref.name].name
        if ref.name in equipment
        else ref.name
        for ref in refs
    ]
    return listed(names if len(names) < 6 else [*names[:4], f"{len(names) - 4} others"])


def _all(book: Book) -> VariantSet | None:
    return None if isinstance(book.sequence, Block) else book.graph.space.built


def _root(book: Book, refs: list[Ref]) -> Root:
    """Where a step of the job needs it off, that is told of the step, and no more."""
    if isinstance(book.sequence, Block):
        return leaving(book, refs[0].name)
    names = ",".join(ref.name for ref in refs)
    return Root(book.sequence.path, names, ",".join("off" for _ in refs), NEVER, len(book.entries))


def _by_others(book: Book, name: str) -> bool:
    """Tell whether a setting is not disturbed since what disturbs it is not left either: that is told."""
    thing = book.graph.machine.things.get(name)
    listed = {ref.name for ref in book.sequence.ends_with}
    others = {ref.name for ref, _ in disturbers_of(book.graph, thing)} & listed if isinstance(thing, Setting) else set()
    return any(is_closed(book, other) for other in others)
