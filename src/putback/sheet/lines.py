"""A job's steps, written out and numbered."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from typing import TypeAlias

from putback.guide.nesting import Nesting
from putback.ledger.opened import Opened
from putback.ledger.reverse import reverse
from putback.model.job import Section, Sequence, Step
from putback.model.terms import Ref, When, both
from putback.model.verb import only
from putback.model.verbs.blocks import Do, Undo
from putback.model.verbs.cleaning import Apply
from putback.model.verbs.telling import Caution, Note, Stop, Wait
from putback.sheet.safety import waste_of


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
    waste: list[str] = field(default_factory=list)
    """What to do with what comes out here, when its section has not said it yet."""


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


def write_lines(sequence: Sequence, opened: Opened) -> list[Passage]:
    """Return the sections of a job or block with every `do` and `undo` written out, numbered through from 1.

    Steps that no variant of `opened.only` has are left out, and a condition that all of them meet goes without saying.
    Where blocks lead into themselves, or lie too deep in each other, nothing is written out: `bad-cycle` tells it.
    """
    guide = opened.guide
    if not Nesting([sequence], guide.library).can_be_written_out(sequence):
        return []
    writer = _Writer(opened, sequence.path)
    return [
        Passage(section.title, writer.needed(section.when, None), writer.section(section))
        for section in sequence.sections
        if writer.applies(section.when)
    ]


_Inside: TypeAlias = tuple[Step, frozenset[str]]
"""A step, and the blocks that it stands in: what stands in its `otherwise` stands in them as well."""


class _Writer:
    def __init__(self, opened: Opened, path: str) -> None:
        self.guide = guide = opened.guide
        self.things = guide.machine.things if guide.machine else {}
        self.graph = opened.graph
        self.count = 0
        self.path = path
        self.shown: set[str] = set()
        self.disposed: set[str] = set()

    def section(self, section: Section) -> list[Line]:
        self.shown = set()
        self.disposed = set()
        return list(self.lines(section.steps, "", section.when))

    def told_already(self, step: Step, when: When | None, above: str) -> bool:
        """Tell whether a safety message of a block stands in this section already, for all who read this one."""
        names = {ref.name for ref in step.things}
        known = step.key.path != self.path and names <= self.shown
        if when is None and not above:
            self.shown |= names
        return known

    def waste(self, step: Step, when: When | None, above: str) -> list[str]:
        """Return what to do with what comes out, as far as not all who read this have read it in this section."""
        told = [text for text in waste_of(step, self.things, self.guide.library) if text not in self.disposed]
        if when is None and not above:
            self.disposed.update(told)
        return told

    def applies(self, when: When | None) -> bool:
        return self.graph is None or self.graph.applies(when)

    def needed(self, when: When | None, within: When | None) -> When | None:
        return self.graph.needed(when, within) if self.graph else when

    def lines(
        self, steps: tuple[Step, ...], above: str, within: When | None, doing: frozenset[str] = frozenset()
    ) -> Iterator[Line]:
        """Yield lines; `within` is the condition under which they are read anyway."""
        letter = 0
        for step, inside in self.one_by_one(self.written_out(steps, doing)):
            whole = self.when_of(step)
            if not self.applies(both(within, whole)):
                continue
            when = self.needed(whole, within)
            if isinstance(step.action, Caution) and self.told_already(step, when, above):
                continue
            if isinstance(step.action, Caution | Note):
                yield Line(step, "", conditional=bool(above), when=when)
                continue
            if above:
                number = f"{above}{_letters(letter)}"
                letter += 1
            else:
                self.count += 1
                number = str(self.count)
            waste = self.waste(step, when, above)
            otherwise = list(self.lines(step.otherwise, number, both(within, whole), inside))
            yield Line(step, number, otherwise, bool(above), when, waste)

    def when_of(self, step: Step) -> When | None:
        """A step on a thing that only some variants have is limited to them by itself."""
        limits = [self.things[ref.name].when for ref in worked_on(step) if ref.name in self.things]
        same = {_meaning(limit) for limit in limits}
        return both(step.when, limits[0]) if len(same) == 1 else step.when

    def one_by_one(self, steps: Iterator[_Inside]) -> Iterator[_Inside]:
        """Yield steps on things of different variants as one step a thing: no variant has the whole list."""
        for step, doing in steps:
            meanings = {_meaning(self.things[ref.name].when) for ref in step.things if ref.name in self.things}
            if len(meanings) < 2 or isinstance(step.action, Caution):
                yield step, doing
                continue
            for ref in step.things:
                if not isinstance(step.action, Note | Stop | Wait):
                    yield replace(step, action=only(step.action, ref)), doing

    def written_out(self, steps: tuple[Step, ...], doing: frozenset[str]) -> Iterator[_Inside]:
        for step in steps:
            if not isinstance(step.action, Do | Undo):
                yield step, doing
                continue
            undo = isinstance(step.action, Undo)
            for ref in reversed(step.things) if undo else step.things:
                block = self.guide.library.blocks.get(ref.name)
                if block is None or ref.name in doing or self.guide.machine is None:
                    continue
                if undo:
                    inner = reverse(block, self.guide.machine, self.guide.library.blocks).steps
                else:
                    inner = tuple(
                        replace(each, when=both(section.when, each.when))
                        for section in block.sections
                        for each in section.steps
                    )
                limited = tuple(replace(each, when=both(step.when, each.when)) for each in inner)
                yield from self.written_out(limited, doing | {ref.name})


def worked_on(step: Step) -> tuple[Ref, ...]:
    """Return the things that a step works on: for `apply`, those that the consumable goes on."""
    return step.action.to if isinstance(step.action, Apply) else step.things


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
