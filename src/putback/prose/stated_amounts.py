"""Amounts that a text states of a setting or a fluid: a clearance, a deflection, how much goes in."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.model.job import Sequence, Step
from putback.model.machine import Fluid, Machine
from putback.model.setting import Setting
from putback.model.verbs.fluids import Drain, Fill
from putback.prose.aims import is_aim, sentences
from putback.prose.amounts import EVEN, amount_before
from putback.prose.contexts import Context, Contradiction
from putback.prose.settled import same
from putback.source.late import Late
from putback.source.quoting import quote
from putback.units import Kind, Quantity, QuantityError, parse_any, si
from putback.units.symbols import core


class StatedAmount(NamedTuple):
    """A quantity in a text."""

    start: int
    """Offset of its first character."""
    end: int
    """Offset after its last."""
    quantity: Quantity
    """What it says."""


_UNIT = Late(
    r"(?<![A-Za-z·/])(?:mm|cm|ml|cl|dl|l|litres?|liters?|millilit(?:re|er)s?|millimet(?:re|er)s?|US (?:fl oz|pt|qt|gal)"
    r"|imp (?:fl oz|pt|qt|gal)|fl oz|pt|qt|pints?|quarts?|gallons?|in|inch(?:es)?|thou|mil|bar|kPa|psi|rpm|V|Hz|°C|°F"
    r"|s|sec|seconds?|min|minutes?|h|hours?)(?![\w·²³/-])"
)
_VOLUME_VERB = Late(
    r"\b(?:holds?|takes?|contains?|capacity|volume|fill(?:s|ed)?|pour(?:s|ed)?|needs?|in all|quantity)\b", re.IGNORECASE
)
_PART_OF_IT = Late(
    r"\b(?:more|top(?:ped)?[- ]?up|add(?:s|ed)?|littles?|spill\w*|spilt|left|remain\w*|drips?|drops?|first|last|about|"
    r"half|some|without|dry|rest|remainder|"
    r"each|can|cans|bottle\w*|sold|tank|a day|per|every|loss|loses?|uses?|used|burns?|syringe|film|level)\b",
    re.IGNORECASE,
)
_ELSEWHEN = Late(r"\b(?:new|grows?|shrinks?|gets|becomes?|rises?|falls|drops)\b", re.IGNORECASE)
"""Words of a setting that is, or comes to be, other than it is set."""
FIELDS = frozenset({"text", "note", "said", "words", "page", "purpose", "caption", "alt", "read_first", "avoid"})


def amounts_in(text: str) -> Iterator[StatedAmount]:
    """Yield the quantities of a text, in digits or in words; of what stands in two units, the first."""
    even, last = text.translate(EVEN), 0
    for unit in _UNIT.finditer(even):
        amount = amount_before(even, last, unit.start())
        if amount is None or even[: amount.start].rstrip().endswith("("):
            continue
        try:
            quantity = parse_any(f"{amount.text} {unit[0]}")
        except QuantityError:
            continue
        last = unit.end()
        yield StatedAmount(amount.start, unit.end(), quantity)


class Amounts:
    """What the machine file and the jobs say of settings and fluids."""

    def __init__(self, machine: Machine, sequences: Iterable[Sequence]) -> None:
        self.known: dict[str, list[Quantity]] = {}
        self.things: dict[str, Setting | Fluid] = {}
        for thing in machine.things.values():
            stated = _stated(thing) if isinstance(thing, Setting | Fluid) else None
            if stated is not None and isinstance(thing, Setting | Fluid):
                self.known[thing.key] = [stated]
                self.things[thing.key] = thing
        if self.things:
            for sequence in sequences:
                for step in sequence.steps():
                    self._learn(step)
        called: dict[str, list[Setting | Fluid]] = {}
        for each in self.things.values():
            called.setdefault(" ".join(each.name.lower().split()), []).append(each)
        self._called = called
        words = sorted((re.escape(name).replace(r"\ ", "[ -]") for name in called), key=len, reverse=True)
        self._named = re.compile(rf"(?<![\w-])({'|'.join(words)})(?![\w-])", re.IGNORECASE) if words else None

    def _learn(self, step: Step) -> None:
        """Add what a step says of its own: a volume, a limit, what may be found."""
        stated: list[Quantity | None] = []
        if isinstance(step.action, Drain | Fill):
            stated.append(step.action.volume)
        limit = getattr(step.action, "limit", None)
        stated.append(limit.quantity if limit else None)
        stated += [outcome.found.quantity for outcome in step.outcomes]
        for ref in step.things:
            if ref.name in self.known:
                self.known[ref.name] += [quantity for quantity in stated if quantity is not None]

    def wrong(self, context: Context) -> Iterator[Contradiction]:
        """Yield the amounts of a text that differ from what the machine file and the jobs say."""
        if self._named is None or context.field not in FIELDS or self._named.search(context.text) is None:
            return
        found = list(amounts_in(context.text))
        for start, end in sentences(context.text) if found else ():
            sentence = context.text[start:end]
            things = [each for name in self._named.finditer(sentence) for each in self._called[_even(name[1])]]
            for amount in found:
                if start <= amount.start < end and is_aim(context.text, amount.start, amount.end):
                    about = [each for each in things if _alike(self.known[each.key][0], amount.quantity)]
                    if len({each.key for each in about}) == 1:
                        yield from self._compared(context, sentence, amount, about[0])

    def _compared(
        self, context: Context, sentence: str, amount: StatedAmount, thing: Setting | Fluid
    ) -> Iterator[Contradiction]:
        known = self.known[thing.key]
        fluid = isinstance(thing, Fluid)
        if not fluid and _ELSEWHEN.search(sentence):
            return
        if fluid and (_PART_OF_IT.search(sentence) or not _VOLUME_VERB.search(sentence)):
            return
        if any(says(amount.quantity, each) for each in known) or not is_near(amount.quantity, known[0]):
            return
        said = quote(context.text[amount.start : amount.end])
        message = f"{said} here, but the machine file says {plain(known[0])} for the {thing.name}"
        yield Contradiction(context, amount.start, amount.end, message, f"write {quote(plain(known[0]))}", thing)


def _stated(thing: Setting | Fluid) -> Quantity | None:
    if isinstance(thing, Fluid):
        return thing.volume
    return thing.limit.quantity if thing.limit else None


def _alike(one: Quantity, other: Quantity) -> bool:
    return one.kind is other.kind and one.kind is not Kind.TORQUE


def says(said: Quantity, known: Quantity) -> bool:
    """Tell whether a text says what is known, an end of it, or something within it."""
    if same(said, known):
        return True
    low, high = si(known)
    first, last = si(said)
    if first is None or last is None:
        return True
    slack = 0.02 * max(abs(first), abs(last))
    ends = [end for end in (low, high) if end is not None]
    if any(abs(first - end) <= slack or abs(last - end) <= slack for end in ends):
        return True
    return (low is None or first >= low - slack) and (high is None or last <= high + slack)


def is_near(said: Quantity, known: Quantity) -> bool:
    """Tell whether two are of one order, so that the text means the same amount."""
    ends = [end for end in si(known) if end]
    here = [end for end in si(said) if end]
    return bool(ends and here) and min(ends) / 4 <= max(here) and min(here) <= max(ends) * 4


def plain(quantity: Quantity) -> str:
    """Return a quantity as a message says it."""
    return core(quantity).replace("\N{NO-BREAK SPACE}", " ")


def _even(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())
