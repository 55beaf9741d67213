"""What an author's own text leaves out, said after it in English."""

from __future__ import annotations

import re
from collections.abc import Collection
from typing import assert_never

from putback.joints.friction import Film
from putback.joints.patterns import Rule
from putback.model.called import named
from putback.model.job import Step
from putback.model.machine import Fastener
from putback.prose.hands import ANTICLOCKWISE, CLOCKWISE
from putback.source.grammar import number
from putback.units import Quantity
from putback.words.english.checking import in_words
from putback.words.english.clauses import one_of
from putback.words.english.sizes import drive_said
from putback.words.english.steps import Steps
from putback.words.english.tightening import threads, times
from putback.words.fact import Fact, FactKind
from putback.words.facts import facts_of, left_unsaid
from putback.words.pieces import Phrase, Piece, Role, phrase
from putback.words.stated import as_words, states_quantity, states_size, states_words

_NUMBERS = {number(value): value for value in range(1, 13)} | {
    word: value
    for value, word in enumerate(
        ("thirteen", "fourteen", "fifteen", "sixteen", "seventeen", "eighteen", "nineteen", "twenty"), 13
    )
} | {"thirty": 30, "forty": 40, "fifty": 50, "sixty": 60, "ninety": 90, "hundred": 100}  # fmt: skip
_NUMBER_WORDS = re.compile(rf"\b({'|'.join(_NUMBERS)})\b", re.IGNORECASE)
_TWO = re.compile(r"\b(both|pair|either|two)\b", re.IGNORECASE)
_ONE = re.compile(r"\b(one|a single|each|1)\b", re.IGNORECASE)
_GENTLY = re.compile(
    r"\b(?:half|quarter|part) (?:of )?(?:a )?turn\b|\blittle (?:by little|at a time)\b|"
    r"\bbit by bit\b|\bin stages\b|\bevenly\b",
    re.IGNORECASE,
)


_HELD = re.compile(r"\b(?:counter-?)?h(?:o|e)ld(?:ing|s)?\b", re.IGNORECASE)
_ORDERS = {
    Rule.CROSSWISE: ("crosswise", "cross", "diagonal"),
    Rule.FROM_THE_MIDDLE: ("from the middle", "from the centre", "from the center"),
    Rule.IN_TURN: ("in turn", "one after"),
}
"""Beginnings of words that say an order."""
_FILMS = {
    Film.DRY: ("dry",),
    Film.OILED: ("oil",),
    Film.GREASED: ("greas",),
    Film.WAXED: ("wax",),
    Film.ANTI_SEIZE: ("anti-seize", "antiseize"),
    Film.MOLY: ("moly", "mos2", "mos₂"),
    Film.AS_RECEIVED: ("as received", "as delivered", "untreated"),
    Film.THREAD_LOCKER: ("thread-lock", "thread lock", "threadlock", "locking"),
    Film.SEALANT: ("sealant", "sealing compound"),
}
"""Beginnings of words that say the state of a thread."""


