"""One use of a name, and the names in a condition."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import Machine
from putback.model.terms import Ref, When
from putback.model.verb import AnyVerb


class NameUse(NamedTuple):
    """One use of a name."""

    ref: Ref
    """The name, and where it is used."""
    kinds: tuple[str, ...]
    """What it may stand for: part, fastener, line, fluid, control, equipment, consumable, caution, …"""
    user: str
    """Who uses it: the verb or key, for the message."""
    verb: AnyVerb | None = None
    """The verb, when it is the value of one."""
    free: bool = False
    """Whether plain words may stand here too."""
    known: tuple[str, ...] | None = None
    """The names allowed, when they are not those of `kinds`."""
    owner: str | None = None
    """The thing of the machine file that it describes: never what is meant."""


def when_uses(machine: Machine | None, when: When | None, user: str = "when") -> Iterator[NameUse]:
    """Yield the options and choices of a condition."""
    if when is None or machine is None:
        return
    for case in when.cases:
        for clause in case:
            yield NameUse(clause.option, ("option",), user)
            choices = machine.options.get(clause.option.name)
            if choices is not None:
                for choice in clause.choices:
                    yield NameUse(choice, ("choice",), f"option {clause.option.name} has no choice", known=choices)
