"""How many pieces there are: a number, a number for each choice of an option, or openly not counted."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import Fastener, Machine
from putback.model.reading import Reader, entries
from putback.model.terms import Clause, Ref, When
from putback.source.finding import Finding, Level
from putback.source.grammar import listed
from putback.source.tree import Mapping, Node, Text


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
    for option, choices in entries(node):
        for choice, value in entries(choices):
            clause = Clause(Ref(option.value, option.span), (Ref(choice.value, choice.span),))
            counts.append((When(((clause,),), option.span), reader.whole(value) or 1))
    return HowMany(max((number for _, number in counts), default=None), tuple(counts))


_ONE_COUNT = ("positions", "layout", "length")
"""Facts that name the pieces one by one."""


def one_count(reader: Reader, facts: Mapping) -> None:
    """Find what names the pieces one by one, where their number is not one and the same."""
    node = facts.get("count")
    if node is None or (isinstance(node, Text) and isinstance(node.plain(), int)):
        return
    why = "their number differs by variant" if isinstance(node, Mapping) else "they are not counted"
    for key in _ONE_COUNT:
        if key in facts.entries and (key != "length" or isinstance(facts.get(key), Mapping)):
            hint = "make a group for each number, one 'instead-of' the other" if isinstance(node, Mapping) else None
            message = f"'{key}' names each piece, and {why}"
            reader.faults.append(
                Finding("bad-fastener", Level.ERROR, facts.entries[key].key.span, message, hint=hint)
            )


def faults_of_counts(machine: Machine) -> Iterator[Finding]:
    """Yield choices of an option for which nobody says how many pieces there are."""
    for thing in machine.things.values():
        if not isinstance(thing, Fastener) or not thing.counts:
            continue
        option = thing.counts[0][0].cases[0][0].option
        said = [ref.name for when, _ in thing.counts for ref in when.cases[0][0].choices]
        left = [choice for choice in machine.options.get(option.name, ()) if choice not in said]
        missing = [choice for choice in left if _possible(thing.when, option.name, choice)]
        if missing:
            message = f"{thing.key} has no count with {option.name}: {listed(missing)}"
            hint = f"add '{missing[0]}: …'" if len(missing) == 1 else None
            yield Finding("bad-fastener", Level.ERROR, option.span, message, hint=hint)


def _possible(when: When | None, option: str, choice: str) -> bool:
    """Tell whether a condition leaves a choice of an option."""
    return when is None or any(
        all(clause.option.name != option or choice in [ref.name for ref in clause.choices] for clause in case)
        for case in when.cases
    )
