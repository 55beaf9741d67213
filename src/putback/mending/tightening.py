"""How a fastener that is left loose, or at a stage, is finished: the step, in the words of a hint."""

from __future__ import annotations

from putback.joints.stages import StageKind
from putback.ledger.book import Book
from putback.ledger.closing import Unfinished
from putback.ledger.entries import Entry
from putback.ledger.loosened import some_loose
from putback.mending.missing import site_of
from putback.model.groups import standing
from putback.model.machine import Fastener
from putback.model.reach import FULL, degrees
from putback.model.states import GroupState


def _site(book: Book, left: Unfinished, entry: Entry | None) -> str:
    span = entry.target.span if entry and entry.target else left.span
    return site_of(book, left._replace(entry=entry or left.entry), span, tightens=True)


def tightened_hint(book: Book, left: Unfinished, entry: Entry | None, *, loosened: bool = False) -> str:
    """Return the step that finishes what an entry left loose, or tightened to a stage only, and where it goes."""
    thing, state, site = left.thing, left.state, _site(book, left, entry)
    assert isinstance(thing, Fastener)
    assert isinstance(state, GroupState)
    if turned := max((some.level.angle for some in state.staged), default=0.0):  # all again would be too far
        angles = [stage.quantity for stage in thing.stages if stage.kind is StageKind.ANGLE and stage.quantity]
        further = sum(degrees(angle) for angle in angles) - turned
        rest = [angle.text for angle in angles if abs(degrees(angle) - further) < 1]
        if rest and len({some.level for some in state.staged}) == 1:
            return f"add 'tighten: {thing.key}' with 'torque: {rest[-1]}'{site}"
        return f"add 'loosen: {thing.key}' and 'tighten: {thing.key}'{site}"
    if thing.last_torque is None and thing.torque_of_steps is not None and not thing.no_torque:
        back = "; when it stays backed off, give it 'stages', the last of them 'back …°'" if loosened else ""
        return f"add 'tighten: {thing.key}' with 'torque: {thing.torque_of_steps.text}'{site}{back}"
    some = some_loose(state, thing)
    loose = sum(piece.count for piece in standing(state) if piece.level != FULL)
    if not some and not thing.positions and 0 < loose < thing.count:
        some = f" with 'count: {loose}'"
    return f"add 'tighten: {thing.key}'{some}{site}"
