"""What a text says outright of a setting or a mass: `the knife gap is 0.5 in`, `the flywheel weighs 12 kg`.

Said so plainly, it is wrong however far it is from what the machine file says.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from putback.model.machine import Machine, Part
from putback.model.setting import Setting
from putback.prose.aims import sentences
from putback.prose.contexts import Context, Contradiction
from putback.prose.stated_amounts import FIELDS, Amounts, amounts_in, is_near, plain, says
from putback.source.late import Late
from putback.source.quoting import quote
from putback.units import Quantity, QuantityError, parse_any, si

_NOT_SO = Late(
    r"\b(?:if|when|whenever|once|until|unless|before|where|while|as soon as|suppose|new|worn|grows?|shrinks?|was"
    r"|were)\b",
    re.IGNORECASE,
)
"""Words of a sentence that says how something may be, or becomes."""
_FURTHER = Late(
    r"\s*(?:too|more|less|or|above|below|over|under|out|off|from|wide[nr]|long|short|high|low)\b", re.IGNORECASE
)
_MASS = Late(r"[0-9][0-9.,]*\s?(?:kg|lb)\b")
_SLACK = 0.1
"""By how much a mass in prose may differ: people round it."""


class Outright:
    """The settings of a machine and the masses of its parts, by all names that a text may use."""

    def __init__(self, machine: Machine, amounts: Amounts) -> None:
        self.amounts = amounts
        self._settings: dict[str, Setting] = {}
        self._parts: dict[str, Part] = {}
        for thing in machine.things.values():
            for name in {thing.name.lower(), thing.key.replace("-", " ")}:
                if isinstance(thing, Setting) and thing.key in amounts.known and " " in name:
                    self._settings[name] = thing
                elif isinstance(thing, Part) and thing.mass is not None and thing.place is None:
                    self._parts[name] = thing
        self._is = _said(self._settings, "(?:is|must be|should be|has to be)")
        self._weighs = _said(self._parts, "(?:weighs|has a mass of)")

    def wrong(self, context: Context) -> Iterator[Contradiction]:
        """Yield the amounts of a text that say plainly what the machine file says otherwise."""
        if context.field not in FIELDS:
            return
        text = context.text
        for start, end in sentences(text):
            if self._is and (found := self._is.search(text, start, end)) and not _NOT_SO.search(text[start:end]):
                yield from self._of_setting(context, found)
            if self._weighs and (found := self._weighs.search(text, start, end)):
                yield from self._of_mass(context, found)

    def _of_setting(self, context: Context, found: re.Match[str]) -> Iterator[Contradiction]:
        thing = self._settings[_even(found["name"])]
        known = self.amounts.known[thing.key]
        amount = next((each for each in amounts_in(context.text) if each.start == found.end()), None)
        if amount is None or amount.quantity.kind is not known[0].kind or _FURTHER.match(context.text, amount.end):
            return
        # What is near, and called by its name, is found among the amounts.
        called = _even(found["name"]) == thing.name.lower()
        if any(says(amount.quantity, each) for each in known) or (called and is_near(amount.quantity, known[0])):
            return
        yield _contradiction(context, amount.start, amount.end, known[0], thing)

    def _of_mass(self, context: Context, found: re.Match[str]) -> Iterator[Contradiction]:
        thing = self._parts[_even(found["name"])]
        amount = _MASS.match(context.text, found.end())
        if amount is None or thing.mass is None:
            return
        try:
            said = parse_any(amount[0])
        except QuantityError:
            return
        (low, high), (mass, _) = si(thing.mass), si(said)
        ends = [end for end in (low, high) if end is not None]
        if mass is None or not ends or min(ends) * (1 - _SLACK) <= mass <= max(ends) * (1 + _SLACK):
            return
        yield _contradiction(context, amount.start(), amount.end(), thing.mass, thing)


def _said(names: dict[str, Setting] | dict[str, Part], verb: str) -> re.Pattern[str] | None:
    words = sorted((re.escape(name).replace(r"\ ", "[ -]") for name in names), key=len, reverse=True)
    if not words:
        return None
    of = rf"\b(?:the|an?|each|your) (?P<name>{'|'.join(words)}) {verb} (?:about |only |roughly |around )?"
    return re.compile(of, re.IGNORECASE)


def _contradiction(context: Context, start: int, end: int, known: Quantity, thing: Setting | Part) -> Contradiction:
    said, right = quote(context.text[start:end]), plain(known)
    message = f"{said} here, but the machine file says {right} for the {thing.name}"
    return Contradiction(context, start, end, message, f"write {quote(right)}", thing)


def _even(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())
