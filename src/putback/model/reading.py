"""Typed access to a loaded file whose shape a schema has accepted.

A `Reader` takes values out of the tree and turns them into text, names, quantities and conditions. What only
content can show to be wrong (a quantity without a unit) becomes a fault, and the value None.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

from putback.joints import JointError
from putback.model.terms import Acceptance, Clause, Need, Ref, When
from putback.source.characters import visible
from putback.source.finding import Finding, Level
from putback.source.load import Listing, Mapping, Node, Pair, Text
from putback.source.quoting import quote
from putback.units import Kind, Quantity, QuantityError, parse, parse_any

_Meant = TypeVar("_Meant")
_LONGEST = 200
"""Characters of a text that means something about a fastener."""


class Reader:
    """Reads values of one file, and gathers its faults."""

    def __init__(self) -> None:
        self.faults: list[Finding] = []

    def text(self, node: Node | None) -> str | None:
        """Return the words of a scalar, with line breaks folded; None when there is none."""
        if isinstance(node, Text):
            return " ".join(node.value.split())
        return None

    def texts(self, node: Node | None) -> tuple[str, ...]:
        """Return the words of a scalar or of each item of a list."""
        return tuple(" ".join(item.value.split()) for item in _items(node))

    def ref(self, node: Node | None) -> Ref | None:
        """Return a scalar as a name with its place."""
        return Ref(" ".join(node.value.split()), node.span) if isinstance(node, Text) else None

    def refs(self, node: Node | None) -> tuple[Ref, ...]:
        """Return one name, or a list of names."""
        return tuple(Ref(" ".join(item.value.split()), item.span) for item in _items(node))

    def flag(self, node: Node | None) -> bool:
        """Return a truth value; False when there is none."""
        return isinstance(node, Text) and node.plain() is True

    def whole(self, node: Node | None) -> int | None:
        """Return a whole number."""
        value = node.plain() if isinstance(node, Text) else None
        return value if isinstance(value, int) and not isinstance(value, bool) else None

    def quantity(self, node: Node | None, kind: Kind | None = None) -> Quantity | None:
        """Return a quantity of a kind (any kind when None); a faulty one is a finding."""
        if not isinstance(node, Text):
            return None
        try:
            return parse(node.value, kind) if kind else parse_any(node.value)
        except QuantityError as error:
            check = "bare-number" if error.bare else "bad-quantity"
            self.faults.append(Finding(check, Level.ERROR, node.span, visible(str(error)), hint=visible(error.hint)))
            return None

    def positive(self, node: Node | None, kind: Kind) -> Quantity | None:
        """Return a quantity of a fastener, which must be more than nothing, at its least value too."""
        quantity = self.quantity(node, kind)
        if node is None or quantity is None:
            return quantity
        least = quantity.high if quantity.low is None else quantity.low
        if least is not None and least > 0:
            return quantity
        message = f"{quote(quantity.text)} is no {kind.value} that a fastener can have"
        self.faults.append(Finding("bad-fastener", Level.ERROR, node.span, message, hint="write one above 0"))
        return None

    def meant(self, node: Node | None, read: Callable[[str], _Meant]) -> _Meant | None:
        """Return what a text about a fastener means; one that means nothing is a finding."""
        if not isinstance(node, Text):
            return None
        words = " ".join(node.value.split())
        if len(words) > _LONGEST:
            message, hint = f"{quote(words)} is too long ({len(words)} characters)", "write a few words"
        else:
            try:
                return read(words)
            except JointError as error:
                message, hint = visible(str(error)), visible(error.hint)
        self.faults.append(Finding("bad-fastener", Level.ERROR, node.span, message, hint=hint))
        return None

    def when(self, node: Node | None) -> When | None:
        """Return a condition: a mapping, or a list of mappings of which any may hold."""
        if isinstance(node, Mapping):
            return When((self._case(node),), node.span)
        if isinstance(node, Listing):
            cases = [item for item in node.items if isinstance(item, Mapping)]
            return When(tuple(self._case(case) for case in cases), node.span)
        return None

    def _case(self, node: Mapping) -> tuple[Clause, ...]:
        return tuple(Clause(Ref(key.value, key.span), self.refs(value)) for key, value in node.entries.values())

    def needs(self, node: Node | None) -> tuple[Need, ...]:
        """Return control positions: control → position."""
        found = []
        for key, value in entries(node):
            position = self.ref(value)
            if position:
                found.append(Need(Ref(key.value, key.span), position))
        return tuple(found)

    def accept(self, node: Node | None) -> tuple[Acceptance, ...]:
        """Return acceptances: check → reason."""
        return tuple(Acceptance(Ref(key.value, key.span), self.text(value) or "") for key, value in entries(node))


def _items(node: Node | None) -> Iterator[Text]:
    if isinstance(node, Text):
        yield node
    elif isinstance(node, Listing):
        for item in node.items:
            if isinstance(item, Text):
                yield item


def entries(node: Node | None) -> Iterator[Pair]:
    """Yield the keys and values of a mapping; nothing when it is none."""
    if isinstance(node, Mapping):
        yield from node.entries.values()
