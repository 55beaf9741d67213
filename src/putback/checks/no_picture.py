"""A step shows a picture that is not there.

The reader finds an empty frame where the picture should explain the step.

Put the file in the guide's `images` folder, or correct its name. It must be an SVG, PNG or JPEG file.
"""

import unicodedata
from collections.abc import Iterator

from putback.checks import Fault, Group
from putback.ledger.opened import Opened
from putback.model.terms import Ref
from putback.pictures import PRINTED, is_fit_name, is_outside
from putback.source.finding import Level
from putback.source.intake import NotReadError
from putback.source.nearest import nearest
from putback.source.quoting import quote

LEVEL = Level.ERROR
GROUP = Group.NAMES

FAILS = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
    figure:
      image: guard.svg
             ^^^^^^^^^ there is no picture 'guard.svg' in images/
      alt: The belt guard from the front.
"""

PASSES = """
steps:
  - inspect: belt-guard
    note: Look for cracks.
"""


def find(opened: Opened) -> Iterator[Fault]:
    """Yield pictures that are missing, outside the guide's folder, or of a kind that cannot be printed."""
    folder, store = opened.guide.images, opened.guide.store
    try:
        files = store.names(folder) if store.is_there(folder) else []
    except NotReadError:
        return  # of a folder that cannot be read, no picture is known
    if not store.facts(folder).whole.is_relative_to(store.facts(opened.guide.root).whole):
        files = []
    for sequence in opened.nesting.sequences():
        for step in sequence.steps():
            if step.figure is not None:
                yield from _faults(opened, step.figure.image, files)


def _faults(opened: Opened, image: Ref, files: list[str]) -> Iterator[Fault]:
    (name, span), folder = image, opened.guide.images
    path = folder / name
    if not name.lower().endswith(PRINTED):
        yield Fault(span, f"{quote(name)} is not a picture that can be printed", hint="use an SVG, PNG or JPEG file")
    elif is_outside(name, folder):
        yield Fault(span, f"{quote(name)} is outside the guide's images/", hint="copy it into images/")
    elif is_fit_name(name) and not opened.guide.store.is_there(path):
        # What is there and cannot be shown is told by `bad-picture`, and what cannot be read, at the file itself.
        message = f"there is no picture {quote(name)} in images/"
        if any(unicodedata.normalize("NFC", file) == unicodedata.normalize("NFC", name) for file in files):
            # The same letters, one written as a letter and a mark: on another machine it may even be found.
            yield Fault(span, message, hint="type the file's name again; it uses different characters")
            return
        plain = name.removeprefix("images/")
        near = plain if plain in files else nearest(name, files)
        hint = f"did you mean {quote(near)}?" if near else f"put it in {opened.guide.shown}/images"
        yield Fault(span, message, hint=hint)
