"""Times that texts state and that must agree: how soon something comes, and how long a hot machine must stand."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.model.job import Sequence
from putback.model.library import Library, SafetyMessage
from putback.model.said import Limit, Said
from putback.model.verbs.asking import Verify
from putback.model.verbs.telling import Caution
from putback.prose.aims import sentences
from putback.prose.contexts import Context, Contradiction
from putback.prose.stated_amounts import StatedAmount, amounts_in
from putback.source.late import Late
from putback.source.quoting import quote
from putback.units import Kind, si


class Stated(NamedTuple):
    """A time that something takes, with the words for it."""

    words: frozenset[str]
    """What it is about."""
    time: float
    """In seconds."""
    said: str
    """As it is written."""
    limit: Limit | None = None
    """The limit that states it; None for a message."""


_AN_HOUR = Late(r"(?<!half )(?<!half)\ban (?=hour\b)", re.IGNORECASE)
_A_MINUTE = Late(r"\ba (?=minute\b|second\b)", re.IGNORECASE)
_SOON = Late(r"\b(?:within|in less than|in under) $", re.IGNORECASE)
_MISSING = Late(r"\b(?:no|without) (?P<what>[a-z]{3,})\b[^.;:]{0,40}\b(?:within|after|for|in) $", re.IGNORECASE)
_HOT = Late(r"\bcool(?: down| off)? for\b|\bhot for\b")
_HINTS = Late(
    r"\b(?:stood|cooled|been off)\b|\b(?:no|without) [a-z]+\b[^.;:]{0,40}\b(?:within|after|for|in) ", re.IGNORECASE
)
_WORD = Late(r"[a-z]{4,}")
_WHOLE = r"(?:engine|set|motor|machine|muffler|silencer|exhaust(?: \w+)?)"
_COOLS = Late(
    rf"\b(?:let|leave) the {_WHOLE}\b(?: and [\w ]{{1,30}})?(?: to)? cool(?: down| off)? for (?:at least |about )?$"
    rf"|\b{_WHOLE}\b[^.;:]{{0,40}} (?:stays?|remains?|is|are) hot for (?:at least |about |up to )?$",
    re.IGNORECASE,
)
_STOOD = Late(
    rf"\b{_WHOLE}\b[^.;:]{{0,60}} (?:has|have) (?:stood|cooled|been off)(?: still| down)? for (?:at least |about )?$",
    re.IGNORECASE,
)


class Times:
    """What checks and messages of a guide say of times."""

    def __init__(self, sequences: Iterable[Sequence], library: Library) -> None:
        self.limits: list[Stated] = []
        self.cooling: list[Stated] = []
        self.messages: dict[str, SafetyMessage] = {}
        for sequence in sequences:
            for step in sequence.steps():
                action = step.action
                if isinstance(action, Verify) and action.limit and not action.limit.quantity:
                    self._learn_limit(action.limit)
                if isinstance(action, Caution):
                    self.messages |= {
                        ref.name: library.cautions[ref.name] for ref in action.things if ref.name in library.cautions
                    }
        for message in self.messages.values():
            for _, said in message.sentences:
                self._learn_cooling(said)

    def learn(self, context: Context) -> None:
        """Note what a text says of how long something stays hot, for those that come to compare."""
        self._learn_cooling(context.text)

    def _learn_limit(self, limit: Limit) -> None:
        for amount in _times(limit.text):
            if _SOON.search(limit.text, 0, amount.start):
                words = frozenset(_WORD.ready.findall(limit.text[: amount.start].lower())) - {"within", "less", "than"}
                said = limit.text[amount.start : amount.end]
                self.limits.append(Stated(words, _seconds(amount), said, limit))

    def _learn_cooling(self, text: str) -> None:
        for amount in _times(text) if _HOT.search(text) else ():
            if _COOLS.search(text, 0, amount.start):
                self.cooling.append(Stated(frozenset(), _seconds(amount), text[amount.start : amount.end]))

    def wrong(self, context: Context) -> Iterator[Contradiction]:
        """Yield the times of a text that a limit, or a message, contradicts."""
        if context.field in ("hazard", "consequence") or not _HINTS.search(context.text):
            return
        for amount in _times(context.text):
            said = context.text[amount.start : amount.end]
            if other := self._missed(context.text, amount):
                message = f"{quote(said)} here, but a limit says {quote(other.limit.text)}" if other.limit else ""
                yield Contradiction(context, amount.start, amount.end, message, f"write {quote(other.said)}")
            elif self.cooling and _STOOD.search(context.text, 0, amount.start):
                longest = max(self.cooling, key=lambda stated: stated.time)
                if _seconds(amount) < longest.time:
                    message = f"{quote(said)} here, but elsewhere it is hot for {quote(longest.said)}"
                    yield Contradiction(context, amount.start, amount.end, message, f"write {quote(longest.said)}")

    def _missed(self, text: str, amount: StatedAmount) -> Stated | None:
        """Return the limit that says another time for what is missing in a sentence: `no water has come after 60 s`."""
        start = next((each.start for each in sentences(text) if each.start <= amount.start < each.end), 0)
        found = _MISSING.search(text, start, amount.start)
        alike = [stated for stated in self.limits if found and found["what"].lower() in stated.words]
        if not alike or any(abs(stated.time - _seconds(amount)) < 0.5 for stated in alike):
            return None
        return alike[0]

    def of_library(self, own: str) -> Iterator[tuple[Said, str]]:
        """Yield limits that a message of the library contradicts, and what that says: it serves other guides too."""
        for name, message in self.messages.items() if self.limits else ():
            for key, said in message.sentences if not message.span.path.startswith(own) else ():
                for amount in _times(said) if key == "avoid" else ():
                    other = self._missed(said, amount)
                    if other and other.limit:
                        yield other.limit.text, f"the message '{name}' says {said[amount.start : amount.end]}"


def _times(text: str) -> list[StatedAmount]:
    if "our" in text or "minute" in text or "second" in text:
        text = _A_MINUTE.sub("1 ", _AN_HOUR.sub("01 ", text))
    return [amount for amount in amounts_in(text) if amount.quantity.kind is Kind.TIME]


def _seconds(amount: StatedAmount) -> float:
    return float(si(amount.quantity)[0] or 0)
