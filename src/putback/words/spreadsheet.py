"""A shopping list as comma-separated values (RFC 4180), for a spreadsheet or a shop's own program."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from putback.ledger.opened import Opened
from putback.sheet.supply import ShoppingList, Supply
from putback.source.plainly import printable
from putback.units import Quantity, digits
from putback.words.language import Language
from putback.words.shopping import ShownSupply, shown

COLUMNS = (
    "kind", "key", "name", "number", "count", "volume", "unit", "variants", "only_if", "kit", "left_over", "jobs",
)  # fmt: skip
"""The names of the columns, which are the same in every language."""

_FORMULA = "=+-@\t\r\n＝＋－＠"
"""What a spreadsheet takes a cell for a formula by, if it begins so; the wide forms as well."""


def as_csv(wanted: ShoppingList, opened: Opened, words: Language) -> str:
    """Return a list as a table of values, with a line of names above, one row for each thing to get."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(COLUMNS)
    for each in (*wanted.needed, *wanted.perhaps):
        writer.writerow(map(guarded, _cells(each, shown(each, opened, words))))
    return out.getvalue()


def _cells(supply: Supply, row: ShownSupply) -> Iterator[str]:
    volume = supply.volume
    yield from (supply.kind.value, supply.key, row.name, row.number)
    yield str(supply.count) if supply.count and row.amount else ""
    yield _number(volume) if volume else ""
    yield volume.unit if volume else ""
    yield from (row.variants, row.only_if)
    yield supply.kit.key if supply.kit else ""
    yield row.remark if supply.over else ""
    yield " ".join(supply.jobs)


def _number(volume: Quantity) -> str:
    """Return the value of a volume in its unit, of a range both ends: `4.5`, `3.8 .. 4`."""
    ends = [digits(each) for each in (volume.low, volume.high) if each is not None]
    return " .. ".join(dict.fromkeys(ends))


def guarded(cell: str) -> str:
    """Return a cell that no spreadsheet takes for a formula: with an apostrophe before what would begin one."""
    text = printable(cell)
    return f"'{text}" if text.lstrip()[:1] in _FORMULA and text.strip() else text
