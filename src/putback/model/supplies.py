"""What a job needs, as its author lists it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from putback.model.details import Packed
from putback.model.kits import read_packed
from putback.model.reading import Reader, entries
from putback.model.sealed import seal
from putback.model.terms import Ref
from putback.source.span import Span
from putback.source.tree import Mapping as Tree
from putback.source.tree import Node
from putback.units import Kind, Quantity

NAMED = ("consumables", "tools", "equipment")
"""Lists of names alone."""


@dataclass(frozen=True, slots=True)
class Supplies:
    """An author's list of what a job needs; lists that are not there are not compared."""

    keys: Mapping[str, Span]
    """The lists that are there, each with the place of its key."""
    parts: tuple[Packed, ...] = ()
    """New parts and kits."""
    fluids: tuple[tuple[Ref, Quantity | None], ...] = ()
    """Fluids, each with how much of it; None for an amount that could not be read."""
    named: Mapping[str, tuple[Ref, ...]] = field(default_factory=dict)
    """Consumables, tools and equipment, by the key of the list."""

    def __post_init__(self) -> None:
        """Shut what could be written into."""
        seal(self, "keys", "named")


def read_supplies(reader: Reader, node: Node | None) -> Supplies | None:
    """Return the list of a job; None when it has none."""
    if not isinstance(node, Tree):
        return None
    fluids = ((pair, reader.quantity(pair.value, Kind.VOLUME)) for pair in entries(node.get("fluids")))
    return Supplies(
        {pair.key.value: pair.key.span for pair in entries(node)},
        tuple(read_packed(reader, node.get("parts"))),
        tuple((Ref(pair.key.value, pair.key.span), volume) for pair, volume in fluids),
        {name: reader.refs(node.get(name)) for name in NAMED},
    )
