"""The word that was probably meant."""

from __future__ import annotations

from collections.abc import Iterable

_LONGEST = 60
"""Letters; what is longer is no misspelt word, and would cost time."""


def nearest(word: str, candidates: Iterable[str]) -> str | None:
    """Return the candidate that `word` most likely stands for, or None when none is near.

    Near means that one letter in three may be wrong, at least one; upper and lower case count as the same.
    A word of three letters or more also stands for a candidate that it begins.
    """
    written = word.casefold()
    if len(written) > _LONGEST:
        return None
    best: tuple[int, str] | None = None
    for candidate in candidates:
        target = candidate.casefold()
        longest = max(len(written), len(target))
        allowed = max(1, longest // 3)
        begins = len(written) >= 3 and target.startswith(written)
        away = min(distance(written, target), allowed if begins else longest)
        # A wrong first letter of two makes another word.
        alike = longest > 2 or written[:1] == target[:1]
        if away <= allowed and alike and (best is None or away < best[0]):
            best = (away, candidate)
    return best[1] if best else None


def distance(one: str, other: str) -> int:
    """Return how many letters must be put in, left out, changed, or swapped with their neighbour.

    The optimal string alignment distance: Boytsov, "Indexing methods for approximate dictionary searching",
    ACM Journal of Experimental Algorithmics 16 (2011).
    """
    before: list[int] = []
    row = list(range(len(other) + 1))
    for i, letter in enumerate(one, 1):
        last, before, row = before, row, [i]
        for j, target in enumerate(other, 1):
            cost = min(before[j] + 1, row[j - 1] + 1, before[j - 1] + (letter != target))
            if i > 1 and j > 1 and letter == other[j - 2] and one[i - 2] == target:
                cost = min(cost, last[j - 2] + 1)
            row.append(cost)
    return row[-1]
