"""What a test proves, in one variant on one way: the rules of `putback.ledger.proof` once more, plain."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

ASKING = {"check", "measure", "inspect"}
Near = Callable[[str], frozenset[str]]
"""What goes with a thing."""


class Done(NamedTuple):
    """One step on one thing, as it was done."""

    verb: str
    name: str
    """The thing, or words."""
    via: tuple[int, ...]
    """The blocks through which it was done, each time by a number of its own."""
    assembles: bool
    """Whether it puts something together."""
    full: bool = False
    """Whether it only tops up."""
    known: bool = False
    """Whether a test is on a part, fastener, line or fluid."""


def untested(along: Sequence[Done], near: Near) -> str | None:
    """Return what was put together last of what no test proves."""
    for place in range(len(along) - 1, -1, -1):
        done = along[place]
        if done.assembles and not done.full and not _proved(place, along, near):
            return done.name
    return None


def _proved(place: int, along: Sequence[Done], near: Near) -> bool:
    return any(_proves(test, place, along, near) for test in range(place + 1, len(along)))


def _proves(test: int, place: int, along: Sequence[Done], near: Near) -> bool:
    """Tell whether one step is a test of an earlier one."""
    asked, name = along[test], along[place].name
    if asked.verb == "run":
        return any(later.verb in ASKING for later in along[test + 1 :])
    if asked.verb not in ("check", "measure"):
        return False
    if "leaks" in asked.name:
        return True
    for depth in range(len(asked.via), 0, -1):
        start = test
        while start and along[start - 1].via[:depth] == asked.via[:depth]:
            start -= 1
        block = along[start:test]
        if any(each.verb == "run" for each in block):
            return True
        if any(each.assembles for each in block):
            return place >= start or name in near(asked.name)
    if asked.via or not asked.known:
        return True
    for each in reversed(along[:test]):
        if each.verb == "run":
            return True
        if each.assembles:
            break
    own = {each.name for each in along if each.assembles and not each.via}
    others = {each.name for each in along if each.assembles}
    beside = bool(own) and not near(asked.name).isdisjoint(others) and near(asked.name).isdisjoint(own)
    return not beside or name in near(asked.name)
