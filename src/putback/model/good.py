"""Within what the answer of a step is good: its own limit, or else that of the machine file."""

from __future__ import annotations

from collections.abc import Mapping

from putback.model.machine import AnyThing, Part
from putback.model.said import Limit
from putback.model.setting import Setting
from putback.model.verb import Action
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Inspect, Measure, Verify


def limit_of(action: Action, things: Mapping[str, AnyThing]) -> Limit | None:
    """Return the limit of a measurement, a check or an adjustment; None when nothing says it, or for another action."""
    if not isinstance(action, Measure | Verify | Adjust):
        return None
    first = things.get(action.things[0].name) if action.things else None
    return action.limit or (limit_on(first, action) if first else None)


def limit_on(thing: AnyThing, action: Measure | Verify | Adjust) -> Limit | None:
    """Return the limit that the machine file gives of a thing: that of a setting, or how far a part may wear."""
    if isinstance(thing, Setting):
        return thing.limit
    if isinstance(action, Verify) and (said := thing.check_when_back or thing.check_in_run or thing.check_before_run):
        return said
    return thing.wear.limit if isinstance(action, Measure) and isinstance(thing, Part) and thing.wear else None


def good_in_run(thing: AnyThing) -> Limit | None:
    """Return how a thing must be while the machine runs; None where the machine file does not ask for a look."""
    return (thing.limit if thing.watched else None) if isinstance(thing, Setting) else thing.check_in_run


def looked_for(action: Inspect, things: Mapping[str, AnyThing]) -> tuple[str, ...]:
    """Return what an inspection looks for: what it says, or else what the machine file says of the things."""
    known = (things.get(ref.name) for ref in action.things)
    return action.for_ or tuple(dict.fromkeys(words for thing in known if thing for words in thing.inspect_when_off))
