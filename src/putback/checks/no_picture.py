"""A step shows a picture that is not there.

The reader finds an empty frame where the picture should explain the step.

Put the file in the guide's `images` folder, or correct its name. It must be an SVG, PNG or JPEG file.
"""

from collections.abc import Iterator

from putback.checks import Case, Fault
from putback.finding import Level
from putback.nearest import nearest
from putback.pictures import PRINTED, is_absent, is_outside

LEVEL = Level.ERROR

FAILS = """
steps:
  - inspect: belt-guard
    figure:
      image: guard.svg
             ^^^^^^^^^ there is no picture 'guard.svg' in images/
      alt: The belt guard from the front.
"""

PASSES = """
steps:
  - inspect: belt-guard
"""


def find(case: Case) -> Iterator[Fault]:
    """Yield pictures that are missing, outside the guide's folder, or of a kind that cannot be printed."""
    folder, root = case.guide.images, case.guide.root
    for sequence in case.guide.sequences():
        for step in sequence.steps():
            if step.figure is None:
                continue
            name, span = step.figure.image
            if not name.lower().endswith(PRINTED):
                yield Fault(span, f"'{name}' is no picture that can be printed", hint="use an SVG, PNG or JPEG file")
            elif is_outside(name, folder):
                yield Fault(span, f"'{name}' lies outside the guide's images/", hint="copy it into images/")
            elif is_absent(name, folder):
                ours = folder.is_dir() and folder.resolve().is_relative_to(root)
                files = sorted(path.name for path in folder.iterdir()) if ours else []
                near = name.removeprefix("images/") if name.removeprefix("images/") in files else nearest(name, files)
                hint = f"did you mean '{near}'?" if near else f"put it in {case.guide.shown}/images"
                yield Fault(span, f"there is no picture '{name}' in images/", hint=hint)
