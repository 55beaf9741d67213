"""Typed access to a loaded file whose shape a schema has accepted.

A `Reader` takes values out of the tree and turns them into text, names, quantities and conditions. What only
content can show to be wrong (a quantity without a unit) becomes a fault, and the value None.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import replace
from typing import TypeVar

from putback.joints import JointError
from putback.model.measured import measured
from putback.model.said import Limit, Said
from putback.model.terms import Clause, Need, Ref, Waiver, When
from putback.source.characters import is_blank, visible
from putback.source.finding import Finding, Level
from putback.source.grammar import listed
from putback.source.late import Late
from putback.source.quoting import quote
from putback.source.tree import Listing, Mapping, Node, Pair, Text
from putback.units import Kind, Quantity, QuantityError, parse, parse_any
from putback.units.table import usual

_Meant = TypeVar("_Meant")
_NUMBERS = Late(r"[<>=≤≥±~ ]*[0-9O][0-9O.,/ ]*([^\W\d_].*|[°%\"].*)?")
_ONE_UNIT = Late(r"[<>=≤≥ ]*[0-9][0-9.,/]*\s*[^\W\d_]+\.?")
"""A number and a word that can only be a unit."""
_TOLERANCE = Late(
    r"[<>=≤≥ ]*[0-9O.,]+\s*[^\s\d(±+<>≤≥]*\s*(?:±|\+\s*/?\s*[-−]|(?:and\b|,)?\s*[<>≤≥]=?)"
    r"\s*[0-9O.,]+\s*[^\s\d(]*\s*(?:\(.*\)\s*)?(?:at\b.*)?"
)
"""A number, by how much it may be off, or the other end, and nothing else but a second unit: never words."""
_NO_EXAMPLE = {
    "write a known unit, as in '18 N·m'": "write a known unit",
    "write it as in '18 N·m'": "write a number and a unit",
}
"""Hints for what is measured by something that nobody knows: a torque is no example of it."""
_RATES = (
    Kind.SPEED,
    Kind.FREQUENCY,
    Kind.POWER,
    Kind.SHARE,
    Kind.VOLTAGE,
    Kind.CURRENT,
    Kind.TEMPERATURE,
    Kind.PRESSURE,
)
"""What something can run at."""
_SIGNS = ("-", "\u2212")
"""With these a number begins, and no words."""
_LONGEST = 200
"""Characters of a text that means something about a fastener."""


class Reader:
    """Reads values of one file, and gathers its faults."""

    def __init__(self) -> None:
        self.faults: list[Finding] = []

    def text(self, node: Node | None) -> Said | None:
        """Return the words of a scalar, with line breaks folded; None when there is none."""
        return _said(node) if isinstance(node, Text) else None

    def texts(self, node: Node | None) -> tuple[Said, ...]:
        """Return the words of a scalar or of each item of a list."""
        return tuple(map(_said, _items(node)))

    def names(self, node: Node | None) -> tuple[str, ...]:
        """Return one name, or a list of names, where nobody asks for their places."""
        return tuple(" ".join(item.value.split()) for item in _items(node))

    def ref(self, node: Node | None) -> Ref | None:
        """Return a scalar as a name with its place."""
        return _ref(node) if isinstance(node, Text) else None

    def direction(self, node: Node | None) -> Ref | None:
        """Return a way of turning: clockwise or anticlockwise, which is called counterclockwise as well."""
        way = self.ref(node)
        return way._replace(name="anticlockwise") if way and way.name == "counterclockwise" else way

    def refs(self, node: Node | None) -> tuple[Ref, ...]:
        """Return one name, or a list of names."""
        return tuple(map(_ref, _items(node)))

    def flag(self, node: Node | None) -> bool:
        """Return a truth value; False when there is none."""
        return isinstance(node, Text) and node.plain() is True

    def whole(self, node: Node | None) -> int | None:
        """Return a whole number."""
        value = node.plain() if isinstance(node, Text) else None
        return value if isinstance(value, int) and not isinstance(value, bool) else None

    def quantity(self, node: Node | None, kind: Kind) -> Quantity | None:
        """Return a quantity of a kind, whose text is a `Said`; a faulty one is a finding."""
        if not isinstance(node, Text):
            return None
        try:
            return replace(parse(node.value, kind), text=_said(node))
        except QuantityError as error:
            self._not_read(node, error)
            return None

    def positive(self, node: Node | None, kind: Kind, of: str = "fastener") -> Quantity | None:
        """Return a quantity of a fastener, or of another thing, which must be more than nothing, at its least too."""
        quantity = self.quantity(node, kind)
        if node is None or quantity is None:
            return quantity
        least = quantity.high if quantity.low is None else quantity.low
        if least is not None and least > 0:
            return quantity
        message = f"{quote(quantity.text)} is not {kind.one} that a {of} can have"
        check = "bad-fastener" if of == "fastener" else "bad-quantity"
        self.faults.append(Finding(check, Level.ERROR, node.span, message, hint="write one above 0"))
        return None

    def limit(self, node: Node | None, words: str, of: str) -> Limit | None:
        """Return a limit that must be a quantity; `words` name what is measured, `of` the thing.

        A faulty one is a finding, and a limit all the same.
        """
        if not isinstance(node, Text):
            return None
        quantity = self._judging(node, words, of)
        return Limit(_said(node), quantity, unread=quantity is None)

    def limit_or_words(self, node: Node | None, things: tuple[Ref, ...], *, strict: bool) -> Limit | None:
        """Return a limit that may be words.

        Of a known measure, or when `strict`, it finds a bare number, and a range that no quantity can be.
        """
        if not isinstance(node, Text) or is_blank(node.value):
            return None
        try:
            quantity = parse_any(node.value)
        except QuantityError as error:
            words = things[0].name if things else ""
            what = measured(words)
            unread = error.bare or (".." in node.value and _NUMBERS.fullmatch(node.value) is not None)
            unread = unread or (what is not None and _ONE_UNIT.fullmatch(node.value) is not None)
            unread = unread or _TOLERANCE.fullmatch(node.value) is not None
            if unread and (strict or what):
                meant = self._judging(node, words, "")
                return Limit(_said(node), meant, unread=meant is None)
            return Limit(_said(node))
        return Limit(said := _said(node), replace(quantity, text=said))

    def _judging(self, node: Text, words: str, of: str) -> Quantity | None:
        """Return the quantity of a limit; what is measured tells of which kind a hint must be."""
        try:
            return replace(parse_any(node.value), text=_said(node))
        except QuantityError as error:
            what = measured(words, of)
            kinds = what.kinds if what else ()
            if error.bare and kinds == (Kind.DENSITY,):
                return self._density(node)
            if kinds and not (error.bare and len(kinds) > 1):
                self._not_read(node, _closer(error, node.value, kinds[0]))
                return None
            units = listed([usual(kind).symbol for kind in kinds], "or")
            hint = (
                f"write the unit after the number{units and ': '}{units}" if error.bare else _NO_EXAMPLE.get(error.hint)
            )
            self._not_read(node, error, hint)
            return None

    def rate(self, node: Node | None) -> Said | None:
        """Return at what something runs: words, or a speed, a power, a share; another quantity is a finding."""
        if not isinstance(node, Text):
            return None
        try:
            kind = parse_any(node.value).kind
        except QuantityError as error:
            if error.bare:
                self._not_read(node, _closer(error, node.value, Kind.SPEED))
            return _said(node)
        if kind not in _RATES:
            self.quantity(node, Kind.SPEED)
        return _said(node)

    def due(self, node: Node | None) -> Said | None:
        """Return after what something is due: words, or hours or a distance; a bare number is a finding."""
        if not isinstance(node, Text):
            return None
        try:
            quantity = parse_any(node.value)
        except QuantityError as error:
            if error.bare:
                self._not_read(node, error, "write the unit after the number: h or km")
            elif node.value.lstrip()[:1] in _SIGNS:
                self._not_read(node, error)
            return _said(node)
        if quantity.kind not in (Kind.TIME, Kind.LENGTH, Kind.DISTANCE):
            self.quantity(node, Kind.TIME)
        elif quantity.low is not None and quantity.low <= 0:
            message = f"nothing is due {quote(node.value)} after a job"
            self.faults.append(Finding("bad-quantity", Level.ERROR, node.span, message, hint="write one above 0"))
        return _said(node)

    def _density(self, node: Text) -> Quantity | None:
        """Return a specific gravity, which the trade writes without a unit."""
        try:
            return replace(parse(f"{node.value} SG", Kind.DENSITY), text=_said(node))
        except QuantityError as error:
            self._not_read(node, error)
            return None

    def _not_read(self, node: Text, error: QuantityError, hint: str | None = None) -> None:
        check = "bare-number" if error.bare else "bad-quantity"
        hint = hint or visible(error.hint)
        self.faults.append(Finding(check, Level.ERROR, node.span, visible(str(error)), hint=hint))

    def meant(self, node: Node | None, read: Callable[[str], _Meant]) -> _Meant | None:
        """Return what a text about a fastener means; one that means nothing is a finding."""
        if not isinstance(node, Text):
            return None
        words = _said(node)
        if len(words) > _LONGEST:
            message, hint = f"{quote(words)} is too long ({len(words)} characters)", "write just a few words"
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

    def pairs(self, node: Node | None) -> tuple[tuple[Ref, Ref], ...]:
        """Return names that stand for others."""
        found = [(Ref(key.value, key.span), self.ref(value)) for key, value in entries(node)]
        return tuple((ref, other) for ref, other in found if other is not None)

    def waive(self, node: Node | None) -> tuple[Waiver, ...]:
        """Return waivers: check → reason."""
        return tuple(Waiver(Ref(key.value, key.span), self.text(value) or "") for key, value in entries(node))


def _closer(error: QuantityError, text: str, kind: Kind) -> QuantityError:
    """Return what is wrong with a text as a quantity of a kind, or else what is wrong with it at all."""
    try:
        parse(text, kind)
    except QuantityError as closer:
        return closer
    return error


def _said(node: Text) -> Said:
    return Said(" ".join(node.value.split()), node.span, node.written or node.value)


def _ref(node: Text) -> Ref:
    # A name has no blanks. What has some is words that stand in the place of one, and keeps what was written.
    words = " ".join(node.value.split())
    return Ref(_said(node) if " " in words else words, node.span)


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
