"""An SVG drawing from a stranger: refused with words, or published as something that is safe to open."""

from __future__ import annotations

import re

from putback.pictures import Crop
from putback.pictures.judged import BadPictureError
from putback.pictures.photograph import ALL
from putback.pictures.plain_drawing import clean_drawing, drawing_size
from putback.pictures.raster import kind_of
from putback.pictures.svg import read_svg
from tests.fuzz.targets.promises import hold, hold_words

_ACTS = re.compile(rb"<\s*(script|foreignObject|animate|set|iframe|a)\b|\son[a-z]+\s*=|javascript:|<!|<\?(?!xml)", re.I)
"""What a published drawing must not hold, in a tag."""
_TEXTS = re.compile(rb">[^<]*<|\"[^\"]*\"")


def attempt(data: bytes) -> str:
    """Read a drawing, and publish it whole and in part."""
    said = data.decode("utf-8", "ignore")
    try:
        read = read_svg(data)
    except BadPictureError as error:
        hold_words("a drawing", error.message, said)
        hold_words("a drawing", error.hint or "x", said)
        return f"{kind_of(data)} {error.message} {error.hint}"
    told = [repr(read)]
    for crop in (ALL, Crop(0.25, 0.1, 0.5, 1)):
        try:
            found = clean_drawing(data, crop)
        except BadPictureError as error:
            hold_words("a drawing", error.message, said)
            told.append(error.message)
            continue
        acts = _ACTS.search(_TEXTS.sub(b"", found.data))
        hold(acts is None, "published, and could act", acts)
        hold(read_svg(found.data).without == (), "published with what is left out", found.data)
        if crop == ALL:
            hold(clean_drawing(found.data).data == found.data, "published again, it is another", found.data)
            told.append(str(drawing_size(data)))
        told.append(repr(found))
    return "\n".join(told)
