"""One check on many machines: which guides each of them looks at, told from the files alone.

Every machine works out the same split from the same files, and takes its own part: guides are dealt out from the most
expensive to the cheapest, each to the part that has least so far (longest processing time first). What a guide costs is
guessed from the size of its texts: 15 guides of 3 to 130 kB took 19 ms and 6.3 µs a byte (correlation 0.98).
"""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from putback.guide.folders import Stray, walk
from putback.guide.paths import shown_path
from putback.source.finding import Finding
from putback.source.intake import Disk

MOST_PARTS = 1000
"""Parts that a check can be split into."""

_ALWAYS = 3_000
"""Bytes of text that take as long as the library, which is read for each guide."""

_TEXTS = (".yaml", ".md")
"""How files end whose size says what a guide costs; pictures cost nearly nothing."""


class CheckPart(NamedTuple):
    """One of several parts of a check."""

    number: int
    """Which, counted from 1."""
    of: int
    """How many there are."""


@dataclass(frozen=True, slots=True)
class Share:
    """What a part looked at, of what there is."""

    part: CheckPart
    """Which part it is."""
    split: Mapping[str, int]
    """The part that each guide is in, as shown; in the order in which a whole check looks at them."""
    unread: tuple[Finding, ...] = ()
    """Folders on the way to the guides that could not be looked into; each part tells of them."""

    @property
    def left_out(self) -> str | None:
        """What is in other parts, in words; None when all is in this one."""
        others = sum(number != self.part.number for number in self.split.values())
        if not others:
            return None
        which = f"this is part {self.part.number} of {self.part.of}"
        return f"{others} of {len(self.split)} guides, which are in other parts ({which})"


def split(folders: Iterable[Path], of: int) -> dict[Path, int]:
    """Return the part that each guide is in, in the order given; the parts do not depend on that order."""
    folders = list(folders)
    costs = {folder: cost_of(folder) for folder in folders}
    loads = [0] * of
    found: dict[Path, int] = {}
    for folder in sorted(folders, key=lambda folder: (-costs[folder], shown_path(folder))):
        least = loads.index(min(loads))
        loads[least] += costs[folder]
        found[folder] = least + 1
    return {folder: found[folder] for folder in folders}


def cost_of(folder: Path) -> int:
    """Return about how much work a guide is: the bytes of its texts; what cannot be looked at has none."""
    strays: list[Stray] = []
    files = (inner / name for inner, names in walk(folder, strays, Disk()) for name in names if name.endswith(_TEXTS))
    return _ALWAYS + sum(map(_size, files))


def _size(path: Path) -> int:
    try:
        return os.stat(path).st_size  # noqa: PTH116 - a link counts as what it leads to
    except (OSError, ValueError):
        return 0
