"""Turning a shaft or a wheel, by hand or with a tool."""

from __future__ import annotations

from typing import NamedTuple

from putback.model.reading import Reader
from putback.model.terms import Ref
from putback.model.verb import Verb, Way
from putback.source.load import Mapping, Node
from putback.units import Kind, Quantity


class Turn(NamedTuple):
    """Turn a shaft or a wheel."""

    things: tuple[Ref, ...]
    way: Ref | None = None
    seen_from: str | None = None
    by: Quantity | None = None
    until: str | None = None


def _read_turn(reader: Reader, value: Node, node: Mapping) -> Turn:
    return Turn(
        reader.refs(value),
        reader.ref(node.get("way")),
        reader.text(node.get("seen-from")),
        reader.quantity(node.get("by"), Kind.ANGLE),
        reader.text(node.get("until")),
    )


TURN = Verb(
    name="turn",
    arguments=Turn,
    read=_read_turn,
    takes=("part",),
    other_words=("bar-over", "rotate", "spin", "turn-over"),
    way=Way.REACH,
    moves=True,
    reaches=True,
)
