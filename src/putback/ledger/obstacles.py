"""What is in the way of an entry, and when it is not any more."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import AnyThing, Fastener, Line
from putback.model.states import LineState, State, ends, is_off, is_whole
from putback.variants import VariantSet
from putback.variants.graph import Edge, Graph, Why


class Obstacle(NamedTuple):
    """A thing in the way of an entry."""

    edge: Edge
    """The rule that it breaks."""
    variants: VariantSet
    """The variants in which it is in the way."""
    state: State
    """The state that it is in."""

    @property
    def key(self) -> str:
        """The name of the thing in the way, when it lies outside; see `edge` for the other."""
        return self.edge.outer


def is_cleared(edge: Edge, thing: AnyThing, state: State) -> bool:
    """Tell whether the outer thing of a rule, in a state that it may be in, is out of the way of the inner one."""
    if isinstance(state, LineState) and isinstance(thing, Line) and edge.why is Why.JOINS:
        # A line that is on at this end only goes along with the part.
        on = ends(thing) - state.open
        return edge.inner not in on or len(on) == 1
    if isinstance(state, LineState) and edge.why in (Why.BEHIND, Why.STACK):
        # Off at one end, it can be laid aside.
        return bool(state.open)
    return is_off(thing, state)


def is_missing(outer: AnyThing, state: State) -> bool:
    """Tell whether an inner thing lacks what the outer one goes on: of a line, the end that a clamp holds."""
    if isinstance(state, LineState) and isinstance(outer, Fastener) and outer.at is not None:
        return outer.at.name in state.open
    return not is_whole(state)


def crossed(graph: Graph, edge: Edge, along: str = "") -> Iterator[str]:
    """Yield the assemblies of which one of two things is an inside, and the other has nothing to do with it."""
    for name, members in graph.assemblies.items():
        if name not in (edge.outer, edge.inner, along) and (edge.outer in members) != (edge.inner in members):
            yield name


def of_insides(graph: Graph, key: str, *, goes_on: bool) -> Iterator[tuple[str, Edge]]:
    """Yield the rules of the insides of an assembly that count for it as well, each with the inside.

    What holds one of them, joins it or lies on it holds the whole; and the whole goes on what one of them lies on.
    """
    members = graph.assemblies.get(key, frozenset())
    whole = members | {key}
    for name in sorted(members):
        for edge in graph.outside(name):
            if edge.outer not in whole and edge.why is not Why.BEHIND and not (goes_on and edge.why is Why.JOINS):
                yield name, edge
        for edge in graph.inside(name) if goes_on else ():
            if edge.inner not in whole and edge.why is Why.STACK:
                yield name, edge
