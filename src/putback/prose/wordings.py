"""Every text of a guide that may state a torque, and the fasteners that it speaks of."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.guide.record import Guide
from putback.model.job import Sequence, Step
from putback.model.machine import Fastener, Machine
from putback.model.said import said_in
from putback.model.thing import Thing
from putback.model.verbs.pieces import Install, Replace, Tighten
from putback.prose.markdown import page_may_state, read_page
from putback.prose.pages import Passage, TableRow, passage_of
from putback.prose.settled import Settled, Torque
from putback.prose.statements import may_state


class Wording(NamedTuple):
    """One text."""

    passage: Passage
    """What it says, and where."""
    own: tuple[Fastener, ...] = ()
    """The fasteners that it is about without naming them: those of its step, or of its row."""
    torques: tuple[Torque, ...] = ()
    """Torques that it may state besides theirs: that of its step."""
    compared: bool = True
    """Whether it is compared with the machine file; False for what is only a value, or a reason."""
    lone: bool = False
    """Whether a sentence counts only when it names a single fastener: of pages, which speak of much."""
    head: str = ""
    """The head of its column, in a table."""


_VALUES = frozenset({"torque", "stages", "quantity", "limit", "reason"})
"""Fields of what is a value, or a reason for a waiver."""


def wordings(guide: Guide, machine: Machine, sequences: Iterable[Sequence], settled: Settled) -> Iterator[Wording]:
    """Yield the texts of the machine file, of jobs and blocks, of safety messages and pages that may state a torque."""
    yield from _of_machine(machine)
    for sequence in sequences:
        yield from _of_steps(sequence, machine)
    for message in guide.library.cautions.values():
        for _, text in message.sentences:
            if may_state(text):
                yield Wording(passage_of(text))
    for path, page in guide.pages.items():
        if page_may_state(page):
            prose = read_page(path, page)
            for passage in prose.passages:
                yield Wording(passage, lone=True)
            for row in prose.rows:
                yield from _of_row(row, settled)


def _of_machine(machine: Machine) -> Iterator[Wording]:
    """Yield the texts of the machine file; only its notes say something that the other values do not."""
    for record in (machine, *machine.things.values()):
        own = (record,) if isinstance(record, Fastener) else ()
        for key, text in said_in(record, but=Thing):
            if may_state(text):
                yield Wording(passage_of(text), own, compared=key == "note")


def _of_steps(sequence: Sequence, machine: Machine) -> Iterator[Wording]:
    for record in (sequence, *sequence.steps()):
        for key, text in said_in(record, but=Step):
            if may_state(text):
                own, torques = _of_step(record, machine) if isinstance(record, Step) else ((), ())
                yield Wording(passage_of(text), own, torques, key not in _VALUES)


def _of_step(step: Step, machine: Machine) -> tuple[tuple[Fastener, ...], tuple[Torque, ...]]:
    """Return the fasteners that a step tightens or fits, and its own torque."""
    if not isinstance(step.action, Tighten | Install | Replace):
        return (), ()
    things = (machine.things.get(ref.name) for ref in step.things)
    own = tuple(thing for thing in things if isinstance(thing, Fastener))
    aims = [step.action.shown(thing) for thing in own] if isinstance(step.action, Tighten) else []
    return own, tuple(Torque(torque, None, in_step=True) for torque in aims if torque)


def _of_row(row: TableRow, settled: Settled) -> Iterator[Wording]:
    """Yield the cells of a row that names a fastener; the first cell that names one says which row it is."""
    own: tuple[Fastener, ...] = ()
    for cell in row.cells:
        own = tuple(fastener for called in settled.named(cell.text) for fastener in called.fasteners)
        if own:
            break
    for cell, head in zip(row.cells, (*row.heads, *[""] * len(row.cells)), strict=False):
        if may_state(cell.text) or (own and may_state(head)):
            yield Wording(cell, own, head=head)
