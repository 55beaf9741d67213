"""Where the words of a printed manual stand, as `pdftotext` reads them: from outside Putback."""

from __future__ import annotations

import itertools
import re
import subprocess
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Place:
    """Where a word stands on its page, pt."""

    left: float
    top: float
    right: float
    bottom: float


def words_of(pdf: Path) -> list[list[tuple[str, Place]]]:
    """Return the words of each page with their places."""
    done = subprocess.run(["pdftotext", "-bbox", str(pdf), "-"], capture_output=True, check=True)
    words = re.compile(r'<word xMin="(.+?)" yMin="(.+?)" xMax="(.+?)" yMax="(.+?)">(.*?)</word>')
    return [
        [(found[5], Place(*map(float, found.groups()[:4]))) for found in words.finditer(page)]
        for page in done.stdout.decode("utf-8").split("<page ")[1:]
    ]


def overlaps(pdf: Path) -> list[str]:
    """Return where words run into each other, with the page."""
    found = []
    for number, page in enumerate(words_of(pdf), 1):
        for (one, a), (other, b) in itertools.combinations(page, 2):
            across = min(a.right, b.right) - max(a.left, b.left)
            down = min(a.bottom, b.bottom) - max(a.top, b.top)
            # Lines stand closer than their letters are high with all that could be above and below them.
            if across > 0.5 and down > 4:
                found.append(f"page {number}: {one} {other}")
    return found
