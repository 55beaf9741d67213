"""How long a fastener is, and how wide."""

from __future__ import annotations

from typing import Any

from putback.joints.heads import HeadForm
from putback.joints.threads import Thread
from putback.model.reading import Reader, entries
from putback.model.single import one_value
from putback.source.finding import Finding, Level
from putback.source.tree import Mapping, Node
from putback.units import Kind, Quantity, QuantityError, parse, si


def lengths_by_position(reader: Reader, node: Node | None) -> tuple[tuple[str, Quantity], ...]:
    """Return lengths by position, where a mapping gives them."""
    pairs = ((key.value, one_value(reader, value, Kind.LENGTH)) for key, value in entries(node))
    return tuple((position, length) for position, length in pairs if length is not None)


_HEADS = {form.value: form for form in HeadForm}


def shape_facts(reader: Reader, facts: Mapping, screw: Thread | None) -> dict[str, Any]:
    """Return the bore of a fastener and its thinnest place, its head, and how long its thread is."""
    return {
        **{key: _within(reader, facts, key, screw) for key in ("bore", "shank")},
        "head": _HEADS.get(reader.text(facts.get("head")) or ""),
        "thread_length": _thread_length(reader, facts),
    }


def _thread_length(reader: Reader, facts: Mapping) -> Quantity | None:
    """Return how long the thread of a fastener is, which must not be longer than it is."""
    node, whole = facts.get("thread-length"), facts.get("length")
    quantity = one_value(reader, node, Kind.LENGTH)
    given = [value for _, value in entries(whole)] if isinstance(whole, Mapping) else [whole]
    lengths = [length for each in given if (said := reader.text(each)) and (length := _read(said))]
    longest = max(lengths, key=_most, default=None)
    if node and quantity and longest and (si(quantity)[0] or 0.0) > _most(longest) > 0:
        message = f"a thread of {quantity.text} is longer than the fastener, {longest.text}"
        reader.faults.append(Finding("bad-fastener", Level.ERROR, node.span, message, hint="look up both"))
        return None
    return quantity


def _read(text: str) -> Quantity | None:
    """Return a length; None for what is none, which is told elsewhere."""
    try:
        return parse(text, Kind.LENGTH)
    except QuantityError:
        return None


def _most(length: Quantity) -> float:
    return si(length)[1] or 0.0


def _within(reader: Reader, facts: Mapping, key: str, screw: Thread | None) -> Quantity | None:
    """Return the bore of a fastener or its thinnest place, which must be less than its thread is wide."""
    node = facts.get(key)
    quantity = one_value(reader, node, Kind.LENGTH)
    if node and quantity and screw and (si(quantity)[0] or 0) * 1000 >= screw.diameter:
        message = f"a {key} of {quantity.text} is at least as wide as the thread, {screw.designation}"
        reader.faults.append(Finding("bad-fastener", Level.ERROR, node.span, message, hint="look up both"))
        return None
    return quantity
