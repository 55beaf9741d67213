"""What must come off before what.

The machine file gives the order in four ways: a fastener holds a thing, a line joins parts, things lie in a stack,
a thing is behind others. `Graph` has them as edges from the outer thing to the inner one. An edge holds in a
set of variants, and so passes through things that a variant lacks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from enum import Enum
from itertools import pairwise
from typing import Any, NamedTuple

from putback.model.machine import AnyThing, Fastener, Fluid, Line, Machine
from putback.model.terms import Ref, When
from putback.source.span import Span
from putback.variants import ALL, NONE, Choice, Space, VariantSet
from putback.variants.arranged import FEW, arranged
from putback.variants.assemblies import members_of


class Why(Enum):
    """Why one thing must be off before another."""

    SECURES = "secures"
    """The outer one is a fastener that secures the inner one."""
    JOINS = "joins"
    """The outer one is a line that ends at the inner one."""
    STACK = "stack"
    """The outer one lies on the inner one."""
    BEHIND = "access-after"
    """The outer one covers the inner one."""


class Edge(NamedTuple):
    """One thing that must be off before another comes off."""

    outer: str
    """Comes off first."""
    inner: str
    """Comes off after it."""
    why: Why
    """Why."""
    span: Span
    """The place in the machine file that says so."""
    variants: VariantSet
    """The variants in which it holds."""


def _cases(when: When) -> Iterator[set[str]]:
    for case in when.cases:
        yield {clause.option.name for clause in case}


def _inners(thing: AnyThing) -> tuple[Ref, ...]:
    """Return what a thing holds, joins, goes with or locks."""
    if isinstance(thing, Fastener):
        return (*thing.secures, *thing.locks, *([thing.counterhold] if thing.counterhold else []))
    return thing.joins if isinstance(thing, Line) else ()


def _locks(machine: Machine) -> dict[str, list[Fastener]]:
    found: dict[str, list[Fastener]] = {}
    for thing in machine.things.values():
        if isinstance(thing, Fastener):
            for ref in thing.locks:
                found.setdefault(ref.name, []).append(thing)
    return found


def _held_in(thing: Fastener, things: Mapping[str, AnyThing]) -> tuple[Ref, ...]:
    """Return what a fastener holds: a nut holds the bolt that it is on as well."""
    ref = thing.counterhold
    held = things.get(ref.name) if ref else None
    if ref is None or not isinstance(held, Fastener) or (held.is_nut and not thing.is_nut) or held.key == thing.key:
        return thing.secures
    if any(one.name == held.key for one in thing.secures) or any(one.name == thing.key for one in held.secures):
        return thing.secures
    return (*thing.secures, ref)


def _options(when: When | None) -> set[str]:
    return set().union(*_cases(when)) if when else set()


class Graph:
    """The order of a machine, with the variants in which each thing exists."""

    def __init__(self, machine: Machine, only: Choice = (), conditions: Iterable[When] = ()) -> None:
        """Work out the order of a machine; `only` leaves the variants that agree with it.

        `conditions` are those of jobs, so that options that meet there lie together in the diagrams of variants. Raises
        `EntangledError` when options meet in more ways than can be followed.
        """
        self.machine = machine
        self.space = Space(machine.options, self._arranged(conditions))
        for never in machine.exclude:
            self.space.exclude(self.meaning(never))
        self.space.narrow(only)
        self._present: dict[str, VariantSet] = {}
        for key, thing in machine.things.items():
            self._present[key] = self.space.both(self.meaning(thing.when), self.space.built)
        self.lets_out: dict[str, list[str]] = {}
        """By drain: the fluids that run out of it."""
        for key, thing in machine.things.items():
            if isinstance(thing, Fluid):
                for ref in thing.drains:
                    self.lets_out.setdefault(ref.name, []).append(key)
        self.fixed_to: dict[str, list[Fastener]] = {}
        """By part: the fasteners that hold something to it."""
        for thing in machine.things.values():
            if isinstance(thing, Fastener) and thing.to is not None:
                self.fixed_to.setdefault(thing.to.name, []).append(thing)
        self.assemblies = members_of(machine.things)
        """By assembly: what comes off with it as one."""
        self.locked_by = _locks(machine)
        """By thing: the lock nuts and the like that keep it from moving."""
        self._under: dict[str, list[str]] = {}
        for stack in machine.stacks:
            names = [ref.name for ref in stack.order if ref.name in machine.things]
            for number, name in enumerate(names):
                self._under.setdefault(name, []).extend(names[number + 1 :])
        self._outside: dict[str, list[Edge]] = {}
        self._inside: dict[str, list[Edge]] = {}
        for edge in filter(self._holds, self._edges()):
            self._outside.setdefault(edge.inner, []).append(edge)
            self._inside.setdefault(edge.outer, []).append(edge)

    def _holds(self, edge: Edge) -> bool:
        """Tell whether an edge counts: what belongs to an assembly comes off with it, and does not hold it."""
        return edge.variants != NONE and edge.outer not in self.assemblies.get(edge.inner, ())

    def _arranged(self, conditions: Iterable[When]) -> list[str]:
        machine = self.machine
        if len(machine.options) <= FEW:
            return list(machine.options)
        uses = {key: _options(thing.when) for key, thing in machine.things.items()}
        whens = [thing.when for thing in machine.things.values()]
        whens += [*machine.exclude, *(stack.when for stack in machine.stacks), *conditions]
        meetings = [case for when in whens if when for case in _cases(when)]
        pairs: list[tuple[Ref, Ref]] = []
        for stack in machine.stacks:
            pairs += pairwise(stack.order)
        over = [
            (high, low) for one, other in pairs for high in uses.get(one.name, ()) for low in uses.get(other.name, ())
        ]
        pairs += [(inner, outer) for inner, outers in machine.access_after for outer in outers]
        meetings += [uses.get(one.name, set()) | uses.get(other.name, set()) for one, other in pairs]
        for key, thing in machine.things.items():
            inners = _inners(thing)
            meetings += [uses[key] | uses.get(ref.name, set()) for ref in inners]
        return arranged(list(machine.options), meetings, over)

    def meaning(self, when: When | None) -> VariantSet:
        """Return the variants that a condition allows; unknown options and choices allow none."""
        if when is None:
            return ALL
        result = NONE
        for case in when.cases:
            variants = ALL
            for clause in case:
                chosen = self.space.chosen(clause.option.name, [choice.name for choice in clause.choices])
                variants = self.space.both(variants, chosen)
            result = self.space.either(result, variants)
        return result

    def applies(self, when: When | None) -> bool:
        """Tell whether some variant meets a condition."""
        return self.space.both(self.meaning(when), self.space.built) != NONE

    def needed(self, when: When | None, within: When | None = None) -> When | None:
        """Return a condition, or None when every variant (of those `within` another one) meets it.

        Then it goes without saying.
        """
        if when is None:
            return None
        variants = self.space.both(self.space.built, self.meaning(within))
        return None if self.space.within(variants, self.meaning(when)) else when

    def present(self, key: str) -> VariantSet:
        """Return the variants that have a thing; all built ones for a name that the machine does not know."""
        return self._present.get(key, self.space.built)

    def under(self, key: str) -> list[str]:
        """Return what lies under a thing in its stacks."""
        return self._under.get(key, [])

    def outside(self, key: str) -> list[Edge]:
        """Return what must be off before this comes off."""
        return self._outside.get(key, [])

    def inside(self, key: str) -> list[Edge]:
        """Return what this covers: what can come off only after it."""
        return self._inside.get(key, [])

    def edges(self) -> Iterator[Edge]:
        """Yield every edge."""
        for edges in self._outside.values():
            yield from edges

    def _edges(self) -> Iterator[Edge]:
        things = self.machine.things
        for thing in things.values():
            if isinstance(thing, Fastener):
                yield from self._pairs(thing, _held_in(thing, things), Why.SECURES)
            elif isinstance(thing, Line):
                # At a tee, either line can come off and leave the other hanging on what it has left.
                tees = {
                    ref.name for ref in thing.joins if ref.name != thing.key and isinstance(things.get(ref.name), Line)
                }
                yield from self._pairs(thing, [ref for ref in thing.joins if ref.name not in tees], Why.JOINS)
        for inner, outers in self.machine.access_after:
            for outer in outers:
                if inner.name in things and outer.name in things:
                    both = self.space.both(self.present(inner.name), self.present(outer.name))
                    yield Edge(outer.name, inner.name, Why.BEHIND, outer.span, both)
        for stack in self.machine.stacks:
            yield from self._stack([ref for ref in stack.order if ref.name in things], self.meaning(stack.when))

    def _pairs(self, outer: AnyThing, inners: Iterable[Ref], why: Why) -> Iterator[Edge]:
        for inner in inners:
            if inner.name in self.machine.things:
                both = self.space.both(self.present(outer.key), self.present(inner.name))
                yield Edge(outer.key, inner.name, why, inner.span, both)

    def _stack(self, order: list[Ref], variants: VariantSet) -> Iterator[Edge]:
        """Each lies under its nearest neighbour outwards that the variant has."""
        for index, inner in enumerate(order):
            left = self.space.both(variants, self.present(inner.name))
            for outer in reversed(order[:index]):
                if left == NONE:
                    break
                here = self.space.both(left, self.present(outer.name))
                yield Edge(outer.name, inner.name, Why.STACK, inner.span, here)
                left = self.space.without(left, here)

    def cycles(self) -> list[list[Edge]]:
        """Return loops in the order, each the shortest through its things; empty for a sound machine.

        A loop counts only when some variant has all of it.
        """
        loops: list[list[Edge]] = []
        done: set[str] = set()
        for key in self._knots():
            if key not in done:
                loop = self._loop_from(key)
                if loop:
                    loops.append(loop)
                    done.update(edge.outer for edge in loop)
        return loops

    def _knots(self) -> list[str]:
        """Things that lead back to themselves when variants are left aside; only for those is a loop looked for."""
        left = self._tangled()
        if not left:
            return []
        import networkx as nx  # slow to import, and a sound machine does without

        graph: Any = nx.DiGraph()
        graph.add_nodes_from(left)
        graph.add_edges_from((key, edge.inner) for key in left for edge in self.inside(key))
        knots = {key for knot in nx.strongly_connected_components(graph) if len(knot) > 1 for key in knot}
        return [key for key in left if key in knots or any(edge.inner == key for edge in self.inside(key))]

    def _tangled(self) -> list[str]:
        """Things left when whatever has nothing outside it is taken off, again and again."""
        count = {key: len(edges) for key, edges in self._outside.items() if edges}
        free = [key for key in self._inside if key not in count]
        while free:
            for edge in self._inside.get(free.pop(), []):
                count[edge.inner] -= 1
                if count[edge.inner] == 0:
                    del count[edge.inner]
                    free.append(edge.inner)
        return list(count)

    def _loop_from(self, start: str) -> list[Edge]:
        """Search breadth first, with the variants in which each path is whole."""
        reached: dict[str, VariantSet] = {}
        frontier: list[tuple[str, VariantSet, list[Edge]]] = [(start, self.space.built, [])]
        while frontier:
            following = []
            for key, variants, path in frontier:
                for edge in self.inside(key):
                    here = self.space.both(variants, edge.variants)
                    if here == NONE:
                        continue
                    if edge.inner == start:
                        return [*path, edge]
                    new = self.space.without(here, reached.get(edge.inner, NONE))
                    if new != NONE:
                        reached[edge.inner] = self.space.either(reached.get(edge.inner, NONE), new)
                        following.append((edge.inner, new, [*path, edge]))
            frontier = following
        return []
