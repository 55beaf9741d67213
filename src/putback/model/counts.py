"""How many pieces there are, and what names them: a number, one for each choice of an option, or openly not counted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Any, NamedTuple

from putback.model.machine import AnyThing, Fastener, Machine
from putback.model.reading import Reader, entries
from putback.model.sizes import lengths_by_position
from putback.model.terms import Clause, Ref, When
from putback.source.finding import Finding, Level
from putback.source.grammar import listed
from putback.source.nearest import nearest
from putback.source.phrases import as_name
from putback.source.quoting import quote
from putback.source.span import Span
from putback.source.tree import Listing, Mapping, Node, Text


class HowMany(NamedTuple):
    """What a file says of the number of pieces."""

    count: int | None = None  # type: ignore[assignment]  # a number, and not the method of tuples
    """How many, in the variants that have most; None when nothing is said."""
    counts: tuple[tuple[When, int], ...] = ()
    """How many in which variants, when that differs."""
    uncounted: bool = False
    """Whether nobody knows."""


def read_count(reader: Reader, node: Node | None) -> HowMany:
    """Return what stands under `count`."""
    if not isinstance(node, Mapping):
        number = reader.whole(node)
        return HowMany(1, uncounted=True) if isinstance(node, Text) and number is None else HowMany(number)
    counts: list[tuple[When, int]] = []
    for option, _ in list(entries(node))[1:]:
        message, hint = (
            "a count can depend on one option only",
            "make a group for each number, with a 'when' of its own",
        )
        reader.faults.append(Finding("bad-fastener", Level.ERROR, option.span, message, hint=hint))
    for option, choices in list(entries(node))[:1]:
        for choice, value in entries(choices):
            clause = Clause(Ref(option.value, option.span), (Ref(choice.value, choice.span),))
            counts.append((When(((clause,),), option.span), reader.whole(value) or 1))
    return HowMany(max((number for _, number in counts), default=None), tuple(counts))


_ONE_COUNT = ("positions", "layout", "length")
"""Facts that name the pieces one by one."""


def _one_count(reader: Reader, facts: Mapping) -> None:
    """Find what names the pieces one by one, where their number is not one and the same."""
    node = facts.get("count")
    if node is None or (isinstance(node, Text) and isinstance(node.plain(), int)):
        return
    why = "their number differs by variant" if isinstance(node, Mapping) else "they are not counted"
    for key in _ONE_COUNT:
        if key in facts.entries and (key != "length" or isinstance(facts.get(key), Mapping)):
            hint = "make a group for each number, one 'instead-of' the other" if isinstance(node, Mapping) else None
            message = f"'{key}' names each piece, but {why}"
            reader.faults.append(Finding("bad-fastener", Level.ERROR, facts.entries[key].key.span, message, hint=hint))


def read_pieces(reader: Reader, facts: Mapping) -> tuple[HowMany, dict[str, Any]]:
    """Return how many pieces there are, and what names them one by one."""
    _one_count(reader, facts)
    lengths = lengths_by_position(reader, facts.get("length"))
    positions = reader.names(facts.get("positions")) or tuple(position for position, _ in lengths)
    how_many = read_count(reader, facts.get("count"))
    count = how_many.count or len(positions) or 1
    if how_many.counts or how_many.uncounted or not _fits(reader, facts, positions, count):
        positions, lengths = (), ()
    return how_many, {
        "count": count,
        "counts": how_many.counts,
        "uncounted": how_many.uncounted,
        "positions": positions,
        "lengths": lengths,
    }


def _fits(reader: Reader, facts: Mapping, positions: tuple[str, ...], count: int) -> bool:
    """Tell whether the names of the positions are as many as the pieces, and those that lengths are given for."""
    named, lengths = facts.get("positions"), facts.get("length")
    before = len(reader.faults)

    def refuse(span: Span, message: str, hint: str) -> None:
        reader.faults.append(Finding("bad-fastener", Level.ERROR, span, message, hint=hint))

    items = named.items if isinstance(named, Listing) else []
    for index, item in enumerate(items):
        if positions.index(positions[index]) < index:
            refuse(item.span, f"the position {quote(positions[index])} is listed twice", "give each piece its own name")
    if isinstance(named, Listing) and isinstance(lengths, Mapping):
        for key, _ in entries(lengths):
            if key.value not in positions:
                refuse(
                    key.span, f"no position is called {quote(key.value)}", f"the positions are {', '.join(positions)}"
                )
        without = [position for position in positions if lengths.get(position) is None]
        if without and len(reader.faults) == before:
            refuse(lengths.span, f"the length at {', '.join(without)} is missing", "give the length at each position")
    holder = named or lengths
    if isinstance(lengths, Mapping) and len(lengths.entries) > len(positions):
        return len(reader.faults) == before  # one of them could not be read, and that is told
    if holder is not None and positions and len(positions) != count and len(reader.faults) == before:
        many = f"{len(positions)} position{'s' if len(positions) > 1 else ''}"
        refuse(holder.span, f"{many} for a count of {count}", "name one position for each piece")
    return len(reader.faults) == before


def completed(machine: Machine) -> tuple[Machine, list[Finding]]:
    """Return a machine with a count for each choice of an option, and those choices that have none in the file.

    There are then taken to be as many as at most: what follows from the slip would say nothing more.
    """
    faults: list[Finding] = []
    changed: dict[str, AnyThing] = {}
    for key, thing in machine.things.items():
        if not isinstance(thing, Fastener) or not thing.counts:
            continue
        option = thing.counts[0][0].cases[0][0].option
        # A misspelt choice, or one that is no name yet (`40 mm`), is told as such: a count for it is there.
        known = machine.options.get(option.name, ())
        said = [_meant(ref.name, known) for when, _ in thing.counts for ref in when.cases[0][0].choices]
        left = [choice for choice in known if choice not in said]
        missing = [choice for choice in left if _possible(thing.when, option.name, choice)]
        if missing:
            message = f"{thing.key} has no count with {option.name}: {listed(missing)}"
            hint = f"add '{missing[0]}: …'" if len(missing) == 1 else None
            faults.append(Finding("bad-fastener", Level.ERROR, option.span, message, hint=hint))
            more = [When(((Clause(option, (Ref(choice, option.span),)),),), option.span) for choice in missing]
            changed[key] = replace(thing, counts=(*thing.counts, *((when, thing.count) for when in more)))
    return (replace(machine, things={**machine.things, **changed}) if changed else machine), faults


def _meant(written: str, known: Sequence[str]) -> str:
    return written if written in known else nearest(as_name(written), known) or written


def _possible(when: When | None, option: str, choice: str) -> bool:
    """Tell whether a condition leaves a choice of an option."""
    return when is None or any(
        all(clause.option.name != option or choice in [ref.name for ref in clause.choices] for clause in case)
        for case in when.cases
    )
