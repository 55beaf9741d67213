"""Every text of a guide that may state a torque, and the fasteners that it speaks of."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.guide.nesting import Nesting
from putback.guide.reading import Guide
from putback.model.job import Install, Replace, Step, Tighten
from putback.model.machine import Fastener, Machine
from putback.prose.markdown import page_may_state, read_page
from putback.prose.pages import Passage, Row, passage_of
from putback.prose.settled import Settled, Torque
from putback.prose.statements import may_state
from putback.source.load import Listing, Loaded, Mapping, Node, Text


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


_VALUES = frozenset({"torque", "stages", "accept", "range", "limit"})
"""Keys of what is a value, or a reason for an acceptance."""


def wordings(guide: Guide, machine: Machine, settled: Settled) -> Iterator[Wording]:
    """Yield the texts of the machine file, of jobs and blocks, of safety messages and pages that may state a torque."""
    loaded = guide.sources.get(machine.path)
    if loaded is not None:
        yield from _of_machine(loaded, machine)
    for sequence in Nesting(guide.sequences(), guide.library).sequences():
        loaded = guide.sources.get(sequence.path)
        if loaded is not None and may_state(loaded.text):
            steps = {(step.span.line, step.span.column): step for step in sequence.steps()}
            for key, text, step in _texts(loaded.root, steps):
                if may_state(text.value):
                    own, torques = _of_step(step, machine)
                    yield Wording(passage_of(text, loaded.text), own, torques, key not in _VALUES)
    for message in guide.library.cautions.values():
        for words in (message.hazard, message.consequence, *message.avoid):
            if may_state(words):
                yield Wording(Passage(message.span.path, words, (), message.span))
    for path, page in guide.pages.items():
        if page_may_state(page):
            prose = read_page(path, page)
            for passage in prose.passages:
                yield Wording(passage, lone=True)
            for row in prose.rows:
                yield from _of_row(row, settled)


def _of_machine(loaded: Loaded, machine: Machine) -> Iterator[Wording]:
    things = {(thing.span.line, thing.span.column): thing for thing in machine.things.values()}
    for key, text, owner in _entries(loaded.root, ""):
        if may_state(text.value):
            thing = things.get((owner.span.line, owner.span.column)) if owner else None
            own = (thing,) if isinstance(thing, Fastener) and key == "note" else ()
            yield Wording(passage_of(text, loaded.text), own, compared=key == "note")


def _entries(node: Node | None, key: str, owner: Text | None = None) -> Iterator[tuple[str, Text, Text | None]]:
    """Yield every text with its key, and the key of the mapping that it stands in."""
    if isinstance(node, Text):
        yield key, node, owner
    elif isinstance(node, Listing):
        for item in node.items:
            yield from _entries(item, key, owner)
    elif isinstance(node, Mapping):
        for entry in node.entries.values():
            inside = entry.key if isinstance(entry.value, Mapping) else owner
            yield from _entries(entry.value, entry.key.value, inside)


def _texts(
    node: Node | None, steps: dict[tuple[int, int], Step], key: str = "", step: Step | None = None
) -> Iterator[tuple[str, Text, Step | None]]:
    """Yield every text with its key and its step."""
    if isinstance(node, Text):
        yield key, node, step
    elif isinstance(node, Listing):
        for item in node.items:
            yield from _texts(item, steps, key, step)
    elif isinstance(node, Mapping):
        inner = steps.get((node.span.line, node.span.column), step)
        for entry in node.entries.values():
            # The reasons of acceptances have the names of checks as their keys.
            under = key if key == "accept" else entry.key.value
            yield from _texts(entry.value, steps, under, inner)


def _of_step(step: Step | None, machine: Machine) -> tuple[tuple[Fastener, ...], tuple[Torque, ...]]:
    """Return the fasteners that a step tightens or fits, and its own torque."""
    if step is None or not isinstance(step.action, Tighten | Install | Replace):
        return (), ()
    things = (machine.things.get(ref.name) for ref in step.things)
    own = tuple(thing for thing in things if isinstance(thing, Fastener))
    torque = step.action.torque if isinstance(step.action, Tighten) else None
    return own, (Torque(torque, None, in_step=True),) if torque else ()


def _of_row(row: Row, settled: Settled) -> Iterator[Wording]:
    """Yield the cells of a row that names a fastener; the first cell that names one says which row it is."""
    own: tuple[Fastener, ...] = ()
    for cell in row.cells:
        own = tuple(fastener for called in settled.named(cell.text) for fastener in called.fasteners)
        if own:
            break
    for cell, head in zip(row.cells, (*row.heads, *[""] * len(row.cells)), strict=False):
        if may_state(cell.text) or (own and may_state(head)):
            yield Wording(cell, own, head=head)
