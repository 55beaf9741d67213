"""Bringing a setting of the machine within its limit."""

from __future__ import annotations

from typing import NamedTuple

from putback.model.reading import Reader
from putback.model.said import Limit
from putback.model.terms import Ref
from putback.model.verb import Verb, Way
from putback.source.tree import Mapping, Node


class Adjust(NamedTuple):
    """Bring settings within their limit."""

    things: tuple[Ref, ...]
    limit: Limit | None = None


def _read_adjust(reader: Reader, value: Node, node: Mapping) -> Adjust:
    things = reader.refs(value)
    words = " ".join(ref.name for ref in things)
    return Adjust(things, reader.limit(node.get("limit"), words, words))


ADJUST = Verb(
    name="adjust",
    arguments=Adjust,
    read=_read_adjust,
    takes=("setting",),
    better={"part": "align", "line": "align", "control": "set"},
    other_words=("regulate", "reset", "tension", "trim", "tune"),
    way=Way.REACH,
    moves=True,
    reaches=True,
    shifts=True,
    settles=True,
)
