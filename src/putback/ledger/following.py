"""What the follow-ups of a job tighten once more, so that no line of the machine file has to say it."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from putback.model.job import Block, Sequence, Step, walk
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.pieces import Loosen, Remove, Tighten


def tightened_in(sequence: Sequence, blocks: Mapping[str, Block]) -> frozenset[str]:
    """Return the fasteners that a sequence tightens, by itself or by a block that it does or reverses."""
    return frozenset(_tightened(sequence.steps(), blocks, frozenset(), back=False))


def _tightened(
    steps: Iterable[Step], blocks: Mapping[str, Block], doing: frozenset[str], *, back: bool
) -> Iterator[str]:
    for step in steps:
        if isinstance(step.action, Remove | Loosen if back else Tighten):
            yield from (ref.name for ref in step.things)
        elif isinstance(step.action, Do | Reverse):
            for ref in step.things:
                if ref.name in blocks and ref.name not in doing:
                    inner = (each for section in blocks[ref.name].sections for each in walk(section.steps))
                    turned = back is not isinstance(step.action, Reverse)
                    yield from _tightened(inner, blocks, doing | {ref.name}, back=turned)
