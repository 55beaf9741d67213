"""Marking positions, and bringing things to their marks again."""

from __future__ import annotations

from typing import NamedTuple

from putback.model.machine import AnyThing
from putback.model.reading import Reader
from putback.model.states import MarkState
from putback.model.terms import Ref
from putback.model.verb import SOLID, Verb, Way
from putback.source.tree import Mapping, Node


class Mark(NamedTuple):
    """Mark a position."""

    things: tuple[Ref, ...]
    against: str | None = None


class Align(NamedTuple):
    """Bring to the mark again."""

    things: tuple[Ref, ...]
    against: str | None = None


def marked(_thing: AnyThing | None, mark: MarkState, by: int) -> MarkState:
    """Return what is known of a position that was marked; once a thing was off, it is too late."""
    return mark if mark.astray else mark._replace(marked=True, on_by=by)


def _aligned(_thing: AnyThing | None, _mark: MarkState, _by: int) -> MarkState:
    return MarkState()


def _read_mark(reader: Reader, value: Node, node: Mapping) -> Mark:
    return Mark(reader.refs(value), reader.text(node.get("against")))


def _read_align(reader: Reader, value: Node, node: Mapping) -> Align:
    return Align(reader.refs(value), reader.text(node.get("against")))


def strayed(_thing: AnyThing | None, mark: MarkState, by: int) -> MarkState:
    """Return what is known of the position of a thing that has come off: it must be aligned."""
    return mark if mark.astray else mark._replace(astray=True, off_by=by)


MARK = Verb(
    name="mark",
    arguments=Mark,
    read=_read_mark,
    takes=SOLID,
    other_words=("label", "scribe"),
    loose_words=("punch-mark", "tag"),
    way=Way.COVER,
    reaches=True,
    position=marked,
)

ALIGN = Verb(
    name="align",
    arguments=Align,
    read=_read_align,
    takes=SOLID,
    better={"setting": "adjust"},
    other_words=("centre", "center", "line-up", "realign"),
    way=Way.COVER,
    reaches=True,
    shifts=True,
    position=_aligned,
)
