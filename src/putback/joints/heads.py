"""Heads and nuts as they are seen: how wide and how high for a thread, and what is in their end for the drive.

Sizes are the nominal ones of the standards that each table names; read in published tables of their values, mm. Where
no value is listed, a ratio to the diameter stands for it: common practice, no source.
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import NamedTuple

from putback.joints.drives import flats, read_drive
from putback.joints.thread_sizes import INCH, inches
from putback.joints.threads import Thread, ThreadSystem
from putback.source.late import Late


class HeadForm(StrEnum):
    """What a head looks like from the side."""

    HEX = "hex"
    HEX_FLANGE = "hex flange"
    SQUARE = "square"
    SOCKET_CAP = "socket cap"
    CHEESE = "cheese"
    PAN = "pan"
    BUTTON = "button"
    COUNTERSUNK = "countersunk"
    NONE = "none"


class Recess(StrEnum):
    """What a tool goes into."""

    HEX = "hex"
    SLOT = "slot"
    CROSS = "cross"
    STAR = "star"
    SQUARE = "square"


class Head(NamedTuple):
    """The head of a bolt, or a nut."""

    form: HeadForm
    """What it looks like; a nut is a hexagon or a square."""
    width: float
    """Across flats of a hexagon or a square, else its diameter, mm."""
    height: float
    """Along the axis, mm."""
    flange: float | None = None
    """Diameter of the flange under a hexagon, mm."""
    recess: Recess | None = None
    """What is in its end."""
    recess_size: float | None = None
    """Across flats of a socket, or width of a blade, mm; None where it is not known."""


_HEX_HEIGHT: dict[float, float] = {
    1.6: 1.3, 2: 1.6, 2.5: 1.9, 3: 2, 3.5: 2.6, 4: 2.8, 5: 3.5, 6: 4, 7: 4.8, 8: 5.3, 10: 6.4, 12: 7.5, 14: 8.8,
    16: 10, 18: 11.5, 20: 12.5, 22: 14, 24: 15, 27: 17, 30: 18.7, 33: 21, 36: 22.5, 39: 25,
}  # fmt: skip
"""Heights of hexagon heads: ISO 4014, ISO 4017 (7: DIN 933)."""
_HEX_HEIGHT_INCH = "1/4:5/32,5/16:13/64,3/8:15/64,7/16:9/32,1/2:5/16,9/16:23/64,5/8:25/64,3/4:15/32,7/8:35/64,1:39/64"
"""The same of Unified hex cap screws, in: ASME B18.2.1, from memory."""
_FLANGE: dict[float, tuple[float, float]] = {
    5: (11.8, 5.8), 6: (14.2, 6.6), 8: (18, 8.1), 10: (22.3, 10.4), 12: (26.6, 11.8), 14: (30.5, 13.7),
    16: (35, 15.4), 20: (43, 18.9),
}  # fmt: skip
"""Diameter of the flange, height: EN 1665."""
_CAP: dict[float, float] = {
    3: 5.5, 4: 7, 5: 8.5, 6: 10, 8: 13, 10: 16, 12: 18, 14: 21, 16: 24, 20: 30, 24: 36, 30: 45, 36: 54,
}  # fmt: skip
"""Diameters of socket cap heads, which are as high as the thread is wide: ISO 4762."""
_CHEESE: dict[float, tuple[float, float]] = {
    1.6: (3, 1.1), 2: (3.8, 1.4), 2.5: (4.5, 1.8), 3: (5.5, 2), 3.5: (6, 2.4), 4: (7, 2.6), 5: (8.5, 3.3),
    6: (10, 3.9), 8: (13, 5), 10: (16, 6),
}  # fmt: skip
"""Diameter, height: ISO 1207."""
_PAN: dict[float, tuple[float, float]] = {
    1.6: (3.2, 1), 2: (4, 1.3), 2.5: (5, 1.5), 3: (5.6, 1.8), 3.5: (7, 2.1), 4: (8, 2.4), 5: (9.5, 3), 6: (12, 3.6),
    8: (16, 4.8), 10: (20, 6),
}  # fmt: skip
"""Diameter, height: ISO 1580."""
_BUTTON: dict[float, tuple[float, float]] = {
    3: (5.7, 1.65), 4: (7.6, 2.2), 5: (9.5, 2.75), 6: (10.5, 3.3), 8: (14, 4.4), 10: (17.5, 5.5), 12: (21, 6.6),
    16: (28, 8.8),
}  # fmt: skip
"""Diameter, height: ISO 7380-1."""
_COUNTERSUNK: dict[float, tuple[float, float]] = {
    3: (6, 1.7), 4: (8, 2.3), 5: (10, 2.8), 6: (12, 3.3), 8: (16, 4.4), 10: (20, 5.5), 12: (24, 6.5), 14: (27, 7),
    16: (30, 7.5), 20: (36, 8.5),
}  # fmt: skip
"""Diameter, height: ISO 10642."""
_NUT: dict[float, float] = {
    1.6: 1.3, 2: 1.6, 2.5: 2, 3: 2.4, 3.5: 2.8, 4: 3.2, 5: 4.7, 6: 5.2, 8: 6.8, 10: 8.4, 12: 10.8, 14: 12.8, 16: 14.8,
    18: 15.8, 20: 18, 22: 19.4, 24: 21.5, 27: 23.8, 30: 25.6, 33: 28.7, 36: 31, 39: 33.4,
}  # fmt: skip
"""Heights of nuts: ISO 4032."""
_THIN_NUT: dict[float, float] = {
    2: 1.2, 2.5: 1.6, 3: 1.8, 4: 2.2, 5: 2.7, 6: 3.2, 8: 4, 10: 5, 12: 6, 14: 7, 16: 8, 18: 9, 20: 10, 22: 11, 24: 12,
    27: 13.5, 30: 15, 36: 18,
}  # fmt: skip
"""Heights of thin nuts: ISO 4035."""
_NUT_INCH = "1/4:7/32,5/16:17/64,3/8:21/64,7/16:3/8,1/2:7/16,9/16:31/64,5/8:35/64,3/4:41/64,7/8:3/4,1:55/64"
"""Heights of Unified nuts, in: ASME B18.2.2."""

_FLATS_RATIO, _HEIGHT_RATIO, _NUT_RATIO, _THIN_RATIO = 1.6, 0.65, 0.85, 0.5
"""To the diameter: across flats of a head, its height, the heights of a nut and of a thin one."""
_ROUND_RATIOS = {
    HeadForm.SOCKET_CAP: (1.5, 1.0),
    HeadForm.CHEESE: (1.65, 0.65),
    HeadForm.PAN: (2.0, 0.6),
    HeadForm.BUTTON: (1.75, 0.55),
    HeadForm.COUNTERSUNK: (2.0, 0.55),
}
"""Diameter and height of round heads, to that of the thread."""
_ROUND: dict[HeadForm, dict[float, tuple[float, float]]] = {
    HeadForm.CHEESE: _CHEESE,
    HeadForm.PAN: _PAN,
    HeadForm.BUTTON: _BUTTON,
    HeadForm.COUNTERSUNK: _COUNTERSUNK,
}

_RECESSES = (
    (Recess.SLOT, Late(r"\b(?:slot|slotted|flat blade|straight blade)\b")),
    (Recess.CROSS, Late(r"\b(?:cross|cross-?head|phillips|pozidriv|ph ?[0-4]|pz ?[0-4])\b")),
    (Recess.STAR, Late(r"\b(?:torx|hexalobular|star|tx ?[0-9]+|t[0-9]{1,2})\b")),
    (Recess.SQUARE, Late(r"\b(?:inner|internal) square\b|\bsquare socket\b|\bsquare key\b")),
)
"""What is in the end of a head, by the words for its drive, lower case."""
_WIDTH = Late(r"([0-9]+(?:\.[0-9]+)?) ?mm\b")
THIN = frozenset({"lock nut", "jam nut", "check nut"})
"""Kinds of nuts that are thin."""


def head_of(thread: Thread, drive: str | None, *, form: HeadForm | None = None, screw: bool = False) -> Head:
    """Return the head of a bolt; `form` is what the file says it looks like, `screw` that it is called a screw."""
    said = " ".join((drive or "")[:60].lower().split())
    hexagon = read_drive(drive) if drive else None
    recess = next((each for each, words in _RECESSES if words.search(said)), None)
    if recess is None and hexagon is not None and _is_socket(hexagon.size, hexagon.inside, thread, form):
        recess = Recess.HEX
    size = hexagon.size if hexagon else _width(said)
    if recess is None and size and size < thread.diameter and re.search(r"\bsquare\b", said):
        recess = Recess.SQUARE
    form = form or _form(recess, said, screw=screw and not drive)
    if form in (HeadForm.HEX, HeadForm.HEX_FLANGE, HeadForm.SQUARE):
        across = size if size and recess is None and size >= thread.diameter else None
        return _with_flats(thread, form, across)._replace(recess=recess if recess is not Recess.HEX else None)
    inside = size if recess else None
    if recess is Recess.HEX and inside is None:
        row = flats(thread, inside=True)
        inside = row[2] if row else None
    width, height = (thread.diameter, 0.0) if form is HeadForm.NONE else _round(form, thread.diameter)
    return Head(form, width, height, recess=recess, recess_size=inside)


def nut_of(thread: Thread, drive: str | None, *, thin: bool = False, flange: bool = False) -> Head:
    """Return a nut for a thread."""
    hexagon = read_drive(drive) if drive else None
    ratio = _THIN_RATIO if thin else _NUT_RATIO
    listed = _listed(_THIN_NUT if thin else _NUT, "" if thin else _NUT_INCH, thread)
    head = _with_flats(thread, HeadForm.HEX_FLANGE if flange else HeadForm.HEX, hexagon.size if hexagon else None)
    return head._replace(height=listed or ratio * thread.diameter)


def _is_socket(size: float, inside: bool | None, thread: Thread, form: HeadForm | None) -> bool:
    """Tell whether a hexagon is a socket; a bare `hex 5 mm` on M6 can be nothing else."""
    if inside is not None:
        return inside
    if form is not None:
        return form not in (HeadForm.HEX, HeadForm.HEX_FLANGE)
    return size < thread.diameter


def _form(recess: Recess | None, said: str, *, screw: bool) -> HeadForm:
    """Return what a head mostly looks like that has such a recess."""
    if recess is None:
        return HeadForm.SQUARE if re.search(r"\bsquare\b", said) else HeadForm.CHEESE if screw else HeadForm.HEX
    return {
        Recess.HEX: HeadForm.SOCKET_CAP,
        Recess.SLOT: HeadForm.CHEESE,
        Recess.CROSS: HeadForm.PAN,
        Recess.STAR: HeadForm.SOCKET_CAP,
        Recess.SQUARE: HeadForm.CHEESE,
    }[recess]


def _with_flats(thread: Thread, form: HeadForm, across: float | None) -> Head:
    row = flats(thread, inside=False)
    width = across or (row[2] if row else _FLATS_RATIO * thread.diameter)
    height = _listed(_HEX_HEIGHT, _HEX_HEIGHT_INCH, thread) or _HEIGHT_RATIO * thread.diameter
    if form is not HeadForm.HEX_FLANGE:
        return Head(form, width, height)
    flange, height = _FLANGE.get(thread.diameter, (1.4 * width, 1.5 * height))  # ratios: common practice, no source
    return Head(form, width, height, flange=max(flange, 1.2 * width))


def _round(form: HeadForm, diameter: float) -> tuple[float, float]:
    """Return diameter and height of a round head, mm."""
    if form is HeadForm.SOCKET_CAP and diameter in _CAP:
        return _CAP[diameter], diameter
    wide, high = _ROUND_RATIOS[form]
    return _ROUND.get(form, {}).get(diameter, (wide * diameter, high * diameter))


def _listed(metric: dict[float, float], inch: str, thread: Thread) -> float | None:
    if thread.system is ThreadSystem.METRIC:
        return metric.get(thread.diameter)
    if thread.system is ThreadSystem.UNIFIED:
        for row in filter(None, inch.split(",")):
            size, height = (float(inches(each)) * INCH for each in row.split(":"))
            if abs(size - thread.diameter) < 0.01:
                return height
    return None


def _width(said: str) -> float | None:
    found = _WIDTH.search(said)
    return float(found[1]) if found else None
