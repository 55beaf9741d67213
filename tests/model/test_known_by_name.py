"""What the name of equipment or of a part tells: it may stay in a run, it is a guard."""

from __future__ import annotations

import pytest

from putback.model.build_machine import build_machine
from putback.model.guards import is_guard
from putback.model.stays import stays
from putback.source.load import Mapping, load_text


@pytest.mark.parametrize("name", ["axle stand", "wheel chocks", "oil-pressure gauge", "Flushing cup", "test tank"])
def test_equipment_that_may_stay(name: str) -> None:
    assert stays(name, bears=False)


@pytest.mark.parametrize("name", ["locking pin", "hose plug", "rag", "feeler", "understanding"])
def test_equipment_that_may_not(name: str) -> None:
    assert not stays(name, bears=False)
    assert stays(name, bears=True)


@pytest.mark.parametrize(
    ("part", "guard"),
    [
        ("belt-guard: {}", True),
        ("a: {name: guards}", True),
        ("a: {name: shield, guard: true}", True),
        ("a: {name: shield}", False),
        ("splash-guard: {}", False),
        ("guard-bracket: {}", False),
    ],
)
def test_a_guard(part: str, guard: bool) -> None:
    root = load_text(f"machine: M\nparts:\n  {part}\n", "machine.yaml").root
    assert isinstance(root, Mapping)
    machine, _ = build_machine(root, "machine.yaml")
    assert [is_guard(thing) for thing in machine.things.values()] == [guard]
