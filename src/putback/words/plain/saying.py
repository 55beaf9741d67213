"""What an author's own text leaves out, said after it in flat clauses."""

from __future__ import annotations

import re
from collections.abc import Collection
from functools import cached_property
from typing import assert_never

from putback.joints.friction import Film
from putback.model.job import Step
from putback.model.machine import Fastener
from putback.model.said import source_of
from putback.units import Quantity
from putback.words.english import English
from putback.words.fact import Fact, FactKind
from putback.words.facts import facts_of, left_unsaid
from putback.words.pieces import Phrase, as_text, phrase
from putback.words.plain import stems
from putback.words.plain.runs import capital, in_a_row
from putback.words.plain.source import as_written
from putback.words.plain.steps import PlainSteps
from putback.words.plain.turns import FILMS
from putback.words.stated import as_words, states_words
from putback.words.telling import Message


class PlainSaying(PlainSteps):
    """Sentences of steps: the author's own, or made ones; and nothing that a step must say is lost."""

    def step(self, step: Step, stays_in: Collection[str] = ()) -> Phrase:
        """Return the sentence of a step: the author's own text and what it leaves out, or a made one."""
        if not step.text:
            return self.generated(step, stays_in)
        missing = left_unsaid(self.missing(step, step.text), step, stays_in)
        if any(fact.kind is FactKind.TORQUE for fact in missing):
            return self.said(step.text, self.generated(step, stays_in))
        return self.said(step.text, self.in_short(missing)) if missing else phrase(step.text)

    # What a text states: judged on what the author wrote.

    def missing(self, step: Step, text: str) -> list[Fact]:
        """Return the facts of a step that a text does not state."""
        found = [fact for fact in facts_of(step, self.things, self.library) if not self.states(text, fact)]
        if Fact(FactKind.COUNT, 1) in found and not self._names_several(step, text):
            found.remove(Fact(FactKind.COUNT, 1))
        return found

    def _names_several(self, step: Step, text: str) -> bool:
        """Tell whether a text names a group in the plural."""
        groups = [thing for ref in step.things if isinstance(thing := self.things.get(ref.name), Fastener)]
        plurals = [group.plural or f"{group.name}s" for group in groups]
        words = re.findall(r"\w+", text.lower())
        return any(plural.lower().split()[-1] in words for plural in plurals)

    def states(self, text: str, fact: Fact) -> bool:
        """Tell whether a text states a fact: in the words of this language, or the author in his own."""
        if self._states_here(text, fact):
            return True
        if fact.kind is FactKind.ORDER and isinstance(thing := self.things.get(str(fact.value)), Fastener):
            own = source_of(thing.order or "")
            if own and states_words(source_of(text), own):
                return True
        value = source_of(fact.value) if isinstance(fact.value, str) else fact.value
        return self._as_written.states(source_of(text), Fact(fact.kind, value))

    @cached_property
    def _as_written(self) -> English:
        """What reads an author's English; its things have the names that the author gave them."""
        english = English(self.opened)
        english.things = {key: as_written(thing) for key, thing in self.things.items()}
        return english

    def _states_here(self, text: str, fact: Fact) -> bool:
        """Tell whether a text states a fact in words of this language; figures are compared elsewhere."""
        match fact.kind, fact.value:
            case ((FactKind.COUNT | FactKind.PEOPLE | FactKind.ROUNDS), int() as count):
                return self._counts(text, count)
            case ((FactKind.TORQUE | FactKind.ANGLE), Quantity() as angle) if angle.unit == "turn":
                return states_words(text, self.turned(angle))
            case FactKind.FILM, str() as film:
                return self._has(text, stems.FILMS[Film(film)])
            case FactKind.ORDER, str() as key:
                thing = self.things.get(key)
                if not isinstance(thing, Fastener):
                    return True
                by_rule = thing.rule is not None and self._has(text, stems.ORDERS[thing.rule])
                return by_rule or states_words(text, self.order(thing) or "")
            case FactKind.TURN, str() as way:
                return self._turns(text, way)
            case FactKind.UNSCREWED, _:
                return self._turns(text, "clockwise")
            case FactKind.SCREWED_IN, _:
                return self._turns(text, "anticlockwise")
            case FactKind.HOLD, _:
                return self._has(text, stems.HELD)
            case FactKind.GENTLY, _:
                return self._has(text, stems.GENTLY)
            case FactKind.SIZE, str() as size:
                return states_words(text, self.drive_said(size))
            case _, str() as words:
                return states_words(text, words)
            case _:
                return False

    def _has(self, text: str, message: Message) -> bool:
        return any(re.search(rf"\b{re.escape(stem)}", text.lower()) for stem in self._stems(message))

    def _turns(self, text: str, way: str) -> bool:
        """Tell whether a text has a way to turn, and not only within the word for the other one."""
        mine, other = (stems.CLOCKWISE, stems.ANTICLOCKWISE)[:: 1 if way == "clockwise" else -1]
        left = text.lower()
        for word in sorted(self._stems(other), key=len, reverse=True):
            left = left if any(word in stem for stem in self._stems(mine)) else left.replace(word, "")
        return self._has(left, mine)

    def _stems(self, message: Message) -> list[str]:
        return [stem for each in self.telling.told(message).lower().split("|") if (stem := each.strip())]

    def _counts(self, text: str, count: int) -> bool:
        numbers = self._stems(stems.NUMBERS)
        words = [numbers[count - 1]] if 0 < count <= len(numbers) else []
        words += self._stems(stems.ONE) if count == 1 else self._stems(stems.TWO) if count == 2 else []
        return any(re.search(rf"\b{re.escape(word)}\b", text.lower()) for word in words)

    # What is left out.

    def in_short(self, facts: list[Fact]) -> Phrase:
        """Return facts in a row, as a sentence."""
        parts = [self.one_fact(fact) for fact in facts if fact.kind is not FactKind.SEEK]
        seek = [as_words(fact.value) for fact in facts if fact.kind is FactKind.SEEK]
        if seek:
            parts.append(phrase(self.say("fact", "look for: {faults}", faults=self.telling.either(seek))))
        row = capital(in_a_row(parts))
        return row if as_text(row).endswith((".", "!", "?")) else phrase(*row, ".")

    def one_fact(self, fact: Fact) -> Phrase:
        """Return one fact in a few words."""
        value = fact.value
        if isinstance(value, Quantity):
            return self._one_quantity(fact.kind, value)
        if isinstance(value, int):
            return phrase(self._one_count(fact.kind, value))
        return phrase(self._one_text(fact.kind, value))

    def _one_quantity(self, kind: FactKind, value: Quantity) -> Phrase:
        shown = self.quantity(value)
        match kind:
            case FactKind.TORQUE:
                return self.stands_out(value)
            case FactKind.WHOLE:
                # Translators: all of a fluid that there is in the machine.
                return phrase(self.say("fact", "{volume} in all", volume=shown))
            case FactKind.LIMIT:
                return phrase(self.say("fact", "limit: {limit}", limit=shown))
            case FactKind.DIFFERENCE:
                return phrase(self.say("fact", "difference of the readings: {limit}", limit=shown))
            case _:
                return phrase(self.turned(value))

    def _one_count(self, kind: FactKind, value: int) -> str:
        match kind:
            case FactKind.PEOPLE:
                return self.say_count("lift", "{count} person", "{count} people", value)
            case FactKind.ROUNDS:
                return self.say_count(
                    "stage", "the last stage {count} time round", "the last stage {count} times round", value
                )
            case _:
                return self.say_count("fact", "{count} piece", "{count} pieces", value)

    def _one_text(self, kind: FactKind, value: str) -> str:
        match kind:
            case FactKind.NUMBER:
                return self.say("fact", "part number {number}", number=value)
            case FactKind.TURN:
                return self.one_way(value)
            case FactKind.UNSCREWED | FactKind.SCREWED_IN:
                return self.left_hand(value, out=kind is FactKind.UNSCREWED)
            case FactKind.GENTLY:
                return self.say("fact", "in the opposite order, half a turn at a time, until all are loose")
            case FactKind.HOLD:
                key, _, pieces = value.rpartition(" ")
                held = self.things.get(key)
                # Translators: what is held while something else is turned.
                return self.say("fact", "hold meanwhile: {held}", held=self.called(held, int(pieces)) if held else key)
            case FactKind.ORDER:
                thing = self.things.get(value)
                return (self.order(thing) if isinstance(thing, Fastener) else None) or value
            case FactKind.FILM:
                return self.say("tighten", "threads: {film}", film=self.telling.told(FILMS[Film(value)]))
            case FactKind.UNTIL:
                return self.say("turn", "until: {until}", until=value)
            case FactKind.SEEN_FROM:
                return self.say("turn", "seen from: {place}", place=self.place(value))
            case FactKind.AGAINST:
                # Translators: what a mark is made against.
                return self.say("fact", "against: {other}", other=self.place(value))
            case FactKind.LIMIT:
                return self.say("fact", "good: {limit}", limit=value)
            case FactKind.DIFFERENCE:
                return self.say("fact", "difference of the readings: {limit}", limit=value)
            case FactKind.SIZE:
                return self.drive_said(value)
            case (
                FactKind.BY_HAND
                | FactKind.WORDS
                | FactKind.SPEED
                | FactKind.SEEK
                | FactKind.GRADE
                | FactKind.TORQUE
                | FactKind.COUNT
                | FactKind.ROUNDS
                | FactKind.WHOLE
                | FactKind.AMOUNT
                | FactKind.TIME
                | FactKind.MASS
                | FactKind.PEOPLE
                | FactKind.ANGLE
            ):
                return value
            case _:
                assert_never(kind)
