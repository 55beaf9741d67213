"""Which stacks a job takes apart or builds up, and in which order: what a drawing of them shows."""

from __future__ import annotations

from collections.abc import Container, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from putback.model.machine import AnyThing, Fastener, Machine, Part
from putback.model.screwed import AlikeParts, PlainPart
from putback.model.verbs.pieces import Install, Remove
from putback.sheet.job import JobSheet
from putback.sheet.lines import SheetStep

LEAST = 3
"""So many parts of a stack come off before it is drawn: what lies under a lid needs no drawing."""
MOST = 60
"""A stack of more things is not drawn."""


@dataclass(frozen=True, slots=True)
class StackedThing:
    """A thing of a stack."""

    key: str
    """Its name in the file."""
    turn: int | None
    """Its turn in coming off, from 1; None for what stays on the machine."""


@dataclass(frozen=True, slots=True)
class TakenApart:
    """A stack that comes apart."""

    key: str
    """Its outermost part: no two stacks that are drawn have the same."""
    things: tuple[StackedThing, ...]
    """From the outside in, with the fasteners of each thing before it; what stays is the last."""
    steps: frozenset[int] = field(default=frozenset(), compare=False)
    """The first step that takes something of it off, and the first that puts it back: their order in the job."""


def stacks_of_machine(machine: Machine) -> Iterator[TakenApart]:
    """Yield the stacks of a machine, as they come apart when all of it does."""
    yield from _apart(machine, None)


def stacks_of_job(sheet: JobSheet, machine: Machine) -> Iterator[TakenApart]:
    """Yield the stacks of which a job takes off some parts, or puts them back when another job took them off."""
    off = _turns(sheet, Remove)
    back = _turns(sheet, Install)
    found = list(_apart(machine, off))
    drawn = {one.key for stack in found for one in stack.things}
    last = max(back.values(), default=0) + 1
    again = {key: last - order for key, order in back.items()}
    found += [stack for stack in _apart(machine, again) if not drawn & {one.key for one in stack.things if one.turn}]
    for stack in found:
        keys = [one.key for one in stack.things if one.turn]
        firsts = (min((turns[key] for key in keys if key in turns), default=None) for turns in (off, back))
        steps = frozenset(first for first in firsts if first is not None)
        yield TakenApart(stack.key, stack.things, steps)


def _turns(sheet: JobSheet, verb: type[Remove | Install]) -> dict[str, int]:
    """Return the first step that takes off, or puts on, each thing; one that hangs on an answer does not count."""
    found: dict[str, int] = {}
    for line in _always(sheet):
        if isinstance(line.step.action, verb) and line.step.action.count is None:
            for ref in line.step.things:
                found.setdefault(ref.name.partition("@")[0], line.order)
    return found


def _always(sheet: JobSheet) -> Iterator[SheetStep]:
    return (line for line in sheet.walk() if not line.conditional)


def _apart(machine: Machine, off: Mapping[str, int] | None) -> Iterator[TakenApart]:
    """Yield stacks that come apart; `off` has the turns of what comes off, and is None when all does."""
    orders = [[ref.name for ref in stack.order if ref.name in machine.things] for stack in machine.stacks]
    seats = {thing.to.name for thing in machine.things.values() if isinstance(thing, Fastener) and thing.to}
    come = [_coming(order, off, seats) for order in orders]
    fasteners = _fasteners(machine, off)
    loose = _loose(machine, fasteners, off)
    longest = sorted(range(len(orders)), key=lambda k: -len(come[k]))
    by_first: dict[str, list[int]] = {}
    for k in longest:
        by_first.setdefault(orders[k][0] if orders[k] else "", []).append(k)
    taken: set[str] = set()
    for k in sorted(by_first.get(first, [])[0] for first in by_first if first):
        while come[k] and come[k][-1] in taken:  # two stacks can end at the same part
            come[k].pop()
        parts = [key for key in come[k] if isinstance(machine.things[key], Part)]
        if len(parts) < LEAST or taken.intersection(parts):
            continue
        alike = [come[other] for other in by_first[orders[k][0]] if other != k]
        order = _with_others(come[k], alike, machine.things)
        taken.update(order)
        inner = orders[k][orders[k].index(come[k][-1]) + 1 :]
        base = inner[0] if inner else _seat(order, fasteners)
        things = _numbered(order, base, fasteners, loose, off)
        if len(things) <= MOST:
            yield TakenApart(order[0], things)


