"""How keys and values of a file are called in a message."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Collection, Iterable
from typing import Any, TypeAlias

from putback.source.quoting import quote, short
from putback.source.tree import Listing, Mapping, Node, Text

Place: TypeAlias = tuple[str | int, ...]
"""The keys and indexes that lead from the root of a file to a value."""


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
        case "outcomes":
            return f"outcome {last + 1}"
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


def as_name(written: str) -> str:
    """Return the name that a text could be; empty when nothing of it can stand in one."""
    plain = unicodedata.normalize("NFKD", written).encode("ascii", "ignore").decode()
    return "-".join(re.findall("[a-z0-9]+", plain.casefold()))


def no_name(written: str) -> str:
    """Return the message for what is no name, with the name that it could be."""
    better = as_name(written)
    advice = f": {quote(better)}" if better else ""
    return f"{quote(written)} is not a valid name; use lower-case letters, digits and hyphens{advice}"


def with_colon(written: str, keys: Collection[str]) -> str | None:
    """Return the advice for a text that is a key and its value without a colon, or without a blank after it."""
    parts = re.fullmatch(r"([a-z-]+)\s*[:\s]\s*(\S.*)", written, re.DOTALL)
    return f"write it as '{parts[1]}: {short(parts[2])}'" if parts and parts[1] in keys else None


def did_you_mean(word: str | None) -> str:
    """Return the end of a message that suggests a word; nothing when there is none."""
    return f"; did you mean '{word}'?" if word else ""


def verbs_are(verbs: Iterable[str]) -> str:
    """Return the hint that names all verbs."""
    return f"the verbs are {', '.join(verbs)}"


def wanted(key: str, schema: dict[str, Any]) -> str:
    """Return what a key that is missing must say, with an example of one word or value, in the words of its schema."""
    about: str = schema.get("description", "")
    if not about:
        return f"add '{key}'"
    example = next((each for each in schema.get("examples", ()) if isinstance(each, str)), None)
    said = f"{key}: {about[:1].lower()}{about[1:].rstrip('.')}"
    if not example:
        return said
    # What YAML would take for a sign of its own is shown in the quotes that it needs.
    return f"{said}, for example " + (f'"{example}"' if example[0] in "<>=" else example.rstrip("."))
