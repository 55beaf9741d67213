"""Which shape a name stands for, in English: its last words, as authors call their parts."""

from __future__ import annotations

from collections.abc import Iterator

from putback.model.forms import PartShape
from putback.model.machine import AnyThing, Fastener, Part
from putback.units import Quantity

_OTHER_WORDS = {
    "bushing": PartShape.BUSH,
    "cartridge": PartShape.ELEMENT,
    "clip": PartShape.CIRCLIP,
    "cup": PartShape.BOWL,
    "disk": PartShape.DISC,
    "dowel": PartShape.PIN,
    "filter": PartShape.ELEMENT,
    "grip": PartShape.GROMMET,
    "knob": PartShape.CAP,
    "lid": PartShape.COVER,
    "lock washer": PartShape.SPRING_WASHER,
    "oring": PartShape.O_RING,
    "packing": PartShape.SEAL,
    "plug": PartShape.BOLT,
    "reel": PartShape.PULLEY,
    "retaining ring": PartShape.CIRCLIP,
    "screen": PartShape.STRAINER,
    "shim": PartShape.WASHER,
    "sleeve": PartShape.BUSH,
    "snap ring": PartShape.CIRCLIP,
    "sprocket": PartShape.GEAR,
    "wheel": PartShape.DISC,
}
"""Words for a shape beside those that a file can write."""
_BY_WORDS = {shape.value.lower(): shape for shape in PartShape} | _OTHER_WORDS


_LONG = frozenset(
    {
        PartShape.BUSH, PartShape.COLLAR, PartShape.ELEMENT, PartShape.LINER, PartShape.PIN, PartShape.ROD,
        PartShape.SCREW, PartShape.SHAFT, PartShape.SPACER, PartShape.SPRING, PartShape.STUD,
    }
)  # fmt: skip
"""Shapes of which one says how long they are."""
_HIGH = frozenset(
    {
        PartShape.BLOCK, PartShape.BOWL, PartShape.CAP, PartShape.COVER, PartShape.HOUSING, PartShape.IMPELLER,
        PartShape.STRAINER,
    }
)  # fmt: skip
"""Shapes of which one says how high they are; any other is thick."""


def lengths_of(part: Part) -> Iterator[tuple[Quantity, str]]:
    """Yield the lengths of a part, each with what it is of its shape: a washer is thick, a spacer is long."""
    size, shape = part.size, shape_of(part)
    if size is None:
        return
    along = "long" if shape in _LONG else "high" if shape in _HIGH else "thick"
    across = "long" if shape is PartShape.KEY else "outside"
    for length, what in ((size.outside, across), (size.inside, "inside"), (size.thickness, along)):
        if length:
            yield length, what


def shape_of(thing: AnyThing) -> PartShape | None:
    """Return the shape of a part or fastener: as the file says, or else by its kind or its name; None when unknown."""
    if isinstance(thing, Part) and thing.shape:
        return thing.shape
    kind = thing.kind if isinstance(thing, Fastener) else None
    return _by_words(kind or "") or _by_words(thing.name)


def _by_words(name: str) -> PartShape | None:
    words = name.lower().split(" of ")[0].split()
    for last in (words[-2:], words[-1:]):
        said = " ".join(last)
        for form in (said, said.removesuffix("s"), said.removesuffix("es")):
            if form in _BY_WORDS:
                return _BY_WORDS[form]
    return None
