"""What an entry works with that has a tag."""

from __future__ import annotations

from dataclasses import replace

import pytest

from putback.ledger import open_book
from putback.ledger.involved import involved, uses
from putback.model.library import Equipment, Tool
from putback.model.terms import Ref
from tests.ledger.trial import book_of


@pytest.mark.parametrize(
    ("step", "used"),
    [
        ("clean: cover\n    tool: torch", ["torch"]),
        ("clean: cover\n    tool: [ruler, torch]", ["torch"]),
        ("clean: cover\n    tool: ruler", []),
        ("clean: cover", []),
        ("place: stove", ["stove"]),
        ("take-away: stove", ["stove"]),
        ("place: stand", []),
        ("lift: cover\n    with: stove", ["stove"]),
        ("lift: cover", []),
        ("inspect: stove", []),
    ],
)
def test_a_tool_or_equipment_with_a_tag_is_used(step: str, used: list[str]) -> None:
    plain = book_of(f"  - {step}\n")
    where = plain.library.equipment["stand"].span
    hot = (Ref("hot", where),)
    tools = {
        key: Tool(key=key, span=where, name=key, range=None, step=None, lever=None, extends=None, drives=(), tags=tags)
        for key, tags in (("torch", hot), ("ruler", ()))
    }
    stove = Equipment(key="stove", span=where, name="stove", rated_load=None, tags=hot)
    library = replace(plain.library, tools=tools, equipment={**plain.library.equipment, "stove": stove})
    book = open_book(plain.sequence, plain.graph, library)
    assert uses(library, book.entries[0]) is bool(used)
    assert [each.name for each in involved(book, book.entries[0]) if each.used] == used


@pytest.mark.parametrize(
    ("steps", "names"),
    [
        ("  - remove: impeller\n", ["impeller"]),
        ("  - remove: cover\n", []),
        # Who opens a drain lets its fluid out, until it is out.
        ("  - remove: drain\n", ["coolant"]),
        ("  - drain: coolant\n  - remove: drain\n", []),
        ("  - remove: plug\n", ["plug"]),
        ("  - apply: grease\n    to: [cover, impeller]\n", ["grease", "impeller"]),
        ("  - clean: cover\n    with: grease\n", ["grease"]),
        # Words are about what they name.
        ("  - check: blades of the impeller\n    limit: whole\n", ["impeller"]),
        ("  - check: impellers\n    limit: whole\n", []),
        ("  - act: Look at the impeller.\n", []),
        # A tap that is shut already lets nothing through.
        ("  - set: seacock\n    to: closed\n", ["coolant"]),
    ],
)
def test_what_is_worked_on(steps: str, names: list[str]) -> None:
    book = book_of(steps)
    found = [each.name for each in involved(book, book.entries[-1]) if each.variants]
    assert sorted(found) == sorted(names)
