"""English of messages and pages that asks for no machine: numbers, plurals, lists."""

from __future__ import annotations

import re
from collections.abc import Sequence

from putback.source.late import Late

_NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip

_VOWEL = Late(r"[aeioAEIO]|8|1[18](?![0-9])")


def number(count: int) -> str:
    """Return a count in words up to twelve, in digits beyond."""
    return _NUMBERS[count] if 0 <= count < len(_NUMBERS) else str(count)


_IRREGULAR = (
    ("foot", "feet"), ("tooth", "teeth"), ("knife", "knives"), ("half", "halves"), ("shelf", "shelves"),
    ("leaf", "leaves"), ("axis", "axes"), ("vertex", "vertices"),
    ("chassis", "chassis"), ("series", "series"), ("apparatus", "apparatus"),
)  # fmt: skip
"""Ends of names of things on machines, and their plurals."""


def plural(name: str) -> str:
    """Return the plural of an English name: `cover screws`, `bushes`, `assemblies`, `knives`, `nuts of the cover`."""
    head, of, rest = name.partition(" of ")
    if of and head:
        return f"{plural(head)}{of}{rest}"
    for one, several in _IRREGULAR:
        if name.lower().endswith(one):
            kept = len(name) - len(one)
            return name[: kept + 1] + several[1:]
    if name.endswith(("s", "x", "ch", "sh", "z")):
        return f"{name}es"
    if name.endswith("y") and name[-2:-1] not in "aeiou":
        return f"{name[:-1]}ies"
    return f"{name}s"


_HEAD = Late(r" (?:of|in|on|at|for|from|to|between|under|behind|with|without|by|near|over|around|through)(?= )")
"""What begins that part of a name which does not tell how many there are: `play of the bearings`, `oil in the legs`."""


def is_plural(name: str) -> bool:
    """Tell whether an English name is a plural: `wheel chocks`, `nuts of the cover`, `gear teeth`."""
    head = _HEAD.split(name.lower())[0]
    if any(head.endswith(several) and several != one for one, several in _IRREGULAR):
        return True
    return head.endswith("s") and not head.endswith(("ss", "us", "is", "gas", "bias", "canvas", "lens", "series"))


MOST_LISTED = 30
"""Words that a list in a sentence has at most."""


def listed(words: Sequence[str], last: str = "and") -> str:
    """Return words as a list in a sentence: `a, b and c`; of very many, the first ones: `a, b, … and 300 others`."""
    if len(words) < 2:
        return "".join(words)
    if len(words) > MOST_LISTED:
        shown = words[: MOST_LISTED - 2]
        return f"{', '.join(shown)} {last} {len(words) - len(shown)} others"
    return f"{', '.join(words[:-1])} {last} {words[-1]}"


def counted_word(count: int, word: str) -> str:
    """Return a number in digits with its word: `1 job`, `363 steps`."""
    return f"{count} {word if count == 1 else plural(word)}"


def unbroken(fact: str) -> str:
    """Keep a number and its unit, and the size of a thread, on one line: `hex 10 mm`, `M6 x 1.0`."""
    apart = r"(?<=[0-9]) (?=(mm|in)\b)|(?<=hex) (?=[0-9])|(?<=[0-9]) (?=x [0-9])|(?<=[0-9] x) (?=[0-9])"
    return re.sub(apart, "\N{NO-BREAK SPACE}", fact)


def with_article(words: str) -> str:
    """Return words with `a` or `an` before them, by their sound: an 8 mm hexagon, an oil seal, a unit."""
    return f"an {words}" if _VOWEL.match(words) else f"a {words}"
