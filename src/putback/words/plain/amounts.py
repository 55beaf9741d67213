"""What a guide in another language than English is made of, and how it says quantities and conditions."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from decimal import Decimal

from putback.ledger.opened import Opened
from putback.model.said import Limit
from putback.model.terms import Clause, When
from putback.units import Quantity, System
from putback.units.printing import unit_in
from putback.variants import Choice
from putback.words.english.things import spaced
from putback.words.facts import quantity_or_words
from putback.words.plain.runs import in_text, sentence, upper
from putback.words.telling import Telling

FITTED = frozenset(("fitted", "yes", "present", "installed"))
"""Choices that say that a machine has what the option is called."""
NOT_FITTED = frozenset(("none", "no", "absent", "not fitted", "without", "missing"))
"""Choices that say that it has not."""


class PlainAmounts:
    """What flat sentences know of one guide, with its quantities and conditions."""

    def __init__(self, opened: Opened, telling: Telling) -> None:
        guide = opened.guide
        self.opened, self.telling = opened, telling
        self.say, self.say_phrase = telling.say, telling.say_phrase
        self.say_count, self.say_count_phrase = telling.say_count, telling.say_count_phrase
        self.labels = telling.labels()
        self.things = opened.written.printed if opened.written else {}
        self.machine = guide.machine
        self.called_in_guide: Mapping[str, str] = guide.words
        self.library = guide.library
        self.graph = opened.graph
        systems = [System(unit) for unit in guide.cover.units] if guide.cover else [System.METRIC, System.US]
        self.first = systems[0]
        self.second = systems[1] if len(systems) > 1 else None

    # Quantities.

    def quantity(self, quantity: Quantity) -> str:
        """Return a quantity in the guide's units, with the figures of the language."""
        return self.telling.quantity(quantity, self.first, self.second)

    def as_marked(self, quantity: Quantity) -> str:
        """Return a size as it is marked on a piece or a tool: it is a name, and no measurement."""
        return self.telling.in_own_unit(quantity)

    def figure(self, value: float | Decimal) -> str:
        """Return a bare number."""
        return self.telling.number(value)

    def day(self, text: str) -> str:
        """Return a day, written as 2026-11-25, as the language writes days; other words as they are."""
        return self.telling.date(text)

    def unit_of(self, quantity: Quantity) -> str:
        """Return the unit that a quantity is printed in first: a value is written down in it."""
        return self.telling.unit(unit_in(quantity, self.first))

    def limit(self, limit: Limit) -> str:
        """Return a limit: in the guide's units when it is a quantity, otherwise as it is."""
        return self.quantity(limit.quantity) if limit.quantity else limit.text

    def briefly(self, limit: Limit) -> str:
        """Return a limit in the first of the guide's units: the second stands where it is said in full."""
        return self.telling.quantity(limit.quantity, self.first, None) if limit.quantity else limit.text

    def speed(self, text: str) -> str:
        """Return a speed: in the guide's units when it is a quantity, otherwise as it is."""
        speed = quantity_or_words(text)
        return self.quantity(speed) if isinstance(speed, Quantity) else speed

    # Words of keys.

    def word(self, key: str) -> str:
        """Return a name of a file as words: a position, an option, a choice, a place."""
        return self.called_in_guide.get(key) or spaced(key)

    def written(self, text: str) -> str:
        """Return an author's words for what is no thing of the machine: a place, a slit, an insert."""
        return self.called_in_guide.get(text, text)

    def words(self, keys: Sequence[str]) -> str:
        """Return several of them, all together."""
        return self.telling.listed([self.word(key) for key in keys])

    def names(self, names: Sequence[str]) -> str:
        """Return names as a list, all of them together."""
        return self.telling.listed(names)

    def choices(self, names: Sequence[str]) -> str:
        """Return choices or positions as a list, one of them at a time."""
        return self.telling.either([self.word(name) for name in names])

    def option(self, name: str) -> str:
        """Return an option as a label."""
        return upper(self.word(name))

    def position_name(self, position: str) -> str:
        """Return the name of a position."""
        return self.word(position)

    # Conditions.

    def built(self, clauses: Sequence[tuple[str, Sequence[str]]]) -> str:
        """Return how a machine is built, by options with their choices, in a row."""
        return in_text([self._built(option, choices) for option, choices in clauses])

    def _built(self, option: str, choices: Sequence[str]) -> str:
        name = self.word(option)
        if len(choices) == 1 and choices[0].replace("-", " ").lower() in FITTED:
            # Translators: a machine that has the option, such as "heater: yes".
            return self.say("built", "{option}: yes", option=name)
        if len(choices) == 1 and choices[0].replace("-", " ").lower() in NOT_FITTED:
            return self.say("built", "{option}: no", option=name)
        # Translators: how a machine is built, such as "shaft: long or short".
        return self.say("built", "{option}: {choices}", option=name, choices=self.choices(choices))

    def _case(self, case: Sequence[Clause]) -> str:
        """Return what must hold at once, by the order of the options."""
        place = {name: number for number, name in enumerate(self.machine.options if self.machine else ())}
        clauses = sorted(case, key=lambda clause: place.get(clause.option.name, len(place)))
        return self.built([(each.option.name, [choice.name for choice in each.choices]) for each in clauses])

    def only(self, when: When | None) -> str | None:
        """Return a condition as words; None for what every variant meets."""
        when = self.graph.needed(when) if self.graph else when
        if when is None:
            return None
        # Translators: begins with a small letter; {built} such as "shaft: long, heater: yes".
        return self.say("only", "only with {built}", built=self._one_case(when))

    def _one_case(self, when: When) -> str:
        """Return the cases of a condition, of which one must hold."""
        said, *others = [self._case(case) for case in when.cases]
        for other in others:
            # Translators: two conditions, of which one must hold, such as "shaft: long; or pump drive: belt".
            said = self.say("only", "{one}; or {other}", one=said, other=other)
        return said

    def only_when(self, when: When | None) -> str | None:
        """Return a condition as it stands in front of a sentence; None for what every variant meets."""
        words = self.only(when)
        return sentence(words) if words else None

    def only_for(self, when: When | None) -> str:
        """Return for which variants something is, as it stands in brackets; nothing for all."""
        return self.only(when) or ""

    def never_built(self, combination: When) -> str:
        """Return a combination of options that no machine has."""
        return sentence(self._one_case(combination))

    def for_choice(self, choice: Choice) -> str:
        """Return which variants a book is for, as a line on its cover; nothing when it is for all."""
        built = self.built([(option, [value]) for option, value in choice])
        # Translators: on the cover of a book that is for some machines; {built} such as "shaft: long".
        return self.say("only", "Only with {built}", built=built) if built else ""
