"""Lifting parts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import Machine
from putback.model.reading import Reader
from putback.model.terms import Ref
from putback.model.verb import Mention, Verb, Way
from putback.source.tree import Mapping, Node
from putback.units import Kind, Quantity


class Lift(NamedTuple):
    """Lift a part."""

    things: tuple[Ref, ...]
    with_: Ref | None = None
    people: int | None = None
    reach: Quantity | None = None
    height: Quantity | None = None
    to_reach: Quantity | None = None
    to_height: Quantity | None = None
    twist: Quantity | None = None
    grip: str | None = None


def _with(action: Lift, _machine: Machine | None) -> Iterator[Mention]:
    if action.with_:
        yield Mention(action.with_, ("equipment",), "with")


def _read_lift(reader: Reader, value: Node, node: Mapping) -> Lift:
    def length(key: str) -> Quantity | None:
        return reader.quantity(node.get(key), Kind.LENGTH)

    return Lift(
        reader.refs(value),
        with_=reader.ref(node.get("with")),
        people=reader.whole(node.get("people")),
        reach=length("reach"),
        height=length("height"),
        to_reach=length("to-reach"),
        to_height=length("to-height"),
        twist=reader.quantity(node.get("twist"), Kind.ANGLE),
        grip=reader.text(node.get("grip")),
    )


LIFT = Verb(
    name="lift",
    arguments=Lift,
    read=_read_lift,
    takes=("part",),
    other_words=("carry", "heave", "hoist", "raise"),
    loose_words=("jack", "jack-up", "lower"),
    mentions=_with,
    way=Way.REACH,
    moves=True,
    carries=True,
    reaches=True,
)
