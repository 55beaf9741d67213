"""Sentences in English that are an author's own: what they do not say of what they are about."""

from __future__ import annotations

import re
from collections.abc import Sequence

from putback.model.called import named, speaks_of
from putback.model.machine import AnyThing
from putback.model.terms import Ref
from putback.model.verbs.acting import Act
from putback.source.grammar import plural
from putback.words.english.things import Things, ended, joined
from putback.words.pieces import Phrase, phrase


class Acts(Things):
    """What is said of steps in an author's own words."""

    def say_act(self, action: Act, _tools: Sequence[Ref]) -> Phrase:
        """`Prime the pump with the hand lever until no bubbles come (fuel lift pump).`

        Words that say for themselves what they are about stay alone: `Drain the tank into a can.`
        """
        left = [ref for ref in action.things if not self._spoken_of(ref.name, action.words)]
        if not left or not any(self._leaves_open(ref.name, action.words) for ref in left):
            return phrase(ended(action.words))
        touched = joined(
            [named(self.things[ref.name]) if ref.name in self.things else self.other(ref.name) for ref in left]
        )
        return phrase(f"{action.words.rstrip('.')} (", touched, ").")

    def _spoken_of(self, name: str, words: str) -> bool:
        """Tell whether words name a thing, or a piece of equipment."""
        thing, equipment = self.things.get(name), self.library.equipment.get(name)
        if thing is not None:
            return speaks_of(words, thing, self.things) or named(thing).lower() in words.lower()
        return equipment is not None and equipment.name.lower() in words.lower()

    def _leaves_open(self, name: str, words: str) -> bool:
        """Tell whether words leave open which thing they are about: they do not name it, or one of several `pumps`."""
        heads = {key: _head(thing) for key, thing in self.things.items()}
        here = heads.get(name)
        return here is None or not _has(words, here) or list(heads.values()).count(here) > 1


def _head(thing: AnyThing) -> str:
    """Return the noun of a name: `pump` of `fuel lift pump`, `gap` of `gap between the knives`."""
    return re.split(r" (?:of|in|at|on|for|between|with|from|to) ", thing.name.lower())[0].split()[-1]


def _has(words: str, noun: str) -> bool:
    return re.search(rf"\b(?:{re.escape(noun)}|{re.escape(plural(noun))})\b", words.lower()) is not None
