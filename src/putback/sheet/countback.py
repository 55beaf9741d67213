"""The count-back: what came off, what went back, and what of it is new."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from putback.guide.record import Guide
from putback.model.machine import AnyThing, Fastener, Line, Part
from putback.model.terms import When
from putback.model.verb import Action
from putback.model.verbs.lines import Connect, Disconnect
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.sheet.lines import Passage


@dataclass(slots=True)
class CountBack:
    """One row of the table."""

    thing: Part | Fastener | Line
    """What is counted."""
    out: int = 0
    """Pieces that come off or out, or ends that come open."""
    back: int = 0
    """Pieces that go back."""
    new: int = 0
    """How many of those are new."""
    conditional: bool = False
    """Whether it comes off only when an inspection says so."""

    @property
    def when(self) -> When | None:
        """The variants that have it."""
        return self.thing.when


def count_back(passages: Iterable[Passage], guide: Guide) -> list[CountBack]:
    """Return a row for each thing that the lines of a job take off, in that order.

    A thing that comes off and goes back more than once counts each time.
    """
    things = guide.machine.things if guide.machine else {}
    rows: dict[str, CountBack] = {}
    out_now: dict[str, int] = {}
    for passage in passages:
        for line in passage.walk():
            for ref in line.step.things:
                thing = things.get(ref.name)
                if isinstance(thing, Part | Fastener | Line):
                    _post(rows, out_now, thing, line.step.action, conditional=line.conditional)
    return list(rows.values())


def _post(
    rows: dict[str, CountBack], out_now: dict[str, int], thing: AnyThing, action: Action, *, conditional: bool
) -> None:
    if not isinstance(thing, Part | Fastener | Line):
        return
    whole = thing.count if isinstance(thing, Fastener) else 1
    now = out_now.get(thing.key, 0)
    match action:
        case Remove(count=count) | Replace(count=count):
            off, back = min(count or whole - now, whole - now), 0
        case Install(count=count):
            off, back = 0, min(count or now, now)
        case Disconnect():
            off, back = whole - now, 0
        case Connect():
            off, back = 0, now
        case _:
            return
    new = back if isinstance(action, Install) and action.new else 0
    if isinstance(action, Replace):
        back = new = off
    if thing.key not in rows and not off:
        return
    row = rows.setdefault(thing.key, CountBack(thing, conditional=conditional))
    if row.conditional and not conditional:
        row.out = row.back = row.new = 0
        row.conditional = False
    elif conditional and not row.conditional:
        return
    row.out += off
    row.back += back
    row.new += new
    out_now[thing.key] = now + off - back
