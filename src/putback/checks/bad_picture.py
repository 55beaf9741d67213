"""A picture cannot be shown, or is not safe to open.

A drawing that is cut off prints as nothing. A stranger's drawing can run a program, fetch something from elsewhere, or
use all the memory: a file of a few lines can ask for a billion shapes. The mechanic must see the same picture as the
author, on paper and on the screen.

Save the picture again as plain SVG, PNG or JPEG, with everything it shows in the file itself, and no larger than it is
printed.
"""

from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.guide.paths import shown_path
from putback.ledger.opened import Opened
from putback.pictures import PRINTED, BadPictureError, examine, is_fit_name, is_outside
from putback.source.finding import Level
from putback.source.quoting import short

LEVEL = Level.ERROR
GROUP = Group.NAMES
INJURES = True

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure:
      image: cut-off.svg
             ^^^^^^^^^^^ 'cut-off.svg' cannot be shown: it is not a complete SVG: no element found, on line 2, column 1
      alt: The belt guard from the front.
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure: {image: belt-guard.svg, alt: The belt guard from the front.}
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield pictures that are there, by a name that can be printed, and that nobody may open."""
    guide = opened.guide
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if step.figure is None:
                continue
            name, span = step.figure.image
            path = guide.images / name
            if not name.lower().endswith(PRINTED) or is_outside(name, guide.images):
                continue  # no-picture says so
            if is_fit_name(name) and (not guide.store.is_there(path) or shown_path(path) in guide.unread):
                continue  # likewise, or it is told at the file itself
            try:
                examine(path, guide.root, guide.store)
            except BadPictureError as error:
                yield Fault(span, f"'{short(name)}' cannot be shown: {error.message}", hint=error.hint)
