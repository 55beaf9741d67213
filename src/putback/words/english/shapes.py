"""Which shape a name stands for, in English: its last words, as authors call their parts."""

from __future__ import annotations

from putback.model.forms import PartShape
from putback.model.machine import AnyThing, Fastener, Part

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
