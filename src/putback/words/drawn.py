"""What a language must be able to say beside drawings, and in them."""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple, Protocol

from putback.model.forms import PartShape
from putback.model.machine import AnyThing, Control, Fluid, Part
from putback.model.piece_sizes import PieceSize
from putback.model.said import Limit
from putback.model.same_joint import InOrder
from putback.model.terms import Ref, When
from putback.sheet.stacked import TakenApart
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
    decimal: str = "."
    """The sign before the decimals of its numbers."""


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


class DrawnWords(NamedTuple):
    """The words of a drawing of an order."""

    label: str
    """What it is: `Tightening order of the six head bolts`."""
    caption: str
    """What stands under it."""
    alt: str
    """The same for who cannot see it: label and order in words."""
    description: str
    """What the numbers mean, the order in words, and from where it is seen."""
    headline: str
    """What is done, in the drawing: `Tighten 1 → 8`."""
    turn: str
    """What the number in a bolt is; nothing when no other numbers stand there."""
    place: str
    """What the number beside a bolt is."""
    front: str
    """The word at the side where the front of the machine is."""
    top: str
    """The word at the side where its top is."""
    tags: tuple[tuple[tuple[str, ...], ...], ...]
    """What stands beside each piece of each group, in lines: the number or name of its place, its length."""


class TrueSizeWords(NamedTuple):
    """The words of a drawing of pieces at true size."""

    label: str
    """What it is: `Gearcase bolts at true size`."""
    caption: str
    """What stands under it."""
    alt: str
    """The same for who cannot see it: each piece with its size."""
    description: str
    """The same without the label."""
    screen: str
    """What is said beside the caption where it is not printed."""
    rows: tuple[tuple[str, str], ...]
    """Of each piece its name, and its size."""


class StackPieceWords(NamedTuple):
    """The words beside one thing of a stack."""

    name: str
    """What it is called, with how many there are."""
    remarks: str
    """Whether it is new, what goes on it, its size, its variants; nothing for nothing."""
    told: str
    """All of it with its number, for who cannot see the drawing."""


class DrawnStack(NamedTuple):
    """The words of the drawing of a stack."""

    label: str
    """What it is: `Parts from the pump housing to the plate gasket`."""
    called: str
    """The same with its variants: what stands under it where the marks are explained above."""
    caption: str
    """What stands under it."""
    lead: str
    """What stands before the list of its things, for who cannot see it."""
    pieces: tuple[StackPieceWords, ...]
    """Those of each thing, from the outside in."""


class CalloutTold(NamedTuple):
    """What a number in a picture points at."""

    number: int
    """The number."""
    what: str
    """What is there, as it stands in the key."""
    at: Sequence[tuple[int, int]]
    """In which thirds of the picture it is: -1, 0, 1 from left to right, and from top to bottom."""
    way: tuple[int, int] | None = None
    """Which way its arrow leads: -1, 0, 1 to the right, and downwards."""


class BesideDrawings(Protocol):
    """Makes the words of drawings of one guide, in one language."""

    def scaled(self, things: Sequence[Ref], limit: Limit, new: Limit | None, *, wears: bool) -> ScaleSaid:
        """Return the words of the scale of a reading of some things; with `wears`, outside the limit a part is worn."""

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

    def drawn_before(self, number: str) -> str:
        """Return where a drawing stands already on the page, by the number of its step."""

    def sized_before(self, number: str) -> str:
        """Return where fasteners stand already at true size on the page, by the number of its step."""

    def pictured_before(self, number: str) -> str:
        """Return where a picture stands already on the page, by the number of its step."""

    def callout(self, name: str, text: str, when: When | None) -> str:
        """Return what a number in a picture stands for: a thing by its name, words, or both, and for which variants."""

    def pointed_at(self, shown: Sequence[CalloutTold]) -> str:
        """Return what the numbers of a picture point at and where, for who cannot see it."""

    def drawn(self, joint: Sequence[InOrder], *, loosening: bool) -> DrawnWords:
        """Return the words of the drawing of a joint's order."""

    def true_size(
        self, sizes: Sequence[Sequence[PieceSize]], cut: Sequence[bool], in_full: Sequence[bool]
    ) -> TrueSizeWords:
        """Return the words of pieces that are drawn at true size, those that look alike together.

        Those that are `cut` are drawn shorter than they are, and the length of those `in_full` is not measured from
        under a head.
        """
        ...

    def shape_of(self, thing: AnyThing) -> PartShape | None:
        """Return what a thing looks like, as the file says, or else as its name does; None when neither tells."""

    def stack(self, stack: TakenApart) -> DrawnStack:
        """Return the words of the drawing of a stack."""
        ...

    def size_of(self, thing: Part) -> str:
        """Return how large a part is, as a sentence; nothing when that is not said."""
        ...

    def stack_before(self, number: str) -> str:
        """Return where the drawing of a stack stands already on the page, by the number of its step."""
