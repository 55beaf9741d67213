"""What a way back must clean: the face that something goes on, where the machine file asks for it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from putback.model.called import speaks_of
from putback.model.job import Step
from putback.model.machine import Machine
from putback.model.verbs.cleaning import Clean


def to_clean_before(name: str, machine: Machine, forth: Iterable[Step]) -> Iterator[str]:
    """Yield what must be cleaned before a thing goes on, and is not cleaned in a block."""
    for key, thing in machine.things.items():
        if thing.clean_before and any(ref.name == name for ref in thing.clean_before):
            said = [ref.name for step in forth if isinstance(step.action, Clean) for ref in step.things]
            if not any(speaks_of(words, thing, machine.things) for words in said):
                yield key
