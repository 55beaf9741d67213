"""The word that was probably meant, and whether there can be a doubt."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from functools import lru_cache

_LONGEST = 60
"""Letters; what is longer is no misspelt word, and would cost time."""
_SHORT = 4
"""Letters of a word in which another letter makes another word, the first one above all."""

_SAID = {
    "count": "quantity qty amount pieces how-many number-off", "number": "part-number part-no partno p-n order-number",
    "mass": "weight", "class": "strength property-class bolt-class", "order": "sequence pattern tightening-order",
    "kind": "type", "note": "comment comments remark remarks description", "drive": "spanner head drive-size",
    "secures": "holds fastens fixes", "joins": "connects", "condition": "threads-are", "compound": "thread-lock",
    "volume": "capacity", "grade": "viscosity oil-grade", "normal": "default", "replace": "single-use one-time",
    "otherwise": "else if-not fails", "for": "look-for", "torque": "torque-spec torque-value",
}  # fmt: skip
"""By a key, what else people call it."""
_KEYS = {said: key for key, words in _SAID.items() for said in words.split()}


def meant_key(word: str, keys: Collection[str]) -> str | None:
    """Return the key that a word is a slip for, or that it is another word for; None when there is none."""
    other = _KEYS.get(word.casefold().replace("_", "-"))
    return nearest(word, keys) or (other if other in keys else None)


def nearest(word: str, candidates: Iterable[str]) -> str | None:
    """Return the candidate that `word` most likely stands for, or None when none is near: a far one is worse than none.

    Near means that one letter in four may be wrong, at least one; only one where the first letter is another, and that
    not in a short word. Words between hyphens are compared one by one, and figures must be alike: socket-11 is no slip
    for socket-10, nor re-torque for no-torque. Upper and lower case count as the same. A word of three letters or more
    also stands for a candidate that it begins, and of which it is about half. Of two that are as near, the one whose
    end is missing, or of which two letters changed places, is taken; else the first.
    """
    written = word.casefold()
    if len(written) > _LONGEST:
        return None
    best: tuple[int, bool, str] | None = None
    for candidate in candidates:
        target = candidate.casefold()
        begins = len(written) >= 3 and target.startswith(written) and 2 * len(written) + 1 >= len(target)
        away = 1 if begins and written != target else _away(written, target)
        if away is None:
            continue
        other_letters = not target.startswith(written) and sorted(target) != sorted(written)
        if best is None or (away, other_letters) < best[:2]:
            best = (away, other_letters, candidate)
    return best[2] if best else None


def _away(written: str, target: str) -> int | None:
    """Return how far a word is from one that it may stand for; None when that is too far."""
    if _figures(written) != _figures(target):
        return None
    words, wanted = written.split("-"), target.split("-")
    if len(words) != len(wanted):
        return _near(written, target) if max(len(words), len(wanted)) == 2 else _near_joined(written, target)
    found = [_near(*pair) for pair in zip(words, wanted, strict=True)]
    return None if None in found else sum(each for each in found if each is not None)


def _near(word: str, meant: str) -> int | None:
    # A wrong first letter of two makes another word.
    longest = max(len(word), len(meant))
    if longest <= 2 and word[:1] != meant[:1]:
        return None
    most = max(1, longest // 4) if word[:1] == meant[:1] else 1
    away = distance(word, meant, most)
    if away > most:
        return None
    if away and longest <= _SHORT and word[:1] != meant[:1] and sorted(word) != sorted(meant):
        return None
    return away


def _near_joined(written: str, target: str) -> int | None:
    away = distance(written, target, 1)
    return away if away <= 1 else None


@lru_cache(maxsize=16_384)  # all names of a machine, which a thousand words may be compared with
def _figures(word: str) -> str:
    return "".join(letter for letter in word if letter.isdigit())


def distance(one: str, other: str, most: int | None = None) -> int:
    """Return how many letters must be put in, left out, changed, or swapped with their neighbour.

    The optimal string alignment distance: Boytsov, "Indexing methods for approximate dictionary searching",
    ACM Journal of Experimental Algorithmics 16 (2011). Beyond `most`, it is only said to be more.
    """
    if most is not None and (abs(len(one) - len(other)) > most or len({*one} ^ {*other}) > 2 * most):
        return most + 1  # one change brings at most one letter and takes one away
    # Late: only a file with a fault needs it.
    from rapidfuzz.distance import OSA

    return OSA.distance(one, other, score_cutoff=most)


def is_slip(word: str, name: str) -> bool:
    """Tell whether a name is another one with a slip: word by word, with the same figures.

    An outlet valve is no slip for the inlet valve, and cylinder 3 none for cylinder 2.
    """
    if _figures(word) != _figures(name):
        return False
    written, meant = word.split("-"), name.split("-")
    if len(written) != len(meant):
        return distance(word, name) <= 1 or word.replace("-", "") == name.replace("-", "")
    return all(map(_is_slip_in_word, written, meant))


def _is_slip_in_word(word: str, meant: str) -> bool:
    if len(meant) > _SHORT:
        return distance(word, meant) <= len(meant) // 4
    # In a short word, another letter makes another word: two have changed places, or one is missing or too much.
    return sorted(word) == sorted(meant) or (distance(word, meant) <= 1 and len(word) != len(meant))
