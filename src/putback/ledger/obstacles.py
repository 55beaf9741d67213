"""What is in the way of an entry, and when it is not any more."""

from __future__ import annotations

from typing import NamedTuple

from putback.model.machine import AnyThing, Line
from putback.model.states import LineState, State, ends, is_off
from putback.variants import VariantSet
from putback.variants.graph import Edge, Why


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
