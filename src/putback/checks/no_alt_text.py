"""A picture has no text for those who cannot see it.

A screen reader says nothing, and the printed manual fails the standard for accessible PDF.

Give the figure an `alt` that says what the picture shows.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.source.finding import Level
from putback.source.quoting import quote

LEVEL = Level.WARNING
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure: belt-guard.svg
            ^^^^^^^^^^^^^^ the picture 'belt-guard.svg' has no text for those who cannot see it
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure:
      image: belt-guard.svg
      alt: The belt guard from the front, with its two bolts.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield pictures without alternative text."""
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            figure = step.figure
            if figure is not None and not figure.alt:
                yield Fault(
                    figure.image.span,
                    f"the picture {quote(figure.image.name)} has no text for those who cannot see it",
                    hint="write 'figure: {image: …, alt: …}'",
                )
