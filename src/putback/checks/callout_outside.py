"""A callout points at a place that is not shown.

Its number would stand beside the picture, or at its edge, and point at nothing.

Correct the place, or show more of the picture. Places are in per cent of the whole picture, whatever is cropped.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.figure import Cut, Figure, PictureSpot
from putback.source.finding import Also, Level

LEVEL = Level.ERROR
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure:
      image: belt-guard.svg
      alt: The belt guard from the front.
      callouts:
        - {thing: belt-guard, at: 50 % 120 %}
                                  ^^^^^^^^^^ this place is outside the picture
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure:
      image: belt-guard.svg
      alt: The belt guard from the front.
      callouts:
        - {thing: belt-guard, at: 50 % 100 %}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield places outside a picture, or outside the part of it that is shown."""
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if step.figure is not None:
                yield from _in(step.figure)


def _in(figure: Figure) -> Iterator[Fault]:
    crop = figure.crop
    for callout in figure.callouts:
        for spot in callout.spots:
            if not (0 <= spot.across <= 100 and 0 <= spot.down <= 100):
                yield Fault(spot.span, "this place is outside the picture", hint="keep to 0 % to 100 %")
            elif crop is not None and not _is_shown(spot, crop):
                yield Fault(
                    spot.span,
                    "this place is outside the part of the picture that is shown",
                    (Also(crop.span, "cropped here"),),
                )
        if callout.circle_span and callout.circle and callout.circle > 100:
            yield Fault(callout.circle_span, "this circle is larger than the picture")


def _is_shown(spot: PictureSpot, crop: Cut) -> bool:
    within = crop.start.across <= spot.across <= crop.end.across
    return within and crop.start.down <= spot.down <= crop.end.down
