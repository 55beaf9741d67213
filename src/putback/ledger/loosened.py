"""Which step left pieces of a group loose."""

from __future__ import annotations

from putback.ledger.book import Book
from putback.ledger.entries import Entry
from putback.model.called import with_at
from putback.model.groups import standing
from putback.model.machine import Fastener
from putback.model.reach import LOOSE
from putback.model.states import GroupState, Reached
from putback.model.verbs.pieces import Install, Loosen, OfPieces, Replace
from putback.variants import NONE, VariantSet
from putback.variants.graph import Why


def loosened_by(book: Book, state: GroupState, thing: Fastener, plain: list[Reached]) -> Entry | None:
    """Return the entry that left them loose: of pieces with names, the last that was for one of them."""
    last = book.by(state.on_by)
    names = {thing.positions[some.piece] for some in plain if some.piece >= 0}
    if last is None or not _misses(last, thing, names):
        return last
    for entry in reversed(book.entries[: last.index]):
        own = entry.target is not None and entry.target.name == thing.key
        if own and isinstance(entry.step.action, Install | Loosen | Replace) and not _misses(entry, thing, names):
            return entry
    return last


def _misses(entry: Entry, thing: Fastener, names: set[str]) -> bool:
    """Tell whether an entry is for other pieces of the group."""
    at = entry.step.action.at if isinstance(entry.step.action, OfPieces) else ()
    return bool(names and at) and entry.target is not None and names.isdisjoint(ref.name for ref in at)


def some_loose(state: GroupState, thing: Fastener) -> str:
    """Return what a hint adds when only some pieces with names are loose: ` with 'at: left'`."""
    loose = sorted({some.piece for some in standing(state) if some.level == LOOSE and some.piece >= 0})
    return with_at([thing.positions[piece] for piece in loose]) if len(loose) < len(thing.positions) else ""


def loosed(book: Book, entry: Entry, key: str) -> tuple[VariantSet, int]:
    """Return the variants in which nothing that secures a thing presses on it any more, and what loosened the last."""
    space, known, held, since = book.graph.space, NONE, NONE, -1
    for edge in book.graph.outside(key):
        if edge.why is not Why.SECURES:
            continue
        for variants, state in book.before(edge.outer, entry):
            here = space.both(variants, edge.variants)
            if here != NONE and isinstance(state, GroupState):
                known = space.either(known, here)
                held = space.either(held, here) if state.pressing else held
                since = since if state.pressing else max(since, state.off_by, state.on_by)
    return space.without(known, held), since
