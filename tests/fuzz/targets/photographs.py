"""A photograph from a stranger: its frame is read; what may be opened is unpacked and packed anew."""

from __future__ import annotations

from putback.pictures.judged import BadPictureError
from putback.pictures.photograph import clean_photograph, upright_size
from putback.pictures.raster import KINDS, kind_of, read_raster
from tests.fuzz.targets.promises import hold, hold_words

MOST = 10_000
"""Pixels up to which it is unpacked: that is not what is tried here."""


def attempt(data: bytes) -> str:
    """Read a photograph."""
    kind = kind_of(data)
    if kind not in KINDS:
        return str(kind)
    try:
        read = read_raster(data, kind)
        told = repr(read)
        hold(0 < read.pixels <= 200_000_000, "an impossible number of pixels", read)
        if read.pixels > MOST:
            return told
        told += repr(upright_size(data, kind))
        found = clean_photograph(data, kind)
        hold(kind_of(found.data) == found.kind, "published as another kind", found.kind)
        read_raster(found.data, found.kind)
    except BadPictureError as error:
        hold_words("a photograph", error.message, "")
        return f"{error.message} {error.hint}"
    return f"{told} {found.kind} {found.width} {found.height}"
