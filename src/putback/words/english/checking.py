"""Sentences in English on what a check finds good: `Check that the propeller turns freely.`"""

from __future__ import annotations

import re
from collections.abc import Sequence

from putback.model.machine import Part
from putback.model.said import Limit
from putback.model.setting import Setting
from putback.model.terms import Ref
from putback.units import Kind, Quantity
from putback.units.quantity import Form
from putback.words.english.clauses import Following, apart, comes_first, done_first, following, is_several, of_it
from putback.words.english.things import Things, ended, sentence
from putback.words.pieces import Phrase, as_text, phrase


class Checking(Things):
    """What is said of what is good."""

    def checked(self, refs: Sequence[Ref], measured: str, good: Limit | None) -> Phrase:
        """`Check that the outlet gives water within 20 s.`; `measured` says where and how: `, on a cold engine`."""
        what, added = self._what(refs)
        if good is None:
            return phrase("Check ", *what, f", {added}" if added else "", measured, ".")
        several = self._in_the_plural(refs)
        order = done_first(added)
        if order is not None:
            verb, rest = order
            them = "they" if several else "it"
            return phrase(f"{verb.capitalize()} ", *what, f"{rest}{measured}. {sentence(self.is_good(them, good))}")
        before, begin = "", "Check "
        if comes_first(added):
            before, begin, added = f"{added[:1].upper()}{added[1:]}, ", "check ", ""
        extra = f"{f', {added}' if added else ''}{measured}"
        what = phrase(*what, extra)
        return phrase(before, begin, *self._joined(what, good, several=several, comma="," if extra else "", refs=refs))

    def is_good(self, them: str, good: Limit) -> str:
        """Return what is checked of what has been named, `it` or `they`: `check that it turns freely`."""
        named = phrase("it" if them == "it" else "they")
        rest = as_text(self._joined(named, good, several=them != "it", comma="", refs=()))
        return f"check {rest if rest.startswith('that ') else rest.replace('they', 'them', 1)}"

    def measured_thing(self, refs: Sequence[Ref]) -> Phrase:
        """Return what is measured: `the height at the peak of the cam`, `the deflection of the belt`."""
        what, first = self.all_of(refs), self.things.get(refs[0].name) if refs else None
        if isinstance(first, Part) and first.wear and first.wear.measure:
            return phrase(f"{self.other(of_it(first.wear.measure, first.name))} of ", what)
        return what

    def measured_as(self, judged: str, limit: Limit) -> str:
        """Return what a value must be: `it must be at least 8 mm (0.31 in)`; words that no value can be stand alone."""
        words = self.limit_in_words(limit)
        be = limit.quantity is not None or following(limit.text, several=False) is Following.IS
        return f"{judged} must be {words}" if be else words

    def _joined(self, what: Phrase, good: Limit, *, several: bool, comma: str, refs: Sequence[Ref]) -> Phrase:
        limit = self.limit_in_words(good)
        if as_text(what).lower().startswith(_ASKED):
            follows = Following.ALONE
        elif good.quantity:
            measured = refs and isinstance(self.things.get(refs[0].name), Setting)
            follows = Following.IS if measured else Following.ALONE
        else:
            follows = following(good.text, several=several)
        match follows:
            case Following.DOES:
                return phrase("that ", *what, f"{comma} {ended(limit)}")
            case Following.IS:
                return phrase("that ", *what, f"{comma} {'are' if several else 'is'} {ended(limit)}")
            case Following.THERE:
                return phrase(*what, f": there must be {ended(limit)}")
            case Following.ALONE:
                return phrase(*what, f": {ended(limit)}")

    def limit_in_words(self, limit: Limit) -> str:
        """Return a limit as it is read aloud: `no more than 0.3 mm (0.012 in)`."""
        shown = self.limit(limit)
        return in_words(shown, limit.quantity) if limit.quantity else shown

    def _what(self, refs: Sequence[Ref]) -> tuple[Phrase, str]:
        """Return what is checked, and what an author adds to it."""
        named = self.all_of(refs)
        if len(refs) != 1 or refs[0].name in self.things:
            return named, ""
        words, added = apart(as_text(named))
        return phrase(words), added

    def _in_the_plural(self, refs: Sequence[Ref]) -> bool:
        if len(refs) != 1:
            return True
        thing = self.things.get(refs[0].name)
        return is_several(as_text(self.all_of(refs))) if thing is None else self.several(thing)


_ASKED = ("whether ", "how ", "that ", "if ", "where ", "when ", "what ", "which ")
"""Beginnings of what is itself a sentence."""
_SIGNS = {
    Form.AT_MOST: ("≤", "no more than"),
    Form.AT_LEAST: ("≥", "at least"),
    Form.LESS_THAN: ("<", "less than"),
    Form.MORE_THAN: (">", "more than"),
}
"""Signs of limits with one end, and how they are said."""
_OUTSIDE = {
    Form.AT_MOST: "more than",
    Form.AT_LEAST: "less than",
    Form.LESS_THAN: "at least",
    Form.MORE_THAN: "no more than",
}
"""What the same limits do not allow."""


def in_words(shown: str, limit: Quantity, *, outside: bool = False) -> str:
    """Return a quantity with its sign as words, said once: `at least 8 mm (0.31 in)` for `≥ 8 mm (≥ 0.31 in)`.

    With `outside` it is what a limit does not allow: `less than 8 mm (0.31 in)`.
    """
    sign, words = _SIGNS.get(limit.form, ("", ""))
    if not sign or not shown.startswith(sign):
        return shown
    if outside:
        words = _OUTSIDE[limit.form]
    if limit.kind is Kind.TEMPERATURE:
        words = words.replace("more", "higher").replace("less", "lower")
    value, at, condition = shown.partition(" at ")
    plain = re.sub(rf"{sign}\s*", "", value)
    return f"{words} {plain}{at}{condition}"
