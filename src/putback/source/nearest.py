"""The word that was probably meant, and whether there can be a doubt."""

from __future__ import annotations

from collections.abc import Iterable

_LONGEST = 60
"""Letters; what is longer is no misspelt word, and would cost time."""


def nearest(word: str, candidates: Iterable[str]) -> str | None:
    """Return the candidate that `word` most likely stands for, or None when none is near.

    Near means that one letter in three may be wrong, at least one; upper and lower case count as the same.
    A word of three letters or more also stands for a candidate that it begins. Of two that are as near, the one whose
    end is missing, or of which two letters changed places, is taken; else the first.
    """
    written = word.casefold()
    if len(written) > _LONGEST:
        return None
    # Late: only a file with a fault needs it.
    from rapidfuzz.distance import OSA

    best: tuple[int, bool, str] | None = None
    for candidate in candidates:
        target = candidate.casefold()
        longest = max(len(written), len(target))
        allowed = max(1, longest // 3)
        # A wrong first letter of two makes another word.
        if longest <= 2 and written[:1] != target[:1]:
            continue
        begins = len(written) >= 3 and target.startswith(written)
        enough = allowed if best is None else min(allowed, best[0])
        away = OSA.distance(written, target, score_cutoff=None if begins else enough)
        away = min(away, allowed) if begins else away
        other_letters = not target.startswith(written) and sorted(target) != sorted(written)
        if away <= enough and (best is None or (away, other_letters) < best[:2]):
            best = (away, other_letters, candidate)
    return best[2] if best else None


def distance(one: str, other: str) -> int:
    """Return how many letters must be put in, left out, changed, or swapped with their neighbour.

    The optimal string alignment distance: Boytsov, "Indexing methods for approximate dictionary searching",
    ACM Journal of Experimental Algorithmics 16 (2011).
    """
    from rapidfuzz.distance import OSA

    return OSA.distance(one, other)


def is_slip(word: str, name: str) -> bool:
    """Tell whether a name is another one with a slip: word by word, with the same figures.

    An outlet valve is no slip for the inlet valve, and cylinder 3 none for cylinder 2.
    """
    if [letter for letter in word if letter.isdigit()] != [letter for letter in name if letter.isdigit()]:
        return False
    written, meant = word.split("-"), name.split("-")
    if len(written) != len(meant):
        return distance(word, name) <= 1 or word.replace("-", "") == name.replace("-", "")
    return all(map(_is_slip_in_word, written, meant))


def _is_slip_in_word(word: str, meant: str) -> bool:
    if len(meant) > 4:
        return distance(word, meant) <= len(meant) // 4
    # In a short word, another letter makes another word: two have changed places, or one is missing or too much.
    return sorted(word) == sorted(meant) or (distance(word, meant) <= 1 and len(word) != len(meant))
