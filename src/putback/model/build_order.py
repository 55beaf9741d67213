"""From the tree of a fastener to where its pieces sit, and the order in which they are tightened."""

from __future__ import annotations

from typing import Any

from putback.joints.patterns import Layout, LayoutError, Rule, order_of, positions_layout, read_layout, rule_of
from putback.model.reading import Reader
from putback.model.viewpoint import read_viewpoint
from putback.source.characters import visible
from putback.source.finding import Finding, Level
from putback.source.tree import Listing, Mapping, Node, Text

_RULES = {
    **dict.fromkeys(("crosswise", "criss-cross", "crisscross", "diagonally", "in a cross"), Rule.CROSSWISE),
    **dict.fromkeys(
        (f"from the {middle}{end}" for middle in ("middle", "centre", "center") for end in ("", " out", " outwards")),
        Rule.FROM_THE_MIDDLE,
    ),
    **dict.fromkeys(("in turn", "one after another", "one after the other"), Rule.IN_TURN),
}
"""Orders that are worked out from the places, by the words that name them."""
FEW = 3
"""Up to so many pieces find their balance in any order. Common practice, no source."""
MOST_DRAWN = 40
"""With more pieces, the numbers in a drawing are too small to be read."""


def ordered(reader: Reader, facts: Mapping, count: int) -> dict[str, Any]:
    """Return where the pieces sit, and their order: as stated, or worked out from their places."""
    node, said = facts.get("layout"), facts.get("order")
    places = _layout(reader, node, count)
    words: str | None = reader.text(said)
    sequence: tuple[int, ...] = ()
    rule: Rule | None = None
    if isinstance(said, Listing):
        sequence = _numbers(reader, said, count)
    elif places is not None:
        rule = _RULES.get((words or "").lower()) if words else rule_of(places) if count > FEW else None
        if rule is not None:
            sequence, words = order_of(places, rule), None
    after = reader.ref(facts.get("tightened-after"))
    stated = node is not None or said is not None or after is not None
    return {
        "places": places,
        **_turned_round(reader, facts),
        "order": words,
        "rule": rule,
        "sequence": sequence,
        "ordered": stated,
        "tightened_after": after,
    }


def _turned_round(reader: Reader, facts: Mapping) -> dict[str, Any]:
    """Return which way round a layout is: its front, its top, and from where it is seen."""
    front, top, seen = (facts.get(key) for key in ("front", "top", "seen-from"))
    if front and top and reader.text(front) == reader.text(top):
        message, hint = f"the top of the layout is its front as well, {reader.text(top)}", "give the side of each"
        reader.faults.append(Finding("bad-fastener", Level.ERROR, top.span, message, hint=hint))
    return {"front": reader.text(front), "top": reader.text(top), "viewpoint": read_viewpoint(reader, seen)}


def _layout(reader: Reader, node: Node | None, count: int) -> Layout | None:
    if isinstance(node, Text):
        return reader.meant(node, lambda text: read_layout(text, count))
    if not isinstance(node, Listing):
        return None
    positions = [[_coordinate(each) for each in item.items] for item in node.items if isinstance(item, Listing)]
    try:
        if len(positions) < len(node.items):
            raise LayoutError("a position is a list of two numbers, x and y", "write it as in [-32, 55]")
        return positions_layout(positions, count)
    except LayoutError as error:
        place = node.items[error.index] if error.index is not None and error.index < len(node.items) else node
        reader.faults.append(Finding("bad-fastener", Level.ERROR, place.span, visible(str(error)), hint=error.hint))
        return None


def _coordinate(node: Node) -> float | str:
    value = node.plain() if isinstance(node, Text) else None
    if isinstance(value, int | float) and not isinstance(value, bool):
        return float(value)
    return node.value if isinstance(node, Text) else ""


def _numbers(reader: Reader, node: Listing, count: int) -> tuple[int, ...]:
    """Return an order that is a list of numbers; each piece must stand in it once."""
    numbers = [reader.whole(item) for item in node.items]
    for index, number in enumerate(numbers):
        message = None
        if number is None or not 1 <= number <= count:
            message = f"the order names piece {number}, but there are only {count}"
        elif number in numbers[:index]:
            message = f"the order names piece {number} twice"
        if message:
            span = node.items[index].span
            reader.faults.append(
                Finding("bad-fastener", Level.ERROR, span, message, hint=f"name each of 1 to {count} once")
            )
            return ()
    if len(numbers) < count:
        missing = ", ".join(str(number) for number in range(1, count + 1) if number not in numbers)
        message = f"the order leaves out {missing}"
        reader.faults.append(
            Finding("bad-fastener", Level.ERROR, node.span, message, hint=f"name each of 1 to {count} once")
        )
        return ()
    return tuple(number for number in numbers if number is not None)