class Saying(Steps):
    """Sentences of steps: the author's own, or made ones; and nothing that a step must say is lost."""

    def step(self, step: Step, stays_in: Collection[str] = ()) -> Phrase:
        """Return the sentence of a step: made from verb and facts, or the author's own, and what it leaves out.

        Of fasteners that stay in, the state of the threads is not said: nobody sees them.
        """
        if not step.text:
            return self.generated(step, stays_in)
        missing = left_unsaid(self.missing(step, step.text), step, stays_in)
        if any(fact.kind is FactKind.TORQUE for fact in missing):
            return self.said(step.text, self.generated(step, stays_in))
        if not missing:
            return phrase(step.text)
        return self.said(step.text, self.in_short(missing))

    def missing(self, step: Step, text: str) -> list[Fact]:
        """Return the facts of a step that a text does not state."""
        missing = [fact for fact in facts_of(step, self.things, self.library) if not self.states(text, fact)]
        if self._tells_of_one(step, text):
            missing = [fact for fact in missing if fact != Fact(FactKind.COUNT, 1)]
        return missing

    def _tells_of_one(self, step: Step, text: str) -> bool:
        """Tell whether a text speaks of one piece: then it does not name several."""
        groups = [thing for ref in step.things if isinstance(thing := self.things.get(ref.name), Fastener)]
        words = " ".join(re.findall(r"\w+", text.lower()))
        return not any(" ".join(re.findall(r"\w+", named(group, 2).lower())).split()[-1] in words for group in groups)

    def states(self, text: str, fact: Fact) -> bool:
        """Tell whether a text states a fact: values are compared, in digits or in words."""
        match fact.kind, fact.value:
            case FactKind.ANGLE | FactKind.TORQUE, Quantity() as angle if states_words(text, self.turned(angle)):
                return True
            case _, Quantity() as quantity:
                digits = _NUMBER_WORDS.sub(lambda found: str(_NUMBERS[found[1].lower()]), text)
                return states_quantity(text, quantity) or states_quantity(digits, quantity)
            case ((FactKind.COUNT | FactKind.PEOPLE), int() as count):
                return _states_count(text, count)
            case FactKind.SIZE, str() as size:
                return states_size(text, size)
            case FactKind.TURN, str() as way:
                found = {"clockwise": CLOCKWISE, "anticlockwise": ANTICLOCKWISE}.get(way)
                return states_words(text, way) if found is None else found.search(text) is not None
            case FactKind.UNSCREWED, _:
                return CLOCKWISE.search(text) is not None
            case FactKind.SCREWED_IN, _:
                return ANTICLOCKWISE.search(text) is not None
            case FactKind.HOLD, _:
                return _HELD.search(text) is not None
            case FactKind.GENTLY, _:
                return _GENTLY.search(text) is not None
            case FactKind.ROUNDS, int() as rounds:
                return _states_count(text, rounds) or (rounds == 2 and "twice" in text.lower())
            case FactKind.FILM, str() as film:
                return any(stem in text.lower() for stem in _FILMS[Film(film)])
            case FactKind.ORDER, str() as key:
                return self._states_order(text, key)
            case _, value:
                return states_words(text, as_words(value))

    def _states_order(self, text: str, key: str) -> bool:
        thing = self.things.get(key)
        if not isinstance(thing, Fastener):
            return True
        stems = _ORDERS.get(thing.rule, ()) if thing.rule else ()
        return states_words(text, self.order(thing) or "") or any(stem in text.lower() for stem in stems)

    def in_short(self, facts: list[Fact]) -> Phrase:
        """`Six pieces, M6 x 1.0, part number TD-3102.`"""
        parts: list[Phrase] = [self.one_fact(fact) for fact in facts if fact.kind is not FactKind.SEEK]
        seek = [as_words(fact.value) for fact in facts if fact.kind is FactKind.SEEK]
        if seek:
            parts.append(phrase(f"look for {one_of(seek)}"))
        result: Phrase = ()
        for part in parts:
            result = phrase(*result, ", " if result else None, part)
        first, *rest = result
        start = first._replace(text=f"{first.text[:1].upper()}{first.text[1:]}")
        end = "" if result[-1].text.endswith((".", "!", "?")) else "."
        return phrase(start, *rest, end)

    def one_fact(self, fact: Fact) -> Phrase:
        """Return one fact in a few words."""
        value = fact.value
        shown = self.quantity(value) if isinstance(value, Quantity) else as_words(value)
        match fact.kind:
            case FactKind.TORQUE:
                return (Piece(shown, Role.TORQUE),)
            case FactKind.COUNT:
                return phrase("one piece" if value == 1 else f"{_count(value)} pieces")
            case FactKind.PEOPLE:
                return phrase("one person" if value == 1 else f"{_count(value)} people")
            case FactKind.NUMBER:
                return phrase(f"part number {shown}")
            case FactKind.TURN:
                return phrase(self.turning(shown))
            case FactKind.UNSCREWED | FactKind.SCREWED_IN:
                return phrase(self.left_hand(shown, out=fact.kind is FactKind.UNSCREWED))
            case FactKind.GENTLY:
                return phrase("in the opposite order, half a turn at a time, until all are loose")
            case FactKind.HOLD:
                key, _, pieces = shown.rpartition(" ")
                held = self.things.get(key)
                return phrase(f"hold the {named(held, int(pieces)) if held else key} as you do so")
            case FactKind.ORDER:
                thing = self.things.get(shown)
                return phrase((self.order(thing) if isinstance(thing, Fastener) else None) or shown)
            case FactKind.ROUNDS:
                return phrase(f"the last stage {times(value) if isinstance(value, int) else shown} round")
            case FactKind.FILM:
                return phrase(threads(Film(shown)))
            case FactKind.WHOLE:
                return phrase(f"{shown} in all")
            case FactKind.SPEED:
                return phrase(f"at {shown}")
            case FactKind.TIME:
                return phrase(f"for {shown}")
            case FactKind.UNTIL:
                return phrase(f"until {shown}")
            case FactKind.SEEN_FROM:
                return phrase(f"seen from {self.place(shown)}")
            case FactKind.ANGLE:
                return phrase(self.turned(value) if isinstance(value, Quantity) else shown)
            case FactKind.AGAINST:
                return phrase(f"against {self.place(shown)}")
            case FactKind.LIMIT if isinstance(value, Quantity):
                return phrase(f"limit: {in_words(shown, value)}")
            case FactKind.LIMIT:
                return phrase(f"acceptable: {shown}")
            case FactKind.DIFFERENCE:
                told = in_words(shown, value) if isinstance(value, Quantity) else shown
                return phrase(f"difference of the readings: {told}")
            case FactKind.SIZE:
                return phrase(drive_said(shown))
            case FactKind.SEEK | FactKind.GRADE | FactKind.AMOUNT | FactKind.MASS:
                return phrase(shown)
            case FactKind.BY_HAND | FactKind.WORDS:
                return phrase(shown)
            case _:
                assert_never(fact.kind)


def _count(value: object) -> str:
    return number(value) if isinstance(value, int) else str(value)


_NOT_A_SIZE = r"(?![\w.,/-]*\d)(?!\s?(?:(?:mm|cm|m|in|ft|N|l|ml|kg|g|min|s|h|x)\b|[°%]))"
"""A number with a unit, or within a size, is none of pieces."""


def _states_count(text: str, count: int) -> bool:
    words = _NUMBER_WORDS.sub(lambda found: str(_NUMBERS[found[1].lower()]), text)
    if (count == 1 and _ONE.search(text)) or (count == 2 and _TWO.search(text)):
        return True
    # A number with a unit, or within a size, is none of pieces.
    return (
        re.search(
            rf"(?<![\w.,/-]){count}(?![\w.,/-]*\d)(?!\s?(?:(?:mm|cm|m|in|ft|N|l|ml|kg|g|min|s|h|x)\b|[°%]))", words
        )
        is not None
    )
