"""What a sentence is made of."""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import Enum
from typing import NamedTuple, TypeAlias

_BLANKS = re.compile(r"[ \t\n\r\f\v]+")


class Role(Enum):
    """What a piece of a sentence is."""

    WORDS = "words"
    THING = "thing"
    """A thing of the machine, by its key."""
    TORQUE = "torque"
    """A torque; it stands out."""


class Piece(NamedTuple):
    """A run of words with one role."""

    text: str
    """The words."""
    role: Role = Role.WORDS
    """What they are."""
    key: str | None = None
    """The name of the thing in the machine file."""


Phrase: TypeAlias = tuple[Piece, ...]
"""A sentence, in pieces."""


def phrase(*pieces: str | Piece | Phrase | None) -> Phrase:
    """Join words and pieces to one phrase; None is left out."""
    result: list[Piece] = []
    for piece in pieces:
        if isinstance(piece, str):
            result.append(Piece(piece))
        elif isinstance(piece, Piece):
            result.append(piece)
        elif piece is not None:
            result += piece
    return tuple(piece for piece in result if piece.text)


def on_one_line(words: str) -> str:
    """Return words with single blanks between them; what must not be parted stays so."""
    return _BLANKS.sub(" ", words).strip(" ")


def as_text(pieces: Iterable[Piece]) -> str:
    """Return the words alone."""
    return "".join(piece.text for piece in pieces)
