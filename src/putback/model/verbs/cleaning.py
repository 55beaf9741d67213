"""Cleaning things, and putting consumables on them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.model.machine import AnyThing, Fastener, Machine, Part
from putback.model.reading import Reader
from putback.model.terms import Ref
from putback.model.verb import ANY_THING, SOLID, Mention, Verb, Way, WayForth
from putback.source.tree import Mapping, Node


class Apply(NamedTuple):
    """Put a consumable on things."""

    things: tuple[Ref, ...]
    to: tuple[Ref, ...]
    to_new: bool = False
    """For the page: whether new ones go in, and not those that came out."""


class Clean(NamedTuple):
    """Clean things."""

    things: tuple[Ref, ...]
    with_: Ref | None = None


def made_ready(ref: Ref, thing: AnyThing | None, forth: WayForth) -> Iterator[Apply | Clean]:
    """Yield what is done before a thing goes back: what it sits on is cleaned, it is greased, its thread is coated."""
    for seat in forth.to_clean_before(ref.name):
        yield Clean((Ref(seat, ref.span),))
    if isinstance(thing, Part) and thing.lubricant:
        yield Apply((Ref(thing.lubricant.name, ref.span),), (ref,))
    if isinstance(thing, Fastener) and thing.compound:
        yield Apply((Ref(thing.compound.name, ref.span),), (ref,))


def _to(action: Apply, _machine: Machine | None) -> Iterator[Mention]:
    for ref in action.to:
        yield Mention(ref, SOLID, "to")


def _with(action: Clean, _machine: Machine | None) -> Iterator[Mention]:
    if action.with_:
        yield Mention(action.with_, ("consumable",), "with")


def _read_apply(reader: Reader, value: Node, node: Mapping) -> Apply:
    return Apply(reader.refs(value), reader.refs(node.get("to")))


def _read_clean(reader: Reader, value: Node, node: Mapping) -> Clean:
    return Clean(reader.refs(value), reader.ref(node.get("with")))


APPLY = Verb(
    name="apply",
    arguments=Apply,
    read=_read_apply,
    takes=("consumable",),
    other_words=("coat", "grease", "lubricate", "oil", "smear", "spray"),
    loose_words=("dab", "lube", "pack", "paint"),
    mentions=_to,
    way=Way.REACH,
    wets=True,
    reaches=True,
)

CLEAN = Verb(
    name="clean",
    arguments=Clean,
    read=_read_clean,
    takes=ANY_THING,
    words=True,
    other_words=("blow-out", "brush", "degrease", "flush", "rinse", "wash", "wipe"),
    loose_words=("blow", "blow-off", "dry", "polish", "scrape"),
    mentions=_with,
    way=Way.REACH,
    wets=True,
    reaches=True,
)
