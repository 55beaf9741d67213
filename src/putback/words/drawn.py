"""What a language must be able to say beside drawings, and in them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, Protocol

from putback.model.machine import AnyThing, Control, Fluid
from putback.model.said import Limit
from putback.units import Quantity


class ScaleSaid(NamedTuple):
    """The words of the scale of a reading."""

    label: str
    """What it is."""
    alt: str
    """What it shows, for who cannot see it."""
    good: str
    """The word in the good range."""
    below: str
    """The word below it."""
    above: str
    """The word above it."""
    new: str
    """The word at the value of a new part."""


class DrawnSaid(NamedTuple):
    """The words beside a drawing whose own words are those of things."""

    label: str
    """What it is."""
    caption: str
    """What stands under it."""
    alt: str
    """The same for who cannot see it."""
    description: str
    """What is to be seen, in words."""


class LevelSaid(NamedTuple):
    """The words of the drawing of a level."""

    label: str
    """What it is."""
    alt: str
    """What it shows, for who cannot see it."""
    good: str
    """The word where the level should be."""


class BesideDrawings(Protocol):
    """Makes the words of drawings of one guide, in one language."""

    def scaled(self, limit: Limit, new: Limit | None, *, wears: bool) -> ScaleSaid:
        """Return the words of the scale of a reading; with `wears`, outside the limit a part is worn."""

    def off_row(self, thing: AnyThing, *, limited: bool = True) -> str:
        """Return what comes off as a line of a drawing: how many, what turns it; with `limited`, in which variants."""
        ...

    def way_in(self, reached: AnyThing, groups: Sequence[tuple[Sequence[str], Sequence[int]]]) -> DrawnSaid:
        """Return the words of the drawing of a way in: what comes off together, and after which of the others."""
        ...

    def level(self, fluid: Fluid) -> LevelSaid:
        """Return the words of the drawing of where the level of a fluid should be."""
        ...

    def control(self, control: Control, position: str) -> DrawnSaid:
        """Return the words of the drawing of a control that is set to a position."""
        ...

    def printed_first(self, quantity: Quantity) -> Quantity:
        """Return a quantity in the unit that it is printed in first."""
