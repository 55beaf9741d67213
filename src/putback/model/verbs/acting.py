"""Any other action, in words: what no verb says."""

from __future__ import annotations

from typing import NamedTuple

from putback.model.reading import Reader
from putback.model.terms import Ref
from putback.model.verb import ANY_THING, Verb, Way
from putback.source.tree import Mapping, Node


class Act(NamedTuple):
    """Do what the words say, to the things that it touches."""

    things: tuple[Ref, ...]
    words: str = ""
    on: tuple[Ref, ...] = ()
    """The things, as the file has them."""


def _read_act(reader: Reader, value: Node, node: Mapping) -> Act:
    on = reader.refs(node.get("on"))
    return Act(on, reader.text(value) or "", on)


ACT = Verb(
    name="act",
    arguments=Act,
    read=_read_act,
    takes=(*ANY_THING, "equipment"),
    better={"setting": "adjust", "consumable": "apply"},
    other_words=("action", "hold", "prime", "shake", "squeeze", "tie", "wedge"),
    loose_words=(
        "bend", "bleed", "cut", "drill", "file", "grind", "heat", "hone", "knock", "lap", "photograph",
        "pump", "push", "sand", "sketch", "straighten", "tap", "warm",
    ),
    way=Way.REACH,
    moves=True,
    reaches=True,
    shifts=True,
)  # fmt: skip
