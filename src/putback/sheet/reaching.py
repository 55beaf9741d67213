"""The way in: what a job takes off, in one section, to reach the thing that it is about."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from putback.guide.written import Written
from putback.model.machine import AnyThing, Fastener, Line
from putback.model.said import source_of
from putback.model.setting import Setting
from putback.model.verbs.asking import Inspect, Measure
from putback.model.verbs.cleaning import Clean
from putback.model.verbs.lines import Disconnect
from putback.model.verbs.pieces import Install, Remove, Replace
from putback.sheet.job import JobSheet
from putback.sheet.lines import SheetSection, SheetStep
from putback.variants.graph import Graph

LEAST = 5
"""Things that come off before a way in is worth a drawing."""
MOST_IN_ROW = 8
"""Things that are put in one box because they come off one after the other."""


@dataclass(frozen=True, slots=True)
class OffTogether:
    """A part that comes off, or several in a row, with what holds them."""

    things: tuple[str, ...]
    """Names of all that comes off, the first to come off first."""
    after: frozenset[int]
    """Which of the groups come off before it."""


@dataclass(frozen=True, slots=True)
class WayIn:
    """What comes off before a thing is reached."""

    reached: str
    """The name of that thing."""
    section: int
    """The section in which most of it comes off."""
    groups: tuple[OffTogether, ...]
    """What comes off, each group after those that come off before it; the last one is the thing itself."""


def way_in(title: str, sheet: JobSheet, graph: Graph, written: Written) -> WayIn | None:
    """Return the way in to the main thing of a job; None when too little comes off before it, or all in one row.

    The main thing is what its title names; else the innermost one that it renews, cleans, measures or inspects.
    """
    off = dict(_off(sheet))
    outside = _outside(graph, written)
    best: tuple[tuple[bool, int], str] | None = None
    for name in _met(sheet):
        thing = written.printed.get(name)
        before = _before(name, outside) & off.keys()
        rank = (thing is not None and _is_named(thing, title), len(before))
        if len(before) >= LEAST and (best is None or rank > best[0]):
            best = rank, name
    if best is None:
        return None
    reached = best[1]
    before = _before(reached, outside)
    names = [name for name in off if name in before and name != reached]
    if reached in before or _is_one_stack(names, reached, graph):
        return None
    sections = [off[name] for name in names]
    groups = _grouped([*names, reached], outside, graph)
    if all(len(group.after) <= 1 for group in groups):
        return None
    return WayIn(reached, max(dict.fromkeys(sections), key=sections.count), groups)


def _main(steps: tuple[SheetStep, ...]) -> Iterator[SheetStep]:
    """Yield the steps that are done in any case."""
    for line in steps:
        yield line
        yield from _main(line.each)


def _in_order(sheet: JobSheet) -> Iterator[tuple[int, SheetStep]]:
    sections: tuple[SheetSection, ...] = sheet.sections
    for number, section in enumerate(sections):
        for line in _main(section.steps):
            yield number, line


def _off(sheet: JobSheet) -> Iterator[tuple[str, int]]:
    """Yield what comes off in any case, in order, with the section in which it first does."""
    found: set[str] = set()
    for number, line in _in_order(sheet):
        for ref in line.step.things if isinstance(line.step.action, Remove | Disconnect) else ():
            if ref.name not in found:
                found.add(ref.name)
                yield ref.name, number


def _met(sheet: JobSheet) -> Iterator[str]:
    """Yield what the job is about: what it looks at, measures, cleans or renews."""
    for _, line in _in_order(sheet):
        action = line.step.action
        new = isinstance(action, Install) and action.new
        if new or isinstance(action, Inspect | Measure | Clean | Replace):
            yield from (ref.name for ref in line.step.things)


def _is_named(thing: AnyThing, title: str) -> bool:
    return not isinstance(thing, Setting) and source_of(thing.name).casefold() in source_of(title).casefold().replace(
        "-", " "
    )


def _outside(graph: Graph, written: Written) -> dict[str, set[str]]:
    """Return what comes off just before each thing, in some variant, by names of the file."""
    found: dict[str, set[str]] = {}
    for edge in graph.edges():
        outer, inner = written.printed_name(edge.outer), written.printed_name(edge.inner)
        if outer != inner:
            found.setdefault(inner, set()).add(outer)
    return found


def _before(name: str, outside: Mapping[str, set[str]]) -> set[str]:
    """Return all that comes off before a thing."""
    found: set[str] = set()
    waiting = [name]
    while waiting:
        for outer in outside.get(waiting.pop(), ()):
            if outer not in found:
                found.add(outer)
                waiting.append(outer)
    return found


class _Groups:
    """Things in groups, and which groups come off just before which."""

    def __init__(self, names: list[str], outside: Mapping[str, set[str]]) -> None:
        self.members = {name: [name] for name in names}
        before = {name: _before(name, outside) & set(names) for name in names}
        self.above = {
            name: {outer for outer in found if not any(outer in before[other] for other in found)}
            for name, found in before.items()
        }
        self.below: dict[str, set[str]] = {name: set() for name in names}
        for name, found in self.above.items():
            for outer in found:
                self.below[outer].add(name)

    def join(self, outer: str, inner: str) -> None:
        """Put a group in front of the only one that comes off just after it."""
        self.members[inner] = self.members.pop(outer) + self.members[inner]
        above, below = self.above.pop(outer), self.below.pop(outer)
        for name in below:
            self.above[name].discard(outer)
        for name in above:
            self.below[name].discard(outer)
            self.below[name].add(inner)
        self.above[inner] |= above

    def next_after(self, name: str) -> str:
        """Return the only group that comes off just after one; empty when there are several, or it is in another."""
        below = self.below.get(name, set())
        return next(iter(below)) if len(below) == 1 else ""


def _grouped(names: list[str], outside: Mapping[str, set[str]], graph: Graph) -> tuple[OffTogether, ...]:
    """Return things in groups, the last of which is the last name alone.

    What holds a part goes with it; so does what comes off in a row; and so do single things that nothing comes off
    before, and that come off before the same.
    """
    things, reached = graph.machine.things, names[-1]
    groups = _Groups(names, outside)
    for name in reversed(names):
        inner = groups.next_after(name)
        if isinstance(things.get(name), Fastener | Line) and inner not in ("", reached):
            groups.join(name, inner)
    alike: dict[tuple[str, ...], str] = {}
    for name in [name for name in names if not groups.above.get(name, {name}) and len(groups.members[name]) == 1]:
        first = alike.setdefault(tuple(sorted(groups.below[name])), name)
        if first != name:
            groups.members[first] += groups.members.pop(name)
            for inner in groups.below.pop(name):
                groups.above[inner].discard(name)
            del groups.above[name]
    for name in names:
        inner = groups.next_after(name)
        plain = not any(isinstance(things.get(other), Fastener | Line) for other in groups.members.get(inner, ()))
        short = len(groups.members.get(name, ())) + len(groups.members.get(inner, ())) <= MOST_IN_ROW
        if inner not in ("", reached) and groups.above[inner] == {name} and plain and short:
            groups.join(name, inner)
    left = [name for name in names if name in groups.members]
    return tuple(
        OffTogether(tuple(groups.members[name]), frozenset(map(left.index, groups.above[name]))) for name in left
    )


def _is_one_stack(names: Sequence[str], reached: str, graph: Graph) -> bool:
    """Tell whether all parts lie in one stack with what is reached: a drawing of that stack shows the same."""
    things = graph.machine.things
    parts = {name for name in names if not isinstance(things.get(name), Fastener | Line)}
    orders = [{ref.name for ref in stack.order} for stack in graph.machine.stacks]
    return any(reached in order and parts <= order for order in orders)
