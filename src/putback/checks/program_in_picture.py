"""A drawing has a program or a strange link in it, which is left out of the manual.

Nothing that is seen changes, but a drawing has no use for either: it may come from somebody who meant no good.

Save the drawing as plain SVG. Every other picture is cleaned without a word, and what would change what is seen is an
error, `bad-picture`.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.pictures import BadPictureError, examine
from putback.source.finding import Level
from putback.source.quoting import short

LEVEL = Level.WARNING
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure:
      image: with-a-program.svg
             ^^^^^^^^^^^^^^^^^^ 'with-a-program.svg' has a program ('script'), on line 2, which is left out
      alt: The belt guard from the front.
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure: {image: belt-guard.svg, alt: The belt guard from the front.}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield drawings with something in them that is left out of what is published."""
    guide = opened.guide
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if step.figure is None or not step.figure.image.name.lower().endswith(".svg"):
                continue
            name, span = step.figure.image
            try:
                found = examine(guide.images / name, guide.root, guide.store).without
            except BadPictureError:
                continue  # told already
            if found:
                more = f", and {len(found) - 1} more" if len(found) > 1 else ""
                yield Fault(
                    span, f"'{short(name)}' has {found[0]}{more}, which is left out", hint="save it as plain SVG"
                )
