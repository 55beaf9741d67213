"""From the trees of the library's files to their entries."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TypeVar

from putback.joints.friction import Film
from putback.model.library import Consumable, Equipment, Hazard, SafetyMessage, Tool
from putback.model.reading import Reader, entries
from putback.model.single import one_value
from putback.model.stays import has_lid, stays
from putback.model.terms import Signal
from putback.source.finding import Finding, Level
from putback.source.quoting import quote
from putback.source.tree import Listing, Mapping, Node, Text
from putback.units import Kind, Quantity

_E = TypeVar("_E")


def build_entries(root: Mapping, build: Callable[[Reader, Text, Mapping], _E]) -> tuple[dict[str, _E], list[Finding]]:
    """Return the entries of a file of a good shape, by name, and what is wrong with their values."""
    reader = Reader()
    found = {}
    for key, value in entries(root):
        facts = value if isinstance(value, Mapping) else Mapping({}, value.span)
        found[key.value] = build(reader, key, facts)
    return found, reader.faults


def _name(reader: Reader, key: Text, facts: Mapping) -> str:
    return reader.text(facts.get("name")) or key.value.replace("-", " ")


def build_caution(reader: Reader, key: Text, facts: Mapping) -> SafetyMessage:
    """Return a safety message."""
    signal = facts.get("signal")
    return SafetyMessage(
        key=key.value,
        span=key.span,
        name=_name(reader, key, facts),
        signal=Signal(reader.text(signal) or ""),
        hazard=reader.text(facts.get("hazard")) or "",
        consequence=reader.text(facts.get("consequence")) or "",
        avoid=reader.texts(facts.get("avoid")),
        covers=reader.refs(facts.get("covers")),
        ppe=reader.texts(facts.get("ppe")),
        signal_span=signal.span if signal else None,
    )


def build_hazard(reader: Reader, key: Text, facts: Mapping) -> Hazard:
    """Return a hazard."""
    return Hazard(
        key=key.value,
        span=key.span,
        name=_name(reader, key, facts),
        signal_at_least=Signal(reader.text(facts.get("signal-at-least")) or ""),
        verbs=reader.names(facts.get("verbs")),
        tags=reader.names(facts.get("tags")),
        ppe=reader.texts(facts.get("ppe")),
        safe_when=reader.needs(facts.get("safe-when")),
        while_=reader.needs(facts.get("while")),
        mass=one_value(reader, facts.get("mass"), Kind.MASS, "load", nought=True),
        licensed=reader.flag(facts.get("licensed")),
        waste=reader.text(facts.get("waste")),
        not_worn=reader.texts(facts.get("not-worn")),
    )


def build_tool(reader: Reader, key: Text, facts: Mapping) -> Tool:
    """Return a tool."""
    return Tool(
        key=key.value,
        span=key.span,
        name=_name(reader, key, facts),
        range=reader.quantity(facts.get("range"), Kind.TORQUE),
        step=one_value(reader, facts.get("step"), Kind.TORQUE, "tool"),
        lever=one_value(reader, facts.get("lever"), Kind.LENGTH, "tool"),
        extends=one_value(reader, facts.get("extends"), Kind.LENGTH, "tool"),
        drives=reader.names(facts.get("drives")),
        tags=reader.refs(facts.get("tags")),
        reads=tuple(_reads(reader, facts.get("reads"))),
    )


def _reads(reader: Reader, node: Node | None) -> Iterator[Quantity]:
    """Yield the least that a measuring tool tells apart; of a temperature it is a difference."""
    for each in node.items if isinstance(node, Listing) else [node]:
        limit = reader.limit(each, "", "")
        quantity = limit.quantity if limit else None
        if each is None or quantity is None:
            continue
        least = quantity.high if quantity.low is None else quantity.low
        if quantity.kind is not Kind.TEMPERATURE and quantity.nominal is not None and least and least > 0:
            yield quantity
        else:
            message = f"{quote(quantity.text)} is not a difference that a tool can show"
            hint = "write a difference, such as 1 K" if quantity.kind is Kind.TEMPERATURE else "write one value above 0"
            reader.faults.append(Finding("bad-quantity", Level.ERROR, each.span, message, hint=hint))


def build_consumable(reader: Reader, key: Text, facts: Mapping) -> Consumable:
    """Return a consumable."""
    threads = reader.text(facts.get("threads"))
    return Consumable(
        key=key.value,
        span=key.span,
        name=_name(reader, key, facts),
        tags=reader.refs(facts.get("tags")),
        threads=Film(threads) if threads else None,
    )


def build_equipment(reader: Reader, key: Text, facts: Mapping) -> Equipment:
    """Return a piece of equipment."""
    keeps, stay, name = facts.get("keeps"), facts.get("may-stay"), _name(reader, key, facts)
    rated_load = one_value(reader, facts.get("rated-load"), Kind.MASS, "piece of equipment")
    return Equipment(
        key=key.value,
        span=key.span,
        name=name,
        rated_load=rated_load,
        tags=reader.refs(facts.get("tags")),
        thread=reader.text(facts.get("thread")),
        length=reader.quantity(facts.get("length"), Kind.LENGTH),
        stills=() if isinstance(keeps, Mapping) else reader.refs(keeps),
        keeps=reader.needs(keeps) if isinstance(keeps, Mapping) else (),
        may_stay=reader.flag(stay) if stay else stays(name, bears=rated_load is not None),
        lid=reader.flag(lid) if (lid := facts.get("lid")) else has_lid(name),
    )
