"""Two callouts of a picture have the same number, or are for the same thing, or one points twice at the same place.

Who reads "(2)" finds two of them and has to guess; who reads two numbers looks for two things.

Give each its own number, or none: they are then counted. What is to be seen at several places has one callout, with a
list of places.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.figure import Callout, Figure, PictureSpot
from putback.source.finding import Also, Level
from putback.source.quoting import quote

LEVEL = Level.ERROR
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks at the bolts.
    figure:
      image: belt-guard.svg
      alt: The belt guard from the front.
      callouts:
        - {thing: belt-guard, at: 50 % 50 %, number: 2}
        - {thing: guard-bolts, at: [20 % 20 %, 80 % 20 %], number: 2}
                                                                   ^ another callout has number 2 as well
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks at the bolts.
    figure:
      image: belt-guard.svg
      alt: The belt guard from the front.
      callouts:
        - {thing: belt-guard, at: 50 % 50 %}
        - {thing: guard-bolts, at: [20 % 20 %, 80 % 20 %]}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield numbers that two callouts have, and things that have two callouts which say nothing more of them."""
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if step.figure is not None:
                yield from _in(step.figure)


def _in(figure: Figure) -> Iterator[Fault]:
    numbers: dict[int, Callout] = {}
    things: dict[tuple[str, str | None], Callout] = {}
    for callout in figure.callouts:
        yield from _same_spots(callout)
        if callout.number and callout.number_span:
            before = numbers.setdefault(callout.number, callout)
            if before is not callout and before.number_span:
                message = f"another callout has number {callout.number} as well"
                yield Fault(callout.number_span, message, (Also(before.number_span, "given here"),))
                continue
        if callout.thing:
            before = things.setdefault((callout.thing.name, callout.text), callout)
            if before is not callout and before.thing:
                message = f"{quote(callout.thing.name)} has a callout already"
                yield Fault(callout.thing.span, message, (Also(before.thing.span, "here"),), _hint(before, callout))


def _same_spots(callout: Callout) -> Iterator[Fault]:
    seen: dict[tuple[float, float], PictureSpot] = {}
    for spot in callout.at:
        before = seen.setdefault((spot.across, spot.down), spot)
        if before is not spot:
            yield Fault(spot.span, "this callout points here already", (Also(before.span, "here"),))


def _hint(before: Callout, callout: Callout) -> str | None:
    if any((before.number, callout.number, before.circle, callout.circle, before.arrow, callout.arrow)):
        return None
    spots = (*before.at, *callout.at)
    places = ", ".join(f"{spot.across:g} % {spot.down:g} %" for spot in spots)
    return f"make one of both: 'at: [{places}]'"
