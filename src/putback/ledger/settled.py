"""Joints that settle: what a job opens and tightens, and must be tightened once more after some hours."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.guide.spread import base_of
from putback.ledger.book import Book
from putback.ledger.disturbing import disturbers_of
from putback.ledger.entries import Entry
from putback.model.called import named
from putback.model.job import Job, Step
from putback.model.library import Library
from putback.model.machine import Fastener
from putback.model.setting import Setting
from putback.model.states import GroupState
from putback.model.terms import Ref
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.pieces import Tighten
from putback.variants import NONE, VariantSet
from putback.variants.graph import Graph, Why


class Settles(NamedTuple):
    """A group that settles, and that cannot be got at without more ado."""

    entry: Entry
    """The step that tightens it after it was open."""
    target: Ref
    """The group."""
    thing: Fastener
    """The same."""
    why: str
    """What more is to do: `rocker cover must come off for it`."""
    variants: VariantSet
    """The variants in which the job opened it."""


def tightened_later(book: Book) -> set[str]:
    """Return the names of what the follow-ups of a job tighten, by steps of their own or through blocks."""
    later = book.sequence.later if isinstance(book.sequence, Job) else None
    found: set[str] = set()
    for step in _steps(list(later.steps()) if later else [], book.library):
        if isinstance(step.action, Tighten):
            found |= {ref.name for ref in step.things}
    return found


def _steps(waiting: list[Step], library: Library) -> Iterator[Step]:
    done: set[str] = set()
    while waiting:
        step = waiting.pop()
        yield step
        for ref in step.things if isinstance(step.action, Do | Reverse) else ():
            block = library.blocks.get(ref.name)
            if block is not None and ref.name not in done:
                done.add(ref.name)
                waiting += block.steps()


def settling(book: Book) -> Iterator[Settles]:
    """Yield what a job tightens, settles, lies under something or moves a setting, and no follow-up tightens."""
    told: set[str] = set()
    known = tightened_later(book)
    for entry in book.of(Tighten):
        thing = book.graph.machine.things.get(entry.target.name) if entry.target else None
        if not isinstance(thing, Fastener) or thing.retighten_after is None or entry.target is None:
            continue
        variants = book.where(thing.key, entry, lambda state: isinstance(state, GroupState) and not state.tight)
        why = _why(book.graph, thing)
        if variants != NONE and why and base_of(thing.key) not in known | told:
            told.add(base_of(thing.key))
            yield Settles(entry, entry.target, thing, why, variants)


def _why(graph: Graph, thing: Fastener) -> str | None:
    """Return what more is to do before it can be tightened once more, or after; None for nothing."""
    things = graph.machine.things
    for edge in graph.outside(thing.key):
        if edge.why in (Why.BEHIND, Why.STACK):
            return f"{named(things[edge.outer])} must come off for it"
    for setting in things.values():
        disturbers = disturbers_of(graph, setting) if isinstance(setting, Setting) else ()
        if any(disturber.ref.name == thing.key for disturber in disturbers):
            return f"{setting.name} changes with it"
    return None
