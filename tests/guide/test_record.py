"""A guide is one value: what was read does not change any more."""

from __future__ import annotations

from collections.abc import MutableMapping
from dataclasses import FrozenInstanceError, fields, is_dataclass, replace
from pathlib import Path
from typing import Any, cast

import pytest

from putback.guide.library import read_shelf
from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.lint.guides import lint
from putback.lint.run import result_of
from putback.source.schema import shipped
from tests.conftest import Write


def mutable(value: object, way: str, seen: set[int]) -> list[str]:
    """Return the ways to everything in a record that could be written into."""
    if id(value) in seen:
        return []
    seen.add(id(value))
    if isinstance(value, MutableMapping | list | set):
        return [way]
    if isinstance(value, tuple | frozenset):
        return [found for each in value for found in mutable(each, f"{way}[]", seen)]
    if hasattr(value, "items"):
        return [found for key, each in cast(Any, value).items() for found in mutable(each, f"{way}[{key}]", seen)]
    if not is_dataclass(value):
        return []
    found = [] if cast(Any, type(value)).__dataclass_params__.frozen else [way]
    for field in fields(value):
        found += mutable(getattr(value, field.name), f"{way}.{field.name}", seen)
    return found


@pytest.fixture
def guide(write_guide: Write) -> Guide:
    block = "block: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n"
    machine = (
        "machine: Pump\noptions: {size: [small, large]}\ncontrols: {tap: {positions: [open, shut], normal: shut}}\n"
        "parts: {lid: {wear: {measure: thickness, limit: 3 mm}}}\n"
        "fasteners: {bolts: {count: 4, torque: 9 N·m, layout: circle 46 mm, stages: [snug, 9 N·m], secures: lid}}\n"
        "needs: {run: {tap: open}}\nresults-in: {run: {tap: open}}\n"
    )
    return read_guide(write_guide({"pump/machine.yaml": machine, "pump/blocks/off.yaml": block, "pump/a.md": "# A\n"}))


def test_nothing_in_a_guide_can_be_written_into(guide: Guide) -> None:
    assert guide.faults == ()
    assert guide.machine is not None
    assert guide.jobs
    assert guide.blocks
    assert guide.pages
    assert mutable(replace(guide, store=cast(Any, None)), "guide", set()) == []


def test_nothing_in_a_shelf_or_a_result_can_be_written_into(guide: Guide) -> None:
    assert mutable(read_shelf(shipped("shared"), "shared"), "shelf", set()) == []
    assert mutable(result_of(open_guide(guide)), "result", set()) == []
    assert mutable(lint([guide.root]), "result", set()) == []


def test_what_could_be_written_into_is_seen(guide: Guide) -> None:
    assert guide.machine is not None
    object.__setattr__(guide.machine, "things", dict(guide.machine.things))
    object.__setattr__(guide, "faults", [])
    assert mutable(replace(guide, store=cast(Any, None)), "guide", set()) == ["guide.machine.things", "guide.faults"]


@pytest.mark.parametrize("name", ["machine", "jobs", "library", "faults", "unread"])
def test_no_field_can_be_set(name: str, guide: Guide) -> None:
    with pytest.raises(FrozenInstanceError):
        setattr(guide, name, None)


def test_a_mapping_that_was_handed_over_can_change_without_the_guide() -> None:
    pages = {"a.md": "# A"}
    guide = Guide(Path("/pump"), "pump", pages=pages)
    pages["b.md"] = "# B"
    assert dict(guide.pages) == {"a.md": "# A"}
    assert dict(replace(guide, shown="other").pages) == {"a.md": "# A"}


def test_two_readings_are_two_guides(guide: Guide) -> None:
    again = read_guide(guide.root)
    assert guide != again
    assert len({guide, again}) == 2


def test_jobs_that_are_lost_are_missed(write_guide: Write) -> None:
    assert not read_guide(write_guide({})).misses_jobs
    assert read_guide(write_guide({"pump/jobs/look.yaml": "job: [\n"})).misses_jobs
