"""How things are called in a sentence: counts, plurals, lists."""

from __future__ import annotations

import re
from collections.abc import Sequence

from putback.model.machine import AnyThing, Fastener

_NUMBERS = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
)  # fmt: skip


def number(count: int) -> str:
    """Return a count in words up to twelve, in digits beyond."""
    return _NUMBERS[count] if 0 <= count < len(_NUMBERS) else str(count)


def plural(name: str) -> str:
    """Return the regular plural of an English name: `cover screws`, `bushes`, `keys`, `assemblies`."""
    if name.endswith(("s", "x", "ch", "sh", "z")):
        return f"{name}es"
    if name.endswith("y") and name[-2:-1] not in "aeiou":
        return f"{name[:-1]}ies"
    return f"{name}s"


def named(thing: AnyThing, count: int | None = None) -> str:
    """Return a thing's name, in the plural when there are several: `impeller`, `cover screws`."""
    several = (thing.count if isinstance(thing, Fastener) else 1) if count is None else count
    return thing.name if several == 1 else (thing.plural or plural(thing.name))


def counted(thing: AnyThing, count: int | None = None) -> str:
    """Return a thing with its count: `six cover screws`; a single thing goes without one: `impeller`."""
    several = (thing.count if isinstance(thing, Fastener) else 1) if count is None else count
    return thing.name if several == 1 and _single(thing) else f"{number(several)} {named(thing, several)}"


def _single(thing: AnyThing) -> bool:
    return not isinstance(thing, Fastener) or thing.count == 1


def placed(thing: AnyThing, state: tuple[str, ...], *, as_: str) -> str:
    """Return where the named pieces are that are `tight`, `loose` or `out`: ` at front left and aft right`.

    Nothing when the pieces have no names, or when all of them are so.
    """
    if not isinstance(thing, Fastener) or not state or all(place == as_ for place in state):
        return ""
    found = [name.replace("-", " ") for name, place in zip(thing.positions, state, strict=False) if place == as_]
    return f" at {listed(found)}" if found else ""


def verb_s(thing: AnyThing | None, singular: str, plural_form: str, count: int | None = None) -> str:
    """Return the form of a verb that agrees with a thing: `comes`/`come`."""
    several = (thing.count if isinstance(thing, Fastener) else 1) if count is None else count
    return singular if several == 1 else plural_form


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


def title_of(thing: AnyThing) -> str:
    """Return a thing's name as a row or heading: `Cover screws`."""
    name = named(thing)
    return name[:1].upper() + name[1:]


def unbroken(fact: str) -> str:
    """Keep a number and its unit on one line: `hex 10 mm` has no-break spaces."""
    return re.sub(r"(?<=[0-9]) (?=(mm|in)\b)|(?<=hex) (?=[0-9])", "\N{NO-BREAK SPACE}", fact)
