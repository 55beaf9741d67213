"""From the tree of a part to its shape and size."""

from __future__ import annotations

from typing import Any

from putback.model.forms import PartShape, RoundSize, across
from putback.model.reading import Reader
from putback.model.single import one_value
from putback.source.finding import Finding, Level
from putback.source.quoting import quote
from putback.source.tree import Mapping
from putback.units import Kind


def read_form(reader: Reader, facts: Mapping) -> dict[str, Any]:
    """Return the shape and the size that a part's facts give."""
    word = reader.text(facts.get("shape"))
    size = facts.get("size")
    return {
        "shape": PartShape(str(word)) if word else None,
        "size": _size(reader, size) if isinstance(size, Mapping) else None,
    }


def _size(reader: Reader, node: Mapping) -> RoundSize:
    """Return how large a part is; a hole that is no smaller than the part is a finding."""
    outside, inside, thickness = (
        one_value(reader, node.get(key), Kind.LENGTH, of="part") for key in ("outside", "inside", "thickness")
    )
    if outside and inside and across(inside) >= across(outside):
        message = f"the hole is {quote(inside.text)} across, but the whole part only {quote(outside.text)}"
        where = node.entries["inside"].value.span
        hint = f"write less than {quote(outside.text)} for 'inside'"
        reader.faults.append(Finding("bad-quantity", Level.ERROR, where, message, hint=hint))
        inside = None
    return RoundSize(outside=outside, inside=inside, thickness=thickness)
