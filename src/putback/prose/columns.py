"""Numbers in a table whose heads have the units: 0.28 below `mm` and 0.011 below `in`, 0.28 (0.011) below `mm (in)`."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import pairwise
from typing import NamedTuple

from putback.prose.amounts import EVEN
from putback.prose.pages import Passage, TableRow
from putback.prose.pairs import WrongPair, wrong_pairs
from putback.source.late import Late
from putback.units.kinds import Unit
from putback.units.table import find

_UNIT = Late(r"(?P<words>.*?)[\s,:(\[]*(?<!\S)?(?P<unit>[^\s,:()\[\]]+(?: [^\s,:()\[\]]+)?)[)\]]?\s*")
_TWO = Late(r"(?P<first>.*?)\s*(?:[(\[](?P<inside>[^()\[\]]*)[)\]]|/\s*(?P<behind>[^/]*))\s*")
_NUMBERS = Late(r"[<>=≤≥±+\-–—.,0-9/ ½¼¾]*[0-9][<>=≤≥±+\-–—.,0-9/ ½¼¾to]*")


class _Head(NamedTuple):
    """The head of a column that ends with a unit."""

    words: str
    """What stands before the unit."""
    unit: Unit


def may_have_columns(page: str) -> bool:
    """Tell quickly whether a page may have a table with one quantity in two units."""
    lines = page.split("\n")
    for head, rule in pairwise(lines):
        if "|" in head and "--" in rule and not rule.strip(" |:-"):
            cells = head.strip().strip("|").split("|")
            if sum(2 if "(" in cell or "/" in cell else 1 for cell in cells if _ends_with_unit(cell)) > 1:
                return True
    return False


def _ends_with_unit(cell: str) -> bool:
    two = _TWO.fullmatch(cell)
    return _head(cell) is not None or (two is not None and _head(two["first"]) is not None)


def wrong_cells(row: TableRow) -> Iterator[tuple[Passage, WrongPair]]:
    """Yield the cells of a row that state one quantity in units that disagree, by the heads of their columns."""
    heads = [_head(head) for head in row.heads]
    for cell, head in zip(row.cells, row.heads, strict=False):
        if "(" not in head and "/" not in head:
            continue
        two = _TWO.fullmatch(" ".join(head.split()))
        first = _head(two["first"]) if two else None
        second = find(two["inside"] or two["behind"] or "") if two else None
        said = _TWO.fullmatch(cell.text.translate(EVEN).strip())
        other = (said["inside"] or said["behind"] or "") if said else ""
        if first and second and said and _plain(said["first"]) and _plain(other):
            for wrong in _wrong(said["first"], first.unit, other, second):
                yield cell, wrong._replace(start=0, end=len(cell.text))
    for place in range(min(len(heads), len(row.cells)) - 1):
        here, there = heads[place], heads[place + 1]
        if here is None or there is None or here.unit == there.unit or here.unit.si != there.unit.si:
            continue
        one, next_ = (row.cells[place + step].text.translate(EVEN).strip() for step in (0, 1))
        if there.words in ("", here.words) and _plain(one) and _plain(next_):
            for wrong in _wrong(one, here.unit, next_, there.unit):
                yield row.cells[place + 1], wrong._replace(start=0, end=len(row.cells[place + 1].text))


def _head(head: str) -> _Head | None:
    even = " ".join(head.translate(EVEN).split())
    match = _UNIT.fullmatch(even)
    for unit in (match["unit"], match["unit"].split()[-1]) if match else ():
        found = find(unit)
        if found is not None:
            return _Head(even[: even.rindex(unit)].rstrip(" ,:([").lower(), found)
    return None


def _plain(text: str) -> bool:
    """Tell whether a cell has nothing but numbers."""
    return _NUMBERS.fullmatch(text) is not None


def _wrong(first: str, unit: Unit, second: str, other: Unit) -> Iterator[WrongPair]:
    yield from wrong_pairs(f"{first} {unit.symbol} ({second} {other.symbol})")
