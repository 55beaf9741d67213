"""How keys and values of a file are called in a message."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterable
from typing import TypeAlias

from putback.load import Listing, Mapping, Node, Text

Place: TypeAlias = tuple[str | int, ...]
"""The keys and indexes that lead from the root of a file to a value."""

_LONGEST = 40
"""Characters of a value that a message quotes."""


def subject(place: Place) -> str:
    """Return what stands at a place: `'count'`, `step 3`, `item 2 of 'joins'`."""
    if not place:
        return "the file"
    last = place[-1]
    if isinstance(last, str):
        return quote(last)
    match place[-2] if len(place) > 1 else None:
        case "steps" | "otherwise":
            return f"step {last + 1}"
        case "sections":
            return f"section {last + 1}"
        case _:
            return f"item {last + 1} of {subject(place[:-1])}"


def shown(node: Node) -> str:
    """Return what was found: a text in quotes, a number as written, `a list`, `an empty mapping`."""
    match node:
        case Text(value=value):
            return quote(value) if isinstance(node.plain(), str) else short(value)
        case Listing(items=items):
            return "a list" if items else "an empty list"
        case Mapping(entries=entries):
            return "a mapping" if entries else "an empty mapping"


def no_name(written: str) -> str:
    """Return the message for what is no name, with the name that it could be."""
    plain = unicodedata.normalize("NFKD", written).encode("ascii", "ignore").decode()
    better = "-".join(re.findall("[a-z0-9]+", plain.casefold()))
    advice = f": {quote(better)}" if better else ""
    return f"{quote(written)} is no name; write it with lower-case letters, digits and hyphens{advice}"


def short(written: str) -> str:
    """Return a text on one line, cut when it is long."""
    line = " ".join(written.split())
    return line if len(line) <= _LONGEST else f"{line[: _LONGEST - 1]}…"


def quote(written: str) -> str:
    """Return a text in quotes, on one line, cut when it is long."""
    return f"'{short(written)}'"


def quoted(words: Iterable[str]) -> str:
    """Return words in quotes as a list in a sentence: `'a', 'b' and 'c'`."""
    shown = [quote(word) for word in words]
    return f"{', '.join(shown[:-1])} and {shown[-1]}" if len(shown) > 1 else "".join(shown)


def did_you_mean(word: str | None) -> str:
    """Return the end of a message that suggests a word; nothing when there is none."""
    return f"; did you mean '{word}'?" if word else ""
