"""The picture of a step, which part of it is shown, and what is pointed at in it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import NamedTuple

from putback.model.said import Said
from putback.model.terms import Ref
from putback.source.span import Span
from putback.units import Quantity


class PictureSpot(NamedTuple):
    """A place in a picture, in per cent of the whole picture as it is looked at, from its top left."""

    across: float
    """How far from the left edge."""
    down: float
    """How far from the top edge."""
    span: Span
    """Where it is written."""


class Cut(NamedTuple):
    """The part of a picture that is shown."""

    start: PictureSpot
    """Its top left."""
    end: PictureSpot
    """Its bottom right."""
    span: Span
    """Where it is written."""


@dataclass(frozen=True, slots=True)
class Callout:
    """A number in a picture, with what it points at."""

    at: tuple[PictureSpot, ...]
    """What it points at; several when the same is to be seen at several places."""
    span: Span
    """Where it is written."""
    thing: Ref | None = None
    """The thing that is there."""
    text: Said | None = None
    """What is there, or what matters of it, in the author's words."""
    number: int | None = None
    """The number that the author gives it."""
    number_span: Span | None = None
    """Where they do."""
    number_at: PictureSpot | None = None
    """Where its number stands; beside what it points at when not given."""
    circle: float | None = None
    """The width of a ring around it, in per cent of the picture's width."""
    circle_span: Span | None = None
    """Where that is written."""
    arrow: PictureSpot | None = None
    """Which way it goes: an arrow from what it points at to here."""

    def of_thing(self, given: Mapping[str, str]) -> Callout:
        """Return the callout where its name stands for another."""
        thing = self.thing
        return replace(self, thing=thing._replace(name=given.get(thing.name, thing.name))) if thing else self

    @property
    def spots(self) -> tuple[PictureSpot, ...]:
        """All places that it names."""
        return (*self.at, *(spot for spot in (self.number_at, self.arrow) if spot))


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture at a step."""

    image: Ref
    """File in the guide's images/."""
    alt: Said | None
    """What it shows, for those who cannot see it."""
    caption: Said | None
    """The line under it."""
    span: Span
    """Where it stands."""
    width: Quantity | None = None
    """How wide it is printed; as wide as the text when not given."""
    crop: Cut | None = None
    """The part of it that is shown; all of it when not given."""
    callouts: tuple[Callout, ...] = ()
    """What is pointed at in it."""

    def of_things(self, given: Mapping[str, str]) -> Figure:
        """Return the picture where some names stand for others."""
        if not any(callout.thing and callout.thing.name in given for callout in self.callouts):
            return self
        return replace(self, callouts=tuple(callout.of_thing(given) for callout in self.callouts))

    @property
    def numbered(self) -> tuple[tuple[int, Callout], ...]:
        """Its callouts, each with its number: the author's, or the next that nobody has."""
        taken = {callout.number for callout in self.callouts}
        free = (number for number in range(1, 2 * len(self.callouts) + 1) if number not in taken)
        return tuple((callout.number or next(free), callout) for callout in self.callouts)
