"""Pictures that an author brings: what must be true of one before a browser or the press may open it.

A picture comes from anywhere: from a phone, a drawing program, a stranger's archive. `examine` reads it with limits and
without obeying it: of a raster picture the frame only, of an SVG every element, as data. What it refuses, it refuses
with words that name the file. `published` makes of what may be opened the file that readers get: what it shows, and
nothing else that was in it. The author's own file stays as it is.
"""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

from putback.pictures.judged import BadPictureError, Picture
from putback.pictures.photograph import ALL, Crop, Published, clean_photograph, upright_size
from putback.pictures.plain_drawing import clean_drawing, drawing_size
from putback.pictures.raster import KINDS, kind_of, read_raster
from putback.pictures.svg import read_svg
from putback.source.intake import LARGEST_PICTURE, Disk, NotReadError, Store

__all__ = [
    "ALL",
    "ENDINGS",
    "PRINTED",
    "BadPictureError",
    "Crop",
    "Picture",
    "Published",
    "examine",
    "is_fit_name",
    "is_outside",
    "published",
    "shown_size",
]  # fmt: skip

ENDINGS = {".svg": "SVG", ".png": "PNG", ".jpg": "JPEG", ".jpeg": "JPEG", ".gif": "GIF", ".webp": "WebP"}
"""The ending of a picture's file name, and what must be in it."""

PRINTED = (".svg", ".png", ".jpg", ".jpeg")
"""The endings of a picture that a step shows."""

LONGEST_NAME = 200
"""Bytes of one part of a path; some file systems take no more than 255, and the HTML adds to it."""


def examine(file: Path, folder: Path, store: Store | None = None) -> Picture:
    """Return what a picture costs. It is a file in `folder`, below which everything that is read must lie.

    `store` is where the files are: on disk when not given. Raises `BadPictureError` for what is no picture, is damaged,
    is too large, or would do more than be shown.
    """
    return _judged(_read(file, folder, store or Disk()), file)


def published(file: Path, folder: Path, crop: Crop = ALL, *, sized: bool = False) -> Published:
    """Return what readers get of a picture that `examine` lets through, or of a part of it.

    With `sized`, or a crop, a drawing must say how large it is. Raises `BadPictureError`.
    """
    kind, data = _examined_data(file, folder)
    if kind not in KINDS:
        return clean_drawing(data, crop, sized=sized)
    return clean_photograph(data, kind, crop)


def shown_size(file: Path, folder: Path, crop: Crop = ALL) -> tuple[float, float]:
    """Return width and height of a picture, or of a part of it, as it is looked at; zeros when a drawing does not say.

    Dots of a photograph before it is made smaller, pixels of CSS of a drawing. Raises `BadPictureError`.
    """
    kind, data = _examined_data(file, folder)
    wide, high = upright_size(data, kind) if kind in KINDS else drawing_size(data)
    return wide * (crop.right - crop.left), high * (crop.bottom - crop.top)


def _examined_data(file: Path, folder: Path) -> tuple[str, bytes]:
    """Return a picture that may be opened; what is returned is what was looked at, whoever writes to it meanwhile."""
    data = _read(file, folder, Disk())
    kind = _judged(data, file).kind
    if kind in KINDS:
        read_raster(data, kind)
    return kind, data


def is_outside(name: str, folder: Path) -> bool:
    """Tell whether a name, as it is written, leads out of a folder; where its links lead is not looked at."""
    return not _written(folder / name).is_relative_to(_written(folder))


def _written(path: Path) -> Path:
    return Path(os.path.normpath(path))


def is_fit_name(name: str) -> bool:
    """Tell whether a picture can have a name: no control character, not too long for a disk."""
    return _fault_of_name(Path(name)) is None


def _fault_of_name(file: Path) -> tuple[str, str] | None:
    if any(ord(character) < ord(" ") or character == "\x7f" for character in str(file)):
        return "its name has a control character", "give it another name"
    if any(len(os.fsencode(part)) > LONGEST_NAME for part in file.parts):
        return f"its name is longer than {LONGEST_NAME} bytes", "give it a shorter name"
    return None


def _read(file: Path, folder: Path, store: Store) -> bytes:
    """Return the bytes of a picture. Raises `BadPictureError` when there is none, or when it lies elsewhere."""
    if fault := _fault_of_name(file):
        raise BadPictureError(*fault)
    facts = store.facts(file)
    if not facts.whole.is_relative_to(store.facts(folder).whole):
        linked = _written(file).is_relative_to(_written(folder))
        raise BadPictureError(
            f"it {'is a link that leads' if linked else 'is'} outside the guide", "copy the picture into the guide"
        )
    if facts.problem is not None:
        raise BadPictureError(f"it cannot be read: {facts.problem}")
    if facts.kind is None:
        raise BadPictureError("it is a link that leads nowhere" if facts.is_link else "it is not there")
    if facts.is_folder:
        raise BadPictureError("it is a folder, not a picture")
    if not facts.is_file:
        raise BadPictureError("it is not a file but a pipe, a socket or a device", "copy the picture itself there")
    if facts.size > LARGEST_PICTURE:
        raise BadPictureError(f"it has {facts.size:,} bytes; the limit is {LARGEST_PICTURE:,}", "make it smaller")
    try:
        return store.read(facts.whole, LARGEST_PICTURE)
    except NotReadError as error:
        raise BadPictureError(f"it cannot be read: {error}") from None


def _judged(data: bytes, file: Path) -> Picture:
    """Return what a picture costs, worked out once for each picture. Raises `BadPictureError`."""
    ending = file.suffix.lower()
    key = (hashlib.sha256(data).digest(), ending)
    if key not in _KNOWN:
        if len(_KNOWN) >= _MOST_KNOWN:
            _KNOWN.clear()
        try:
            _KNOWN[key] = _judge(data, ending)
        except BadPictureError as error:
            _KNOWN[key] = error.message, error.hint
    found = _KNOWN[key]
    if isinstance(found, Picture):
        return found
    raise BadPictureError(*found)


_KNOWN: dict[tuple[bytes, str], Picture | tuple[str, str | None]] = {}
_MOST_KNOWN = 1024


def _judge(data: bytes, ending: str) -> Picture:
    if not data:
        raise BadPictureError("the file is empty")
    wanted = ENDINGS.get(ending)
    if wanted is None:
        raise BadPictureError(
            "it is not a picture that can be printed", f"use {', '.join(sorted(set(ENDINGS.values())))}"
        )
    found = kind_of(data)
    if found != wanted:
        what = f"is {_with_article(found)} file" if found else f"is not {_with_article(wanted)} file"
        meant = next((end for end, kind in ENDINGS.items() if kind == found), None)
        raise BadPictureError(
            f"it {what}, but its name ends in {ending}", f"end its name in {meant}" if meant else "save it again"
        )
    return read_raster(data, found) if found in KINDS else read_svg(data)


def _with_article(kind: str) -> str:
    return f"an {kind}" if kind == "SVG" else f"a {kind}"
