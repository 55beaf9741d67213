"""Says phrases and labels in a language that has a catalogue, besides what `putback.telling` says."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from enum import Enum
from functools import cache
from typing import Any

from putback.telling import Message, Teller, Translatable, catalogue_for, in_parts
from putback.words.english.labels import LABELS
from putback.words.labels import Labels
from putback.words.pieces import Phrase, Piece, phrase

__all__ = ["Message", "Telling", "Translatable", "relabelled", "telling_for"]


class Telling(Teller):
    """What a language says, in phrases too: what is filled in keeps its role."""

    def say_phrase(self, context: str, text: str, /, **fields: str | Piece | Phrase) -> Phrase:
        """Return a message as a phrase."""
        return _as_phrase(self.pattern(Message(context, text)), fields)

    def say_count_phrase(
        self, context: str, one: str, many: str, count: int, /, **fields: str | Piece | Phrase
    ) -> Phrase:
        """Return a message about a number of pieces as a phrase; the number is its field `count`."""
        return _as_phrase(self.pattern(Message(context, one, many), count), fields | {"count": self.number(count)})

    def told_phrase(self, message: Message, /, **fields: str | Piece | Phrase) -> Phrase:
        """Return a message that a table has as a phrase."""
        return _as_phrase(self.pattern(message), fields)

    def labels(self) -> Labels:
        """Return all labels."""
        return _labels(self)


def _as_phrase(text: str, fields: dict[str, Any]) -> Phrase:
    return phrase(*(fields[part] if is_field else part for is_field, part in in_parts(text)))


@cache
def telling_for(tag: str) -> Telling:
    """Return what says messages in a language; in English, where there is no catalogue."""
    return Telling(tag, catalogue_for(tag))


@cache
def _labels(telling: Telling) -> Labels:
    found: Labels = relabelled(LABELS, "label", lambda context, text: telling.pattern(Message(context, text)))
    return found


def relabelled(labels: Any, context: str, tell: Callable[[str, str], str]) -> Any:
    """Return labels with each text as `tell` says it; it is given the text and its context, `label.job.tools`.

    What is one of several has its number behind, from 1, or its name: `label.safety.signals.danger`.
    """
    match labels:
        case Enum():
            return labels
        case str():
            return tell(context, labels) if any(map(str.isalpha, labels)) else labels
        case [Enum() as name, str() as text]:
            return (name, relabelled(text, f"{context}.{name.value}", tell))
        case tuple():
            pairs = all(isinstance(each, tuple) for each in labels)
            names = [context if pairs else f"{context}.{number}" for number, _ in enumerate(labels, 1)]
            return tuple(relabelled(each, name, tell) for each, name in zip(labels, names, strict=True))
        case _ if is_dataclass(labels) and not isinstance(labels, type):
            told = {
                each.name: relabelled(getattr(labels, each.name), f"{context}.{each.name}", tell)
                for each in fields(labels)
            }
            return replace(labels, **told)
        case _:
            return labels
