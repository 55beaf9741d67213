"""Bands of torque for what no strength is known of: pipe threads, clamps, caps, and bolts known by their spanner.

Pipe threads, by size: from a third of what an engine maker gives for taper plugs (1/16: 6 N·m to 1: 45 N·m, read) to
twice what a maker of turf machines gives for fittings with a parallel thread (1/4: 34 to 49 N·m to 2: 392 N·m, read).
Hose clamps: 0.8 to 10 N·m by the breadth of the band (read in two pages). The rest: common practice, no source.
"""

from __future__ import annotations

from enum import Enum
from typing import NamedTuple

from putback.joints.drives import Drive, all_threads_of
from putback.joints.strength import read_class
from putback.joints.threads import Thread, read_thread
from putback.joints.usual import NO_CLASS


class UsualBand(NamedTuple):
    """Torques that are usual, N·m, and of what."""

    low: float
    high: float
    what: str
    """What they are usual for: `a G 1/4`."""


class Off(Enum):
    """How a torque lies to its band."""

    HIGH = "more than"
    LOW = "less than"


FAR = 3.0
"""By what factor a torque must be outside of its band to be called wrong, and not only unusual."""

_PIPE: dict[str, tuple[float, float]] = {
    "1/16": (2, 30), "1/8": (2.5, 45), "1/4": (4, 100), "3/8": (5, 160), "1/2": (8, 240), "5/8": (10, 260),
    "3/4": (12, 350), "7/8": (14, 420), "1": (15, 550), "1 1/8": (18, 600), "1 1/4": (20, 650), "1 1/2": (25, 800),
    "1 3/4": (28, 900), "2": (30, 1000),
}  # fmt: skip
"""By size of the pipe, N·m."""
_KINDS: dict[str, tuple[float, float]] = {
    **dict.fromkeys(("hose clamp", "hose clip", "worm clamp", "worm drive clamp"), (0.5, 15)),
    **dict.fromkeys(("clamp", "clip", "pipe clamp"), (0.5, 80)),
    **dict.fromkeys(("filter", "oil filter", "fuel filter"), (5, 60)),
    "spark plug": (5, 60),
    "glow plug": (5, 45),
    "drain plug": (4, 250),
    "cap": (0.5, 150),
}
"""By kind, N·m."""


def of_pipe(thread: Thread) -> UsualBand | None:
    """Return the band of a pipe thread; None for another one."""
    size = next((size for size in sorted(_PIPE, key=len, reverse=True) if size in _words(thread)), None)
    return UsualBand(*_PIPE[size], f"a {thread.designation}") if size else None


def _words(thread: Thread) -> list[str]:
    """Return what may be the size in the name of a pipe thread: `G 1 1/4`, `1/4-18 NPT`."""
    if thread.stress_area is not None:
        return []
    words = thread.designation.replace("-", " ").replace(" LH", "").split()
    return [*(" ".join(words[i : i + 2]) for i in range(len(words))), *words]


def of_kind(kind: str | None) -> UsualBand | None:
    """Return the band of a kind of fastener without a thread; None for one that has none."""
    limits = _KINDS.get((kind or "").lower())
    return UsualBand(*limits, f"a {kind}") if limits else None


def of_drive(drive: Drive) -> UsualBand | None:
    """Return the band of a bolt that is known by its hexagon only; None for one that is on no list."""
    threads = [read_thread(f"M{size:g}") for size in all_threads_of(drive)]
    if not threads:
        return None
    ends = [_ends(threads[0])[0], _ends(threads[-1])[1]]
    size = f"{drive.size:g}"
    return UsualBand(ends[0], ends[1], f"{'an' if size.startswith(('8', '11', '18')) else 'a'} {size} mm hexagon")


def _ends(thread: Thread) -> tuple[float, float]:
    assert thread.stress_area is not None
    stress = read_class("8.8").at(thread.diameter).proof or 0
    one = thread.stress_area * stress * thread.diameter / 1000
    return NO_CLASS[0] * one, NO_CLASS[1] * one


def off(torque: tuple[float, float], band: UsualBand, far: float = 1.0) -> Off | None:
    """Tell whether a torque, N·m, lies outside of a band, by more than a factor."""
    if torque[0] > band.high * far:
        return Off.HIGH
    return Off.LOW if torque[1] < band.low / far else None
