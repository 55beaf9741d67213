"""Looking, measuring and testing: what has an answer."""

from __future__ import annotations

import re
from typing import NamedTuple

from putback.model.machine import AnyThing, Part
from putback.model.reading import Reader
from putback.model.states import MarkState
from putback.model.terms import Ref
from putback.model.verb import ANY_THING, Verb, Way
from putback.model.verbs.marking import marked
from putback.source.load import Mapping, Node, Text
from putback.units import QuantityError, parse_any


class Inspect(NamedTuple):
    """Look at things."""

    things: tuple[Ref, ...]
    for_: tuple[str, ...] = ()


class Measure(NamedTuple):
    """Measure something against a limit."""

    things: tuple[Ref, ...]
    limit: str | None = None


class Verify(NamedTuple):
    """Test something against a limit: the verb `check`."""

    things: tuple[Ref, ...]
    limit: str | None = None


def _measured(thing: AnyThing | None, mark: MarkState, by: int) -> MarkState:
    # How worn it is tells nothing of where it stands.
    return mark if isinstance(thing, Part) and thing.wear else marked(thing, mark, by)


_NUMBERS = re.compile(r"[<>=≤≥±~ ]*[0-9][0-9.,/ ]*([^\W\d_].*|[°%\"].*)?")


def _look_at_limit(reader: Reader, node: Node | None) -> None:
    """Note a limit that is a bare number, or a range that no quantity can be; words are a limit too."""
    if not isinstance(node, Text):
        return
    try:
        parse_any(node.value)
    except QuantityError as error:
        if error.bare or (".." in node.value and _NUMBERS.fullmatch(node.value)):
            reader.quantity(node)


def _read_inspect(reader: Reader, value: Node, node: Mapping) -> Inspect:
    return Inspect(reader.refs(value), reader.texts(node.get("for")))


def _read_measure(reader: Reader, value: Node, node: Mapping) -> Measure:
    _look_at_limit(reader, node.get("limit"))
    return Measure(reader.refs(value), reader.text(node.get("limit")))


def _read_check(reader: Reader, value: Node, node: Mapping) -> Verify:
    return Verify(reader.refs(value), reader.text(node.get("limit")))


INSPECT = Verb(
    name="inspect",
    arguments=Inspect,
    read=_read_inspect,
    takes=ANY_THING,
    words=True,
    other_words=("examine", "look", "look-at", "observe"),
    asks=True,
    way=Way.REACH,
    reaches=True,
)

MEASURE = Verb(
    name="measure",
    arguments=Measure,
    read=_read_measure,
    takes=ANY_THING,
    words=True,
    other_words=("gauge", "meter", "weigh"),
    asks=True,
    way=Way.REACH,
    reaches=True,
    proves=True,
    position=_measured,
)

CHECK = Verb(
    name="check",
    arguments=Verify,
    read=_read_check,
    takes=ANY_THING,
    words=True,
    other_words=("confirm", "ensure", "test", "try", "verify"),
    asks=True,
    way=Way.REACH,
    proves=True,
)
