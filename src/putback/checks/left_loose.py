"""A fastener is left loose or hand-tight.

What is only hand-tight works loose, leaks, or falls off in use. So does what was tightened to a first stage, 4 N·m
where 12 N·m is due, and then forgotten.

Add a `tighten` step after the last `install` or `loosen`, or after the last stage.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group, cause
from putback.joints.stages import StageKind
from putback.ledger import Book
from putback.ledger.closing import Unfinished, is_closed, unfinished
from putback.ledger.loosened import loosened_by
from putback.ledger.opened import Opened
from putback.mending.listing import listed_at_end
from putback.mending.tightening import tightened_hint
from putback.model.called import counted, named, placed, verb_s
from putback.model.groups import standing
from putback.model.machine import Fastener
from putback.model.reach import LOOSE, Reach
from putback.model.states import GroupState, Reached
from putback.model.verbs.pieces import Loosen, Tighten
from putback.source.finding import Also, Level
from putback.source.grammar import listed, number

LEVEL = Level.ERROR
GROUP = Group.CLOSING
INJURES = True

FAILS = """
steps:
  - remove: guard-bolts
  - install: guard-bolts
             ^^^^^^^^^^^ two guard bolts go in hand-tight and are never tightened
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""

PASSES = """
steps:
  - loosen: guard-bolts
  - tighten: guard-bolts
  - check: belt guard
    limit: does not rattle
    otherwise:
      - stop: Do the job again.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield groups that are not tight at the end."""
    for book in opened.books:
        for left in unfinished(book):
            state, thing = left.state, left.thing
            if isinstance(state, GroupState) and state.loose and isinstance(thing, Fastener):
                plain = [some for some in standing(state) if some.level == LOOSE]
                fault = _never(book, left, state, thing, plain) if plain else _only(book, left, state, thing)
                listing = listed_at_end(opened, book, left.key) if fault.hint else None
                yield fault._replace(hint=listing) if listing else fault


def _never(book: Book, left: Unfinished, state: GroupState, thing: Fastener, plain: list[Reached]) -> Fault:
    """Pieces that nothing tightens; what is said of others, which only a stage was reached of, goes with it."""
    entry, count = loosened_by(book, state, thing, plain), sum(some.count for some in plain)
    be = verb_s(thing, "is", "are", count)
    other = book.graph.machine.things.get(entry.target.name) if entry and entry.target else None
    if other is not None and other.key != thing.key:
        done = f"{be} loose once {named(other)} {verb_s(other, 'comes', 'come')} off"
    elif entry and isinstance(entry.step.action, Loosen):
        done = f"{be} loosened"
    else:
        done = f"{verb_s(thing, 'goes', 'go', count)} in hand-tight{'' if entry else ' or loose'}"
    waits = other is not None and other.key != thing.key and not is_closed(book, other.key)
    loosened = entry is not None and isinstance(entry.step.action, Loosen)
    message = f"{counted(thing, count)}{_where(thing, plain)} {done} and {be} never tightened"
    message += f"; {_reached(book, state, thing)}" if state.staged else ""
    return Fault(
        entry.target.span if entry and entry.target else left.span,
        message,
        (*_cause(book, state), *(entry.ways if entry else ())),
        hint=None if waits else tightened_hint(book, left, entry, loosened=loosened),
        variants=left.variants,
        among=left.among,
    )


def _only(book: Book, left: Unfinished, state: GroupState, thing: Fastener) -> Fault:
    """Pieces of which a stage was reached, and no more."""
    entry = book.by(state.to_by)
    action = entry.step.action if entry else None
    span = action.torque_span if isinstance(action, Tighten) else None
    return Fault(
        span or (entry.target.span if entry and entry.target else left.span),
        _reached(book, state, thing),
        (*_cause(book, state), *(entry.ways if entry else ())),
        hint=tightened_hint(book, left, entry),
        variants=left.variants,
        among=left.among,
    )


def _cause(book: Book, state: GroupState) -> tuple[Also, ...]:
    return cause(book, state.off_by, "taken out here") if state.off_by != state.on_by else ()


def _reached(book: Book, state: GroupState, thing: Fastener) -> str:
    """Say how far pieces were tightened: `two guard bolts are tightened to 4 N·m only; 9 N·m is due`."""
    levels: dict[Reach, list[Reached]] = {}
    for some in state.staged:
        levels.setdefault(some.level, []).append(some)
    said: list[str] = []
    for level, pieces in levels.items():
        count = sum(some.count for some in pieces)
        what = number(count) if said else f"{counted(thing, count)}{_where(thing, pieces)}"
        be = "" if said else f" {verb_s(thing, 'is', 'are', count)} tightened"
        said.append(f"{what}{be} {_to(level, thing, book)}")
    angles = [stage.quantity.text for stage in thing.stages if stage.kind is StageKind.ANGLE and stage.quantity]
    due = [*([thing.due_torque.text] if thing.due_torque else []), *(f"{angle} further" for angle in angles)]
    due += [stage.quantity.text for stage in thing.stages[-1:] if stage.kind is StageKind.BACK and stage.quantity]
    return f"{listed(said)} only; {listed(due)} {'is' if len(due) == 1 else 'are'} due"


def _to(level: Reach, thing: Fastener, book: Book) -> str:
    """Return how far a piece was tightened, in the words of the step that did."""
    words = "to snug" if level.torque == 0 else f"to {level.torque:g} N·m"
    for entry in book.of(Tighten):
        action = entry.step.action
        if entry.target and entry.target.name == thing.key and isinstance(action, Tighten):
            torque = action.torque or (action.stage.quantity if action.stage else None)
            if torque and action.aim(thing).level == level._replace(angle=0.0):
                words = f"to {torque.text}"
    return f"{words} and {level.angle:g}° further" if level.angle else words


def _where(thing: Fastener, pieces: list[Reached]) -> str:
    """Return where named pieces are, when not all of them are so."""
    numbers = {some.piece for some in pieces}
    return placed(thing, tuple("so" if n in numbers else "" for n in range(len(thing.positions))), as_="so")
