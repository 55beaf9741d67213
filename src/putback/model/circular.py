"""What things of a machine say of themselves, or of each other in a circle: no order of work can satisfy it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from putback.model.called import named, verb_s
from putback.model.machine import AnyThing, Fastener, Machine
from putback.model.setting import Disturber, Setting
from putback.model.terms import Ref
from putback.source.finding import Also, Finding, Level
from putback.source.grammar import listed
from putback.source.span import Span


def straightened(machine: Machine) -> tuple[Machine, list[Finding]]:
    """Return a machine without what locks or disturbs itself, and what is wrong with it."""
    faults: list[Finding] = []
    changed: dict[str, AnyThing] = {}
    circular = set(_circles(machine.things, faults))
    endless = set(_after_themselves(machine.things, faults))
    for key, thing in machine.things.items():
        if isinstance(thing, Setting):
            faults += _of_setting(thing)
            kept = tuple(each for each in thing.disturbed_by if each.ref.name != key and not _twice(thing, each))
            if len(kept) < len(thing.disturbed_by):
                changed[key] = replace(thing, disturbed_by=kept)
        elif isinstance(thing, Fastener) and (circular or thing.counterhold or key in endless):
            locks = tuple(ref for ref in thing.locks if ref.span not in circular)
            pair = None if holds_each_other(machine.things, key) else thing.counterhold
            after = None if key in endless else thing.tightened_after
            if locks != thing.locks or pair != thing.counterhold or after != thing.tightened_after:
                changed[key] = replace(thing, locks=locks, counterhold=pair, tightened_after=after)
    return (replace(machine, things={**machine.things, **changed}) if changed else machine), faults


def _circles(things: Mapping[str, AnyThing], faults: list[Finding]) -> Iterator[Span]:
    """Yield the places of `locks` that lead back to where they stand; add what is told of each circle."""
    seen: set[str] = set()
    for key, thing in things.items():
        if key in seen or not isinstance(thing, Fastener) or not thing.locks or thing.when:
            continue
        trail: dict[str, Iterator[Ref]] = {key: iter(thing.locks)}
        led: list[Ref] = []
        while trail:
            ref = next(trail[last := next(reversed(trail))], None)
            if ref is None:
                seen.add(last)
                del trail[last]
                del led[-1:]
            elif ref.name in trail:
                way = [*trail]
                circle = way[way.index(ref.name) :]
                faults.append(_told([things[name] for name in circle], [*led[len(led) - len(circle) + 1 :], ref]))
                yield ref.span
            elif ref.name not in seen and isinstance(locked := things.get(ref.name), Fastener) and not locked.when:
                trail[ref.name] = iter(locked.locks)
                led.append(ref)


def _after_themselves(things: Mapping[str, AnyThing], faults: list[Finding]) -> Iterator[str]:
    """Yield the last group of each circle of `tightened-after`; add what is told of it."""
    for key, thing in things.items():
        ref = thing.tightened_after if isinstance(thing, Fastener) else None
        way = [thing]
        while ref is not None and isinstance(before := things.get(ref.name), Fastener) and before not in way:
            way.append(before)
            ref = before.tightened_after
        if ref is None or ref.name != key or any(other.span > thing.span for other in way):
            continue
        own = thing.tightened_after if isinstance(thing, Fastener) else None
        assert own is not None
        names = listed([named(each) for each in way[:3]])
        each_other = verb_s(thing, "itself", "themselves") if len(way) == 1 else "each other"
        message = f"{names} cannot be tightened after {each_other}"
        faults.append(_bad(own, message, "name what is tightened before it, or delete it"))
        yield key


def holds_each_other(things: Mapping[str, AnyThing], key: str) -> bool:
    """Tell whether a fastener and the one that it is held with name each other, and it is the later one in the file."""
    thing = things[key]
    pair = thing.counterhold if isinstance(thing, Fastener) else None
    other = things.get(pair.name) if pair else None
    if pair is None or pair.name == key or not isinstance(other, Fastener) or other.counterhold is None:
        return False
    return other.counterhold.name == key and other.span < thing.span


def _told(circle: list[AnyThing], refs: list[Ref]) -> Finding:
    """Say that fasteners lock each other; `refs` lead from each to the next, the last back to the first."""
    ref = refs[-1]
    if len(circle) == 1:
        message, hint = (
            f"{named(circle[0])} cannot lock {verb_s(circle[0], 'itself', 'themselves')}",
            "name what it locks",
        )
    else:
        names = listed([named(thing) for thing in circle[:3]])
        more = "" if len(circle) < 4 else ", and so on,"
        none = "neither" if len(circle) == 2 else "none of them"
        message = f"{names}{more} lock each other: {none} can be loosened first"
        hint = "keep 'locks' only on the one that is loosened first"
    also = tuple(Also(other.span, "here") for other in refs[:-1][:3])
    return Finding("bad-fastener", Level.ERROR, ref.span, message, also=also, hint=hint)


def _of_setting(setting: Setting) -> Iterator[Finding]:
    for ref, _ in setting.disturbed_by:
        if ref.name == setting.key:
            yield _bad(ref, f"{named(setting)} cannot disturb itself", "name what disturbs it, or delete it")
    for each in setting.disturbed_by:
        if twice := _twice(setting, each):
            both = "but cannot be both tight and loose during the adjustment"
            message = f"'{each.ref.name}' is under 'adjusted-by' as well, {both}"
            hint = "delete it here if it is loosened or turned to make this adjustment"
            yield _bad(each.ref, message, hint, (Also(twice.ref.span, "here"),))


def _twice(setting: Setting, one: Disturber) -> Disturber | None:
    """Return what adjusts a setting and is named among what else disturbs it as well."""
    places = {ref.name for ref in one.at}
    return next(
        (
            other
            for other in setting.adjusted_by
            if one.ref.name == other.ref.name
            and (not one.at or not other.at or any(ref.name in places for ref in other.at))
        ),
        None,
    )


def _bad(ref: Ref, message: str, hint: str, also: tuple[Also, ...] = ()) -> Finding:
    return Finding("bad-fastener", Level.ERROR, ref.span, message, also=also, hint=hint)
