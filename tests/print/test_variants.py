"""The machine's page of a narrowed manual has all that the chosen variants have, and nothing that they lack."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest
from docutils import nodes

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.model.called import title_of
from putback.model.kits import kit_of
from putback.model.machine import AnyThing, Fastener, Line, Machine, Part
from putback.sphinxext.machinepage import machine_page, narrowed
from putback.words import catalogue
from putback.words.english.sizes import drive_said
from tests.print import GUIDES
from tests.print.printed_pages import flat

ROOTS = [Path("procedures") / name for name in GUIDES[:-1]]


def choices() -> Iterator[tuple[Path, str, str]]:
    """Yield each choice of each option of the shipped guides."""
    for root in ROOTS:
        machine = read_guide(root).machine
        assert machine is not None
        yield from ((root, option, choice) for option, found in machine.options.items() for choice in found)


def facts_of(thing: AnyThing, machine: Machine) -> Iterator[str]:
    """Yield what the file says of a thing in words of its own."""
    yield title_of(thing)
    yield thing.note or ""
    if isinstance(thing, Part | Fastener | Line):
        yield thing.number or ""
        kit = kit_of(machine, thing)
        yield kit.name if kit else ""
    if isinstance(thing, Fastener):
        yield from (thing.torque_confirmed or "", thing.grade or "", drive_said(thing.drive), thing.order or "")


@pytest.mark.parametrize(("root", "option", "choice"), list(choices()), ids=lambda each: str(each).rpartition("/")[2])
def test_each_choice_of_each_option(root: Path, option: str, choice: str, monkeypatch: pytest.MonkeyPatch) -> None:
    # Tables that a page of prose shows are made by the same code, and stand there instead.
    monkeypatch.setattr("putback.sphinxext.machinepage.shown_elsewhere", lambda guide: frozenset())
    opened = open_guide(read_guide(root), ((option, choice),))
    machine = opened.guide.machine
    assert machine is not None
    page = machine_page(opened, machine)
    text, words = flat(page.astext()), catalogue(opened)
    left = narrowed(machine, opened).things
    assert 0 < len(left) <= len(machine.things)
    for thing in left.values():
        assert [fact for fact in (*facts_of(thing, machine), *words.remarks(thing)) if flat(fact) not in text] == []
    names = [node.get("putback_thing") for node in page.findall(nodes.paragraph)]
    assert {name for name in names if name} == set(left)
