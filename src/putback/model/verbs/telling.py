"""What is told and not done: waiting, safety messages, notes, and the end of a job."""

from __future__ import annotations

from typing import NamedTuple

from putback.model.reading import Reader
from putback.model.terms import Ref
from putback.model.verb import Verb
from putback.source.tree import Mapping, Node
from putback.units import Kind, Quantity


class Wait(NamedTuple):
    """Wait."""

    duration: Quantity | None
    until: str | None = None

    @property
    def things(self) -> tuple[Ref, ...]:
        """Its value names nothing."""
        return ()


class Caution(NamedTuple):
    """Show safety messages."""

    things: tuple[Ref, ...]


class Note(NamedTuple):
    """Say something."""

    words: str

    @property
    def things(self) -> tuple[Ref, ...]:
        """Its value names nothing."""
        return ()


class Stop(NamedTuple):
    """End the job here."""

    words: str

    @property
    def things(self) -> tuple[Ref, ...]:
        """Its value names nothing."""
        return ()


def _read_wait(reader: Reader, value: Node, node: Mapping) -> Wait:
    return Wait(reader.quantity(value, Kind.TIME), reader.text(node.get("until")))


def _read_caution(reader: Reader, value: Node, _node: Mapping) -> Caution:
    return Caution(reader.refs(value))


def _read_note(reader: Reader, value: Node, _node: Mapping) -> Note:
    return Note(reader.text(value) or "")


def _read_stop(reader: Reader, value: Node, _node: Mapping) -> Stop:
    return Stop(reader.text(value) or "")


WAIT = Verb(
    name="wait",
    arguments=Wait,
    read=_read_wait,
    other_words=("cool", "pause", "rest"),
    loose_words=("leave", "let-stand", "soak"),
)
CAUTION = Verb(
    name="caution",
    arguments=Caution,
    read=_read_caution,
    takes=("caution",),
    other_words=("beware", "danger", "notice", "warn", "warning"),
    loose_words=("attention", "safety"),
)
NOTE = Verb(name="note", arguments=Note, read=_read_note, other_words=("comment", "hint", "remark", "tip"))
STOP = Verb(name="stop", arguments=Stop, read=_read_stop, other_words=("abort", "end", "finish"))
