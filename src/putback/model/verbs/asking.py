"""Looking, measuring and testing: what has an answer."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple, Protocol

from putback.model.machine import AnyThing, Machine, Part
from putback.model.reading import Reader
from putback.model.said import Limit, Said
from putback.model.states import MarkState
from putback.model.terms import Ref
from putback.model.verb import ANY_THING, MEASURABLE, Mention, Verb, Way
from putback.model.verbs.marking import marked
from putback.source.tree import Mapping, Node


class Proving(Protocol):
    """A test that may say what it proves."""

    @property
    def proves(self) -> tuple[Ref, ...]:
        """The things."""


class Inspect(NamedTuple):
    """Look at things."""

    things: tuple[Ref, ...]
    for_: tuple[str, ...] = ()


class Measure(NamedTuple):
    """Measure something against a limit, once or at several places."""

    things: tuple[Ref, ...]
    limit: Limit | None = None
    readings: tuple[Said, ...] | int = ()
    judge: str = "each"
    difference: Limit | None = None
    proves: tuple[Ref, ...] = ()


class Verify(NamedTuple):
    """Test something against a limit: the verb `check`."""

    things: tuple[Ref, ...]
    limit: Limit | None = None
    proves: tuple[Ref, ...] = ()


def proved(action: Proving, _machine: Machine | None) -> Iterator[Mention]:
    """Yield what a test says it proves."""
    for ref in action.proves:
        yield Mention(ref, MEASURABLE, "proves")


def _measured(thing: AnyThing | None, mark: MarkState, by: int) -> MarkState:
    # How worn it is tells nothing of where it stands.
    return mark if isinstance(thing, Part) and thing.wear else marked(thing, mark, by)


def _read_inspect(reader: Reader, value: Node, node: Mapping) -> Inspect:
    return Inspect(reader.refs(value), reader.texts(node.get("for")))


def _read_measure(reader: Reader, value: Node, node: Mapping) -> Measure:
    things, readings = reader.refs(value), node.get("readings")
    words = things[0].name if things else ""
    return Measure(
        things,
        reader.limit_or_words(node.get("limit"), things, strict=True),
        reader.whole(readings) or reader.texts(readings),
        reader.text(node.get("judge")) or "each",
        reader.limit(node.get("difference"), words, words),
        reader.refs(node.get("proves")),
    )


def _read_check(reader: Reader, value: Node, node: Mapping) -> Verify:
    things = reader.refs(value)
    limit = reader.limit_or_words(node.get("limit"), things, strict=False)
    return Verify(things, limit, reader.refs(node.get("proves")))


INSPECT = Verb(
    name="inspect",
    arguments=Inspect,
    read=_read_inspect,
    takes=ANY_THING,
    words=True,
    other_words=("examine", "look", "look-at", "observe"),
    loose_words=("feel", "listen", "see", "view", "watch"),
    asks=True,
    way=Way.REACH,
    reaches=True,
)

MEASURE = Verb(
    name="measure",
    arguments=Measure,
    read=_read_measure,
    takes=MEASURABLE,
    words=True,
    mentions=proved,
    other_words=("gauge", "meter", "weigh"),
    loose_words=("gage", "read"),
    asks=True,
    sorts=True,
    way=Way.REACH,
    reaches=True,
    proves=True,
    settles=True,
    position=_measured,
)

CHECK = Verb(
    name="check",
    arguments=Verify,
    read=_read_check,
    takes=MEASURABLE,
    words=True,
    mentions=proved,
    other_words=("confirm", "ensure", "test", "try", "verify"),
    asks=True,
    way=Way.REACH,
    proves=True,
    settles=True,
)
