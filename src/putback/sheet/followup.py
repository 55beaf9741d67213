"""What is tightened once more after running hours: fasteners that settle, as the job comes to them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

from putback.guide.record import Guide
from putback.model.machine import Fastener
from putback.model.terms import When
from putback.model.verbs.pieces import Replace, Tighten
from putback.sheet.lines import Passage
from putback.units import Quantity


@dataclass(slots=True)
class FollowUp:
    """A group of fasteners to tighten once more."""

    thing: Fastener
    """What settles."""
    hours: Quantity
    """After how many running hours."""
    torque: Quantity | None
    """To which torque; None when an angle or the hand tightened it."""
    count: int = 0
    """How many pieces the job tightened."""
    steps: list[str] = field(default_factory=list)
    """Numbers of the steps that did."""
    conditional: bool = True
    """Whether it was tightened only when an inspection said so."""

    @property
    def when(self) -> When | None:
        """The variants that have it."""
        return self.thing.when


def follow_ups(passages: Iterable[Passage], guide: Guide) -> list[FollowUp]:
    """Return a follow-up for each group with `settles` that the lines of a job tighten."""
    things = guide.machine.things if guide.machine else {}
    found: dict[str, FollowUp] = {}
    for passage in passages:
        for line in passage.walk():
            action = line.step.action
            if not isinstance(action, Tighten | Replace):
                continue
            for ref in action.things:
                thing = things.get(ref.name)
                if not isinstance(thing, Fastener) or thing.settles is None:
                    continue
                row = found.setdefault(thing.key, FollowUp(thing, thing.settles, None))
                stated = action.torque if isinstance(action, Tighten) else None
                row.torque = stated or (None if thing.by_angle else thing.last_torque)
                row.count = min(thing.count, row.count + (action.count or thing.count))
                row.steps.append(line.number)
                row.conditional &= line.conditional
    return list(found.values())
