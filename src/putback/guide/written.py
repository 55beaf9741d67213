"""A guide as it is walked: with its places, counts and blocks written out.

What an author wrote stays as it is for whoever prints or judges the words: see `Written.printed`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import TypeVar

from putback.guide.record import Guide
from putback.guide.rounds import Rounds
from putback.guide.spread import spread
from putback.model.job import Sequence
from putback.model.library import Library
from putback.model.machine import AnyThing, Machine

_Sequence = TypeVar("_Sequence", bound=Sequence)


@dataclass(frozen=True, slots=True, eq=False)
class Written:
    """What is walked."""

    machine: Machine
    """The machine, with single things alone."""
    library: Library
    """The library, with a block for each way in which one is done."""
    printed: Mapping[str, AnyThing]
    """What sentences speak of."""
    several: bool = False
    """Whether it differs from what the files say."""
    too_long: frozenset[str] = frozenset()
    """Files of jobs and blocks that have too many places for their steps to be walked."""
    _sequences: Mapping[str, Sequence] = field(default_factory=dict)

    def sequence(self, sequence: _Sequence) -> _Sequence:
        """Return a job or block as it is walked."""
        found = self._sequences.get(sequence.path, sequence)
        assert isinstance(found, type(sequence))
        return found

    def printed_name(self, name: str) -> str:
        """Return the name under which sentences speak of a single thing."""
        thing = self.machine.things.get(name)
        return thing.of if thing and thing.of and thing.place else name


def written_out(guide: Guide, machine: Machine) -> Written:
    """Write a guide out; one in which nothing is there several times comes back as it is."""
    blocks = guide.library.blocks
    if not _has_several(machine) and not any(block.takes for block in blocks.values()):
        return Written(machine, guide.library, machine.things)
    known = spread(machine)
    rounds = Rounds(known, blocks)
    sequences = {each.path: rounds.whole(each) for each in (*guide.jobs.values(), *guide.laters())}
    sequences |= {each.path: rounds.blocks.get(key, each) for key, each in guide.blocks.items()}
    library = replace(guide.library, blocks=rounds.blocks)
    return Written(known.machine, library, known.printed, True, frozenset(rounds.too_long), sequences)


def _has_several(machine: Machine) -> bool:
    return bool(machine.places) or any(getattr(thing, "counts", ()) for thing in machine.things.values())
