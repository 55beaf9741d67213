"""What the machine file settles about torques: how a sentence calls its fasteners, and which torques each may have."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from putback.joints.stages import torque_of
from putback.model.job import Sequence
from putback.model.machine import Fastener, Machine
from putback.model.verbs.pieces import Tighten
from putback.source.grammar import plural
from putback.source.late import Late
from putback.source.span import Span
from putback.units import Quantity
from putback.units.agreeing import agree

_DETERMINERS = frozenset(
    ("a", "an", "the", "each", "every", "all", "both", "any", "these", "those", "this", "that", "its", "their", "of",
     "on", "to", "for", "tighten", "torque", "install", "fit", "two", "three", "four", "five", "six", "seven", "eight",
     "nine", "ten", "eleven", "twelve", "and", "or", "last", "first")
)  # fmt: skip
"""Words in front of `bolt` when all of its name is `bolt`; after others it may be some other bolt."""


class Torque(NamedTuple):
    """A torque that a fastener may have."""

    quantity: Quantity
    span: Span | None
    """Where it stands."""
    in_step: bool = False
    """Whether a step gives it, and not the machine file."""


class Called(NamedTuple):
    """A name in a sentence."""

    start: int
    """Offset of its first character."""
    fasteners: tuple[Fastener, ...]
    """What is called so; a name may be that of several."""


class Settled:
    """The names and torques of one machine's fasteners."""

    def __init__(self, machine: Machine, sequences: Iterable[Sequence]) -> None:
        names: dict[str, list[Fastener]] = {}
        self._torques: dict[str, list[Torque]] = {}
        for thing in machine.things.values():
            for name in {thing.name, thing.plural or plural(thing.name), thing.key}:
                found = names.setdefault(_even(name), [])
                if isinstance(thing, Fastener):
                    found.append(thing)
            if isinstance(thing, Fastener):
                aims = [thing.torque, *(torque_of(stage, thing.torque) for stage in thing.stages)]
                self._torques[thing.key] = [Torque(aim, thing.torque_span) for aim in aims if aim is not None]
        self._names = names
        for sequence in sequences:
            for step in sequence.steps():
                if isinstance(step.action, Tighten) and step.action.torque:
                    for ref in step.things:
                        known = self._torques.get(ref.name)
                        # A second torque counts when the author says why, or when the machine file has none.
                        if known is not None and (step.because or all(torque.in_step for torque in known)):
                            known.append(Torque(step.action.torque, step.action.torque_span, in_step=True))

    def torques(self, fastener: Fastener) -> list[Torque]:
        """Return the torques that a fastener may have: its own, its stages, and those for which a step says why."""
        return self._torques.get(fastener.key, [])

    def named(self, text: str) -> list[Called]:
        """Return the fasteners that a sentence names, each where it does so first.

        The longest name counts: `guard bolts` in `guard-bolt washers` is none of its own.
        """
        even = _even(text)
        words = [re.escape(name).replace(r"\ ", r"[\s-]+") for name in self._names if name and name in even]
        if not words:
            return []
        # Only names that are in the text: a pattern of all of them takes longer to compile than all texts to search.
        longest_first = "|".join(sorted(words, key=len, reverse=True))
        spans = [found.span(1) for found in re.finditer(rf"\b(?=({longest_first})\b)", text, re.IGNORECASE)]
        named: dict[tuple[str, ...], Called] = {}
        reach = 0
        for start, end in spans:
            inside, reach = end <= reach, max(reach, end)
            name = _even(text[start:end])
            fasteners = self._names.get(name, [])
            before = re.search(r"(\w+)[\s-]*$", text[max(0, start - 24) : start])
            vague = " " not in name and before is not None and not before[1].isdigit()
            vague = vague and before is not None and before[1].lower() not in _DETERMINERS
            if fasteners and not inside and not vague:
                named.setdefault(tuple(fastener.key for fastener in fasteners), Called(start, tuple(fasteners)))
        return list(named.values())


def _even(name: str) -> str:
    return " ".join(name.lower().replace("-", " ").split())


_BREATH = Late(r"[,;]|\band\b")
_PRONOUN = Late(r"\b(?:them|they|it|these|those|others?)\b", re.IGNORECASE)


def belongs(sentence: str, start: int, end: int, name: int) -> bool:
    """Tell whether a torque can be that of a name: of one before it, or of one after it in the same breath.

    `All of them get 9 N·m, and the drain plug after them` says nothing of the plug.
    """
    return name < start or not (_BREATH.search(sentence, end, name) or _PRONOUN.search(sentence, 0, start))


def nearest_before(sentence: str, start: int, names: list[Called]) -> list[Called]:
    """Return the last name before a torque, when it stands in the same breath.

    In `the lid bolts to 9 N·m, and the pan bolts to 20 N·m`, each torque has its own.
    """
    before = [called for called in names if called.start < start]
    if not before:
        return []
    last = max(before, key=lambda called: called.start)
    return [] if _BREATH.search(sentence, last.start, start) else [last]


def same(said: Quantity, settled: Quantity) -> bool:
    """Tell whether two statements are the same torque, in any unit that each is stated in.

    In one unit the numbers must be equal. In two, rounding may lie between them. A value within a range or a tolerance
    that the machine file gives is the same as well.
    """
    return any(_same(one, other) for one in (said, *said.also) for other in (settled, *settled.also))


def _same(said: Quantity, settled: Quantity) -> bool:
    spread = settled.low != settled.high
    if said.unit != settled.unit:
        if agree(said, settled):
            return True
        if not spread:
            return False
        slack = settled.step / 2 + said.to(settled.unit).step / 2
        said = said.to(settled.unit)
    elif not spread and said.nominal is not None and settled.nominal is not None:
        return said.nominal == settled.nominal
    else:
        slack = settled.step * 0
    low = settled.low is None or (said.low is not None and said.low >= settled.low - slack)
    return low and (settled.high is None or (said.high is not None and said.high <= settled.high + slack))
