"""How long a fastener is, and how wide."""

from __future__ import annotations

from typing import Any

from putback.joints.heads import HeadForm
from putback.joints.threads import Thread
from putback.model.reading import Reader, entries
from putback.source.finding import Finding, Level
from putback.source.tree import Mapping, Node
from putback.units import Kind, Quantity, si


def lengths_by_position(reader: Reader, node: Node | None) -> tuple[tuple[str, Quantity], ...]:
    """Return lengths by position, where a mapping gives them."""
    pairs = ((key.value, reader.positive(value, Kind.LENGTH)) for key, value in entries(node))
    return tuple((position, length) for position, length in pairs if length is not None)


_HEADS = {form.value: form for form in HeadForm}


def shape_facts(reader: Reader, facts: Mapping, screw: Thread | None) -> dict[str, Any]:
    """Return the bore of a fastener and its thinnest place, its head, and how long its thread is."""
    return {
        **{key: _within(reader, facts, key, screw) for key in ("bore", "shank")},
        "head": _HEADS.get(reader.text(facts.get("head")) or ""),
        "thread_length": reader.positive(facts.get("thread-length"), Kind.LENGTH),
    }


def _within(reader: Reader, facts: Mapping, key: str, screw: Thread | None) -> Quantity | None:
    """Return the bore of a fastener or its thinnest place, which must be less than its thread is wide."""
    node = facts.get(key)
    quantity = reader.positive(node, Kind.LENGTH)
    if node and quantity and screw and (si(quantity)[0] or 0) * 1000 >= screw.diameter:
        message = f"a {key} of {quantity.text} is at least as wide as the thread, {screw.designation}"
        reader.faults.append(Finding("bad-fastener", Level.ERROR, node.span, message, hint="look up both"))
        return None
    return quantity
