"""Reads the picture of a step: which part of it is shown, and where things are in it."""

from __future__ import annotations

from putback.model.figure import Callout, Cut, Figure, PictureSpot
from putback.model.reading import Reader
from putback.model.single import one_value
from putback.source.finding import Finding, Level
from putback.source.late import Late
from putback.source.quoting import quote
from putback.source.tree import Listing, Mapping, Node, Text
from putback.units import Kind

_NUMBER = r"([-−]?\d{1,4}(?:\.\d{1,4})?)"
_SPOT = Late(rf"{_NUMBER}\s*%\s*(?:across)?\s*,?\s+{_NUMBER}\s*%(?:\s*down)?|{_NUMBER}%,?{_NUMBER}%")
_TWO_NUMBERS = Late(rf"{_NUMBER}\s*%?[\s,]+{_NUMBER}\s*%?")
_HOW = "write how far across and how far down, in per cent of the picture: 42 % 31 %"


def read_figure(reader: Reader, node: Node | None) -> Figure | None:
    """Return a picture: the name of its file, or a mapping."""
    if not isinstance(node, Mapping):
        image = reader.ref(node)
        return Figure(image, None, None, node.span) if image and node else None
    image = reader.ref(node.get("image"))
    if image is None:
        return None
    listed = node.get("callouts")
    items = listed.items if isinstance(listed, Listing) else []
    callouts = [_callout(reader, item) for item in items if isinstance(item, Mapping)]
    return Figure(
        image,
        reader.text(node.get("alt")),
        reader.text(node.get("caption")),
        node.span,
        one_value(reader, node.get("width"), Kind.LENGTH, "picture"),
        _cut(reader, node.get("crop")),
        tuple(callout for callout in callouts if callout),
    )


def _cut(reader: Reader, node: Node | None) -> Cut | None:
    if not isinstance(node, Mapping):
        return None
    start, end = _spot(reader, node.get("from")), _spot(reader, node.get("to"))
    if start is None or end is None:
        return None
    inside = all(0 <= value <= 100 for spot in (start, end) for value in spot[:2])
    if inside and end.across - start.across >= 1 and end.down - start.down >= 1:
        return Cut(start, end, node.span)
    if inside:
        message = "nothing of the picture is left: 'from' must be above and to the left of 'to'"
        hint = None
    else:
        message, hint = "the crop goes beyond the edge of the picture", "keep to 0 % to 100 %"
    reader.faults.append(Finding("wrong-shape", Level.ERROR, node.span, message, hint=hint))
    return None


def _callout(reader: Reader, node: Mapping) -> Callout | None:
    pair = node.entries.get("at")
    if pair is None:
        return None
    listed = pair.value.items if isinstance(pair.value, Listing) else [pair.value]
    spots = tuple(spot for spot in (_spot(reader, item) for item in listed) if spot)
    thing, text = reader.ref(node.get("thing")), reader.text(node.get("text"))
    if thing is None and text is None:
        message = "nobody is told what this callout points at"
        hint = "give it 'thing', a name, or 'text', words"
        reader.faults.append(Finding("wrong-shape", Level.ERROR, pair.key.span, message, hint=hint))
    if not spots or (thing is None and text is None):
        return None
    number, ring = node.get("number"), node.get("circle")
    arrow = _spot(reader, node.get("arrow"))
    if arrow and any(arrow[:2] == spot[:2] for spot in spots):
        message = "the arrow ends where it begins, so it shows no way"
        hint = "give 'arrow' the place that the thing goes to"
        reader.faults.append(Finding("wrong-shape", Level.ERROR, arrow.span, message, hint=hint))
        arrow = None
    circle = one_value(reader, ring, Kind.SHARE, "picture")
    return Callout(
        spots,
        pair.key.span,
        thing,
        text,
        reader.whole(number),
        number.span if number else None,
        _spot(reader, node.get("number-at")),
        float(circle.to("%").nominal or 0) if circle else None,
        ring.span if ring else None,
        arrow,
    )


def _spot(reader: Reader, node: Node | None) -> PictureSpot | None:
    """Return a place in a picture, `42 % 31 %`; anything else is a finding."""
    if not isinstance(node, Text):
        return None
    words = " ".join(node.value.split())
    found = _SPOT.fullmatch(words)
    if found:
        across, down = (float(part.replace("−", "-")) for part in found.groups() if part)
        return PictureSpot(across, down, node.span)
    two = _TWO_NUMBERS.fullmatch(words)
    if two:
        message, hint = f"{quote(words)} does not say of what these are parts", f"write '{two[1]} % {two[2]} %'"
    else:
        message, hint = f"{quote(words)} is not a place in a picture", _HOW
    reader.faults.append(Finding("bad-quantity", Level.ERROR, node.span, message, hint=hint))
    return None
