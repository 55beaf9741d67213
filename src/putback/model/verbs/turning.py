"""Turning a shaft or a wheel, by hand or with a tool."""

from __future__ import annotations

from typing import NamedTuple

from putback.model.reading import Reader
from putback.model.terms import Ref
from putback.model.verb import Verb, Way
from putback.model.viewpoint import read_viewpoint
from putback.source.finding import Finding, Level
from putback.source.quoting import quote
from putback.source.tree import Mapping, Node
from putback.units import Kind, Quantity


class Turn(NamedTuple):
    """Turn a shaft or a wheel."""

    things: tuple[Ref, ...]
    way: Ref | None = None
    seen_from: str | None = None
    by: Quantity | None = None
    until: str | None = None


def _angle(reader: Reader, node: Node | None) -> Quantity | None:
    """Return how far something is turned; which way it goes is not said by a sign."""
    angle = reader.quantity(node, Kind.ANGLE)
    if node is None or angle is None:
        return None
    least = angle.high if angle.low is None else angle.low
    if least is not None and least > 0:
        return angle
    message = f"{quote(angle.text)} is not an angle to turn something by"
    reader.faults.append(Finding("bad-quantity", Level.ERROR, node.span, message, hint="write one above 0"))
    return None


def _read_turn(reader: Reader, value: Node, node: Mapping) -> Turn:
    return Turn(
        reader.refs(value),
        reader.direction(node.get("way")),
        read_viewpoint(reader, node.get("seen-from")),
        _angle(reader, node.get("by")),
        reader.text(node.get("until")),
    )


TURN = Verb(
    name="turn",
    arguments=Turn,
    read=_read_turn,
    takes=("part",),
    better={"control": "set"},
    other_words=("bar-over", "rotate", "spin", "turn-over"),
    loose_words=("bar", "bar-round"),
    way=Way.COVER,
    moves=True,
    reaches=True,
    shifts=True,
)
