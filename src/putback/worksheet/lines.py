"""A job's steps, written out and numbered."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from putback.graph import Graph
from putback.guide import Guide
from putback.ledger.reverse import reverse
from putback.model.job import Caution, Do, Note, Sequence, Step, Undo
from putback.model.terms import When, both


@dataclass(slots=True)
class Line:
    """One step as it is printed."""

    step: Step
    """What is done."""
    number: str
    """`12`, under an `otherwise` `12a`; empty for cautions and notes."""
    otherwise: list[Line] = field(default_factory=list)
    """What to do when it is out of limit."""
    conditional: bool = False
    """Whether it stands under an `otherwise`."""
    when: When | None = None
    """The variants it is for: those of the step, and of the thing that it works on."""


@dataclass(slots=True)
class Passage:
    """One section as it is printed."""

    title: str | None
    """Its heading."""
    when: When | None
    """The variants it is for."""
    lines: list[Line]
    """Its steps, blocks written out."""

    def walk(self) -> Iterator[Line]:
        """Yield all lines, those under `otherwise` behind their step."""
        yield from _walk(self.lines)


def _walk(lines: list[Line]) -> Iterator[Line]:
    for line in lines:
        yield line
        yield from _walk(line.otherwise)


def write_lines(sequence: Sequence, guide: Guide) -> list[Passage]:
    """Return the sections of a job or block with every `do` and `undo` written out, numbered through from 1.

    Steps that no variant of `guide.only` has are left out, and a condition that all of them meet goes without saying.
    A block that leads into itself is written out once.
    """
    writer = _Writer(guide)
    return [
        Passage(section.title, writer.needed(section.when), list(writer.lines(section.steps, "", frozenset())))
        for section in sequence.sections
        if writer.applies(section.when)
    ]


class _Writer:
    def __init__(self, guide: Guide) -> None:
        self.guide = guide
        self.graph = Graph(guide.machine, guide.only) if guide.machine else None
        self.count = 0

    def applies(self, when: When | None) -> bool:
        return self.graph is None or self.graph.applies(when)

    def needed(self, when: When | None) -> When | None:
        return self.graph.needed(when) if self.graph else when

    def lines(self, steps: tuple[Step, ...], within: str, doing: frozenset[str]) -> Iterator[Line]:
        letter = 0
        for step in self.written_out(steps, doing):
            when = self.when_of(step)
            if not self.applies(when):
                continue
            when = self.needed(when)
            if isinstance(step.action, Caution | Note):
                yield Line(step, "", conditional=bool(within), when=when)
                continue
            if within:
                number = f"{within}{_letters(letter)}"
                letter += 1
            else:
                self.count += 1
                number = str(self.count)
            otherwise = list(self.lines(step.otherwise, number, doing))
            yield Line(step, number, otherwise, bool(within), when)

    def when_of(self, step: Step) -> When | None:
        """A step on a thing that only some variants have is limited to them by itself."""
        things = self.guide.machine.things if self.guide.machine else {}
        limits = [things[ref.name].when for ref in step.things if ref.name in things]
        same = {_meaning(limit) for limit in limits}
        if len(same) != 1 or _meaning(step.when) in same:
            return step.when
        return both(step.when, limits[0])

    def written_out(self, steps: tuple[Step, ...], doing: frozenset[str]) -> Iterator[Step]:
        for step in steps:
            if not isinstance(step.action, Do | Undo):
                yield step
                continue
            undo = isinstance(step.action, Undo)
            for ref in reversed(step.things) if undo else step.things:
                block = self.guide.library.blocks.get(ref.name)
                if block is None or ref.name in doing or self.guide.machine is None:
                    continue
                if undo:
                    inner = reverse(block, self.guide.machine).steps
                else:
                    inner = tuple(
                        replace(each, when=both(section.when, each.when))
                        for section in block.sections
                        for each in section.steps
                    )
                limited = tuple(replace(each, when=both(step.when, each.when)) for each in inner)
                yield from self.written_out(limited, doing | {ref.name})


def _meaning(when: When | None) -> object:
    """What a condition says, whatever file says it."""
    if when is None:
        return None
    return tuple(
        tuple((clause.option.name, tuple(choice.name for choice in clause.choices)) for clause in case)
        for case in when.cases
    )


def _letters(index: int) -> str:
    """Return a, b, … z, aa, ab, …"""
    letters = ""
    index += 1
    while index:
        index, rest = divmod(index - 1, 26)
        letters = chr(ord("a") + rest) + letters
    return letters
