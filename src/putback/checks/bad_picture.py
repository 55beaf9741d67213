"""A picture cannot be shown, or must not be opened.

A drawing that is cut off prints as nothing. One from a stranger can run a program, fetch something from elsewhere, or
take a machine's whole memory: a file of a few lines can ask for a milliard of shapes. Who works by the manual has to
see the same picture as its author, on paper and on the screen.

Save the picture anew, as plain SVG, PNG or JPEG, with everything that it shows in the file itself and no larger than it
is printed.
"""

from collections.abc import Iterator

from putback.checks import Case, Fault
from putback.finding import Level
from putback.pictures import PRINTED, BadPictureError, examine, is_absent, is_outside
from putback.quoting import short

LEVEL = Level.ERROR
INJURES = True

FAILS = """
steps:
  - inspect: belt-guard
    figure:
      image: cut-off.svg
             ^^^^^^^^^^^ 'cut-off.svg' cannot be shown: it is no whole SVG: no element found, on line 2, column 1
      alt: The belt guard from the front.
"""

PASSES = """
steps:
  - inspect: belt-guard
    figure: {image: belt-guard.svg, alt: The belt guard from the front.}
"""


def find(case: Case) -> Iterator[Fault]:
    """Yield pictures that are there, by a name that can be printed, and that nobody may open."""
    guide = case.guide
    for sequence in guide.sequences():
        for step in sequence.steps():
            if step.figure is None:
                continue
            name, span = step.figure.image
            if not name.lower().endswith(PRINTED) or is_outside(name, guide.images) or is_absent(name, guide.images):
                continue  # no-picture says so
            try:
                examine(guide.images / name, guide.root)
            except BadPictureError as error:
                yield Fault(span, f"'{short(name)}' cannot be shown: {error.message}", hint=error.hint)