def _coming(order: Sequence[str], off: Mapping[str, int] | None, seats: Container[str]) -> list[str]:
    """Return what of a stack comes off; of the whole machine, the innermost stays when something is screwed to it."""
    if off is not None:
        return [key for key in order if key in off]
    return [*order[:-1]] + [key for key in order[-1:] if key not in seats]


def _with_others(main: list[str], others: Iterable[list[str]], things: Mapping[str, AnyThing]) -> list[str]:
    """Return a stack with those that begin like it put in where they leave it.

    What only the outermost part holds comes out of it from below: the innermost of these lies nearest to it.
    """
    order = list(main)
    for other in others:
        common = next((k for k, key in enumerate(other) if k >= len(main) or key != main[k]), len(other))
        rest = [key for key in other[common:] if key not in order]
        if not common or not all(isinstance(things[key], Part) for key in rest):
            continue
        at = order.index(other[common - 1]) + 1
        order[at:at] = reversed(rest) if common == 1 else rest
    return order


def _fasteners(machine: Machine, off: Mapping[str, int] | None) -> dict[str, list[Fastener]]:
    """Return the fasteners that come off, by what they secure."""
    found: dict[str, list[Fastener]] = {}
    for thing in machine.things.values():
        if isinstance(thing, Fastener) and (off is None or thing.key in off):
            for ref in thing.secures:
                found.setdefault(ref.name, []).append(thing)
    return found


def _loose(
    machine: Machine, fasteners: Mapping[str, Sequence[Fastener]], off: Mapping[str, int] | None
) -> dict[str, list[str]]:
    """Return what lies under fasteners alone, by fastener: the washer of a bolt, which is in no stack."""
    stacked = {ref.name for stack in machine.stacks for ref in stack.order}
    found: dict[str, list[str]] = {}
    for key, holding in fasteners.items():
        alone = isinstance(machine.things.get(key), PlainPart | AlikeParts) and key not in stacked
        if alone and len(holding) == 1 and (off is None or key in off) and len(holding[0].secures) > 1:
            found.setdefault(holding[0].key, []).append(key)
    return found


def _held_by(key: str, fasteners: Mapping[str, Sequence[Fastener]], order: Container[str]) -> list[Fastener]:
    """Return the fasteners that hold a thing, and before them those that hold these in turn: the split pin of a nut."""
    found: dict[str, Fastener] = {}
    level = [key]
    levels: list[list[Fastener]] = []
    while level:
        new = {one.key: one for name in level for one in fasteners.get(name, ()) if one.key not in order}
        levels.append([one for name, one in new.items() if name not in found])
        level = [one.key for one in levels[-1]]
        found |= new
    return [one for each in reversed(levels) for one in each]


def _seat(order: Sequence[str], fasteners: Mapping[str, Sequence[Fastener]]) -> str | None:
    """Return what the fasteners of a stack are screwed into, when it is none of it."""
    into = (one.to.name for key in order for one in fasteners.get(key, ()) if one.to)
    return next((key for key in into if key not in order), None)


def _numbered(
    order: Sequence[str],
    base: str | None,
    fasteners: Mapping[str, Sequence[Fastener]],
    loose: Mapping[str, Sequence[str]],
    off: Mapping[str, int] | None,
) -> tuple[StackedThing, ...]:
    """Return things with the fasteners before what they hold, numbered as they come off."""
    names: list[str] = []
    for key in order:
        for one in _held_by(key, fasteners, set(order)):
            names += [name for name in (one.key, *loose.get(one.key, ())) if name not in names and name not in order]
        names.append(key)
    by_turn = sorted(names, key=lambda key: off[key]) if off is not None else names
    turns = {key: turn for turn, key in enumerate(by_turn, 1)}
    stays = [StackedThing(base, None)] if base is not None and base not in turns else []
    return (*(StackedThing(key, turns[key]) for key in names), *stays)
