"""Rows of tables on pages that give a value with its limits: `| Compression | 420 kPa to 620 kPa |`."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from typing import NamedTuple

from putback.model.good import limit_of
from putback.model.job import Sequence
from putback.model.machine import Machine, Part
from putback.model.said import Limit
from putback.model.setting import Setting
from putback.prose.stated_amounts import is_near, plain
from putback.source.late import Late
from putback.source.quoting import quote
from putback.source.span import Span
from putback.units import Quantity, QuantityError, parse_any, si

_CELL = Late(r"(?<=\|)([^|\n]+)(?=\|)")
_ROLE = Late(r"^\{[a-z:]+\}`([^`]*)`$")
_WORD = Late(r"[a-z]{3,}")
_GENERAL = frozenset(
    ("the", "and", "with", "for", "from", "under", "over", "after", "before", "gauge", "limit", "new", "worn", "least",
     "most", "diameter", "height", "width", "depth", "length", "thickness", "clearance", "gap", "play", "pressure",
     "voltage", "resistance", "temperature", "current", "speed", "frequency", "volume", "mass", "cold", "warm", "hot",
     "side", "end", "upper", "lower", "standard", "both", "each", "when", "not", "per")
)  # fmt: skip
"""Words that do not tell one value from another."""
_OTHER = Late(r"\b(?:new|standard|nominal|oversize|undersize|second|maker|factory|worn|repair)\b", re.IGNORECASE)
"""Of a row: it may tell of something else than the limit."""


class NamedLimit(NamedTuple):
    """A limit, with the words for what it is of."""

    words: frozenset[str]
    limit: Limit
    quantity: Quantity


class WrongRow(NamedTuple):
    """A cell with a value that a limit contradicts."""

    span: Span
    """Its place."""
    message: str
    """What it says, and what the limit says."""
    known: NamedLimit
    """The limit."""


class LimitRows:
    """The limits of a machine and its jobs, to which rows are compared."""

    def __init__(self, machine: Machine, sequences: Iterable[Sequence]) -> None:
        self.known: list[NamedLimit] = []
        for thing in machine.things.values():
            limit = thing.limit if isinstance(thing, Setting) else None
            if isinstance(thing, Part) and thing.wear:
                limit = thing.wear.limit
                self._learn(f"{thing.name} {thing.wear.measure or ''}", limit)
            else:
                self._learn(thing.name, limit)
        for sequence in sequences:
            for step in sequence.steps():
                if limit := limit_of(step.action, machine.things):
                    names = (
                        machine.things[ref.name].name if ref.name in machine.things else ref.name for ref in step.things
                    )
                    self._learn(" ".join(names), limit)

    def _learn(self, words: str, limit: Limit | None) -> None:
        if limit and limit.quantity and (named := _words(words)):
            self.known.append(NamedLimit(named, limit, limit.quantity))

    def wrong(self, path: str, page: str) -> Iterator[WrongRow]:
        """Yield the cells of a page's tables whose value is not that of the limit by the same words."""
        for number, line in enumerate(page.split("\n"), 1) if self.known and "|" in page else ():
            cells = list(_CELL.finditer(line)) if line.lstrip().startswith("|") else []
            label = cells[0][1] if len(cells) > 1 else ""
            if label and not _OTHER.search(label):
                for cell in cells[1:]:
                    if known := self._contradicts(_words(label), cell[1].strip()):
                        start = cell.start(1) + len(cell[1]) - len(cell[1].lstrip()) + 1
                        span = Span(path, number, start, number, start + len(cell[1].strip()))
                        said = _plain_cell(cell[1].strip())
                        message = f"{quote(said)} here, but a limit says {plain(known.quantity)}"
                        yield WrongRow(span, message, known)

    def _contradicts(self, label: frozenset[str], cell: str) -> NamedLimit | None:
        """Return the limit that goes by the same words and has other ends; None where one has the same ends."""
        text = _plain_cell(cell)
        if not label or not any(sign.isdigit() for sign in text) or len(text) > 60:
            return None
        try:
            said = parse_any(text)
        except QuantityError:
            return None
        alike = [each for each in self.known if each.quantity.kind is said.kind and each.words & label]
        most = max((len(each.words & label) for each in alike), default=0)
        meant = [each for each in alike if len(each.words & label) == most and _as_open(each.quantity, said)]
        if any(_same_ends(each.quantity, said) for each in meant):
            return None
        return next((each for each in meant if is_near(said, each.quantity)), None)


def _words(text: str) -> frozenset[str]:
    return frozenset(_WORD.ready.findall(text.lower())) - _GENERAL


def _plain_cell(cell: str) -> str:
    found = _ROLE.match(cell)
    return found[1] if found else cell


def _as_open(one: Quantity, other: Quantity) -> bool:
    """Tell whether two are of one form: a range, one end, a value."""
    (low, high), (least, most) = si(one), si(other)
    return (low is None, high is None, low == high) == (least is None, most is None, least == most)


def _same_ends(one: Quantity, other: Quantity) -> bool:
    in_one_unit = [(each, it) for each in (one, *one.also) for it in (other, *other.also) if each.unit == it.unit]
    if in_one_unit:
        return any((each.low, each.high) == (it.low, it.high) for each, it in in_one_unit)
    ends = zip(si(one), si(other), strict=True)
    return all(end is None or at is None or abs(end - at) <= 0.015 * max(abs(end), abs(at)) for end, at in ends)
