"""What machines and jobs have in common: names, conditions, waivers."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from enum import StrEnum
from typing import NamedTuple

from putback.source.nearest import nearest
from putback.source.span import Span


class Ref(NamedTuple):
    """A name that a file uses, with its place."""

    name: str
    """The name."""
    span: Span
    """Where it is used."""


def likely(ref: Ref, known: Collection[str]) -> Ref:
    """Return a name, or the known one that it is most likely a slip of the pen for."""
    if ref.name in known:
        return ref
    near = nearest(ref.name, known)
    return Ref(near, ref.span) if near else ref


class Clause(NamedTuple):
    """One option and the choices that meet it."""

    option: Ref
    """The option."""
    choices: tuple[Ref, ...]
    """Any of these."""


@dataclass(frozen=True, slots=True)
class When:
    """A limit to some variants: any of the cases, each of which needs all of its clauses."""

    cases: tuple[tuple[Clause, ...], ...]
    """The cases."""
    span: Span
    """Where it stands."""


def both(one: When | None, other: When | None) -> When | None:
    """Return the condition that holds where both do; None is no condition."""
    if one is None or other is None:
        return one or other
    return When(tuple(_clauses(a, b) for a in one.cases for b in other.cases), one.span)


def _clauses(one: tuple[Clause, ...], other: tuple[Clause, ...]) -> tuple[Clause, ...]:
    """Join two cases; what both say of an option stands once, with the choices that both leave."""
    merged = {clause.option.name: clause for clause in one}
    for clause in other:
        before = merged.get(clause.option.name)
        if before is not None:
            allowed = {choice.name for choice in clause.choices}
            left = tuple(choice for choice in before.choices if choice.name in allowed)
            # Choices that exclude each other stay as they are written: no variant has them.
            clause = before._replace(choices=left) if left else before._replace(choices=())
        merged[clause.option.name] = clause
    return tuple(merged.values())


class Need(NamedTuple):
    """A position that a control must have first."""

    control: Ref
    """The control."""
    position: Ref
    """The position it must have."""


class Waiver(NamedTuple):
    """A finding that the author waives, and why."""

    check: Ref
    """The check."""
    reason: str
    """Why; empty when the author gave none."""


class Signal(StrEnum):
    """Signal words of safety messages, gravest first (ANSI Z535.6, ISO 3864-2)."""

    DANGER = "danger"
    WARNING = "warning"
    CAUTION = "caution"
    NOTICE = "notice"
