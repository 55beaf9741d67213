"""Faults of single things, told of what stands in the file: one slip in what is done for each place is one fault."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Sequence
from functools import cache

from putback.checks.engine.form import Fault
from putback.checks.engine.known import KnownCheck
from putback.guide.spread import MARK
from putback.guide.written import Written
from putback.ledger.opened import Opened
from putback.source.finding import Also
from putback.source.grammar import listed, number
from putback.variants import NONE
from putback.variants.space import Space

Found = tuple[KnownCheck, Fault]


@cache
def _names() -> re.Pattern[str]:
    return re.compile(r"(?P<before>'[a-z-]+: )?(?P<name>[a-z0-9-]+)(?P<mark>(?:@[a-z0-9=-]+)+)(?P<after>')?")


@cache
def _numbers() -> re.Pattern[str]:
    return re.compile(rf"\b(?:{'|'.join(map(number, range(13)))}|[0-9]+)\b")


@cache
def _twice() -> re.Pattern[str]:
    return re.compile(
        r"(?P<before>, )?(?<![a-z0-9-])(?P<one>[a-z][a-z0-9 '-]*)(?:(?:, | and | or )(?P=one)(?![a-z0-9-]))+"
    )


def _once(match: re.Match[str]) -> str:
    """Return what stands in a list several times, once; the last of a list keeps its `and`."""
    last = next((word for word in (" and ", " or ") if match[0].endswith(f"{word}{match['one']}")), "")
    return f"{last if last and match['before'] else match['before'] or ''}{match['one']}"


def as_written(found: Sequence[Found], opened: Opened) -> list[Found]:
    """Return faults that speak of things as the files call them; those of several places or counts as one."""
    written = opened.written
    if written is None or not written.several:
        return list(found)
    groups: dict[tuple[object, ...], list[Found]] = {}
    for check, fault in found:
        groups.setdefault((check.name, fault.span, plain(fault.message)), []).append((check, fault))
    told: list[Found] = []
    for group in groups.values():
        say = _speaker([fault for _, fault in group], written)
        told += [(check, _said(fault, say)) for check, fault in group]
    return _of_counts(told, opened)


def plain(text: str) -> str:
    """Return words with things as the files call them, whatever place they stand for."""
    if MARK in text:
        text = _names().sub(lambda match: f"{match['before'] or ''}{match['name']}{match['after'] or ''}", text)
    return _twice().sub(_once, text)


def _speaker(faults: Iterable[Fault], written: Written) -> Callable[[str], str]:
    """Return what says a text of some faults that are one: without places when it is so at all of them."""
    texts = [text for fault in faults for text in (fault.message, fault.hint or "")]
    seen = {match[0].strip("'").split()[-1] for text in texts for match in _names().finditer(text)}
    partly: dict[str, list[str]] = {}
    for name in seen:
        thing = written.machine.things.get(name)
        if thing is not None and thing.place and thing.of:
            partly.setdefault(thing.of, []).append(name)
    whole = {
        name
        for of, names in partly.items()
        if len(names) == sum(1 for each in written.machine.things.values() if each.of == of)
        for name in names
    }

    def at(match: re.Match[str]) -> str:
        name = match["name"] + match["mark"]
        thing = written.machine.things.get(name)
        before, after = match["before"] or "", match["after"] or ""
        if thing is None or not thing.place or not thing.each or name in whole:
            return f"{before}{match['name']}{after}"
        if before and after:
            places = [written.machine.things[each].place or "" for each in sorted(partly[thing.of or ""])]
            many = places[0] if len(places) == 1 else f"[{', '.join(places)}]"
            return f"{before}{match['name']}' with 'at: {many}'"
        return f"{before}{match['name']}{after} of {thing.each.name} {thing.place}"

    def say(text: str) -> str:
        return plain(_names().sub(at, text)) if MARK in text else plain(text)

    return say


def _said(fault: Fault, say: Callable[[str], str]) -> Fault:
    also = tuple(dict.fromkeys(Also(each.span, say(each.message)) for each in fault.also))
    return fault._replace(message=say(fault.message), hint=say(fault.hint) if fault.hint else None, also=also)


def _of_counts(found: list[Found], opened: Opened) -> list[Found]:
    """Make one of faults that differ in a count by variant: `two or three guard bolts come off`."""
    space = opened.graph.space if opened.graph else None
    groups: dict[tuple[object, ...], dict[str, list[Found]]] = {}
    for check, fault in found:
        key = (check.name, fault.span, _numbers().sub("#", fault.message))
        groups.setdefault(key, {}).setdefault(fault.message, []).append((check, fault))
    told: list[Found] = []
    for group in groups.values():
        if space is None or len(group) == 1:
            told += (each for same in group.values() for each in same)
            continue
        joined: list[Found] = []
        for same in group.values():
            check, fault = _together(same, space)
            at = next((n for n, (_, other) in enumerate(joined) if _apart(fault, other, space)), None)
            if at is None:
                joined.append((check, fault))
                continue
            other = joined[at][1]
            variants = space.either(other.variants or NONE, fault.variants or NONE)
            joined[at] = (check, other._replace(message=_either(other.message, fault.message), variants=variants))
        told += joined
    return told


def _together(same: list[Found], space: Space) -> Found:
    """Return faults with the same words, met on several ways, as one."""
    check, first = same[0]
    variants = first.variants
    for _, fault in same[1:]:
        variants = None if variants is None or fault.variants is None else space.either(variants, fault.variants)
    return check, first._replace(variants=variants)


def _apart(one: Fault, other: Fault, space: Space) -> bool:
    """Tell whether no variant has both of two faults."""
    return one.variants is not None and other.variants is not None and space.both(one.variants, other.variants) == NONE


def _either(one: str, other: str) -> str:
    """Return two messages that differ in their numbers as one."""
    second = iter(_numbers().findall(other))

    def both(match: re.Match[str]) -> str:
        there = next(second, match[0])
        return match[0] if match[0] == there else listed([match[0], there], "or")

    return _numbers().sub(both, one)
