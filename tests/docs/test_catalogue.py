"""The catalogue of checks: what its pages are drawn from."""

from __future__ import annotations

import importlib
import re
import sys
from pathlib import Path
from types import ModuleType

import pytest

from putback.checks import Group, own_checks
from putback.checks.engine.form import STAGES
from putback.checks.engine.related import MOST, related_to

EXTENSIONS = Path(__file__).parents[2] / "docs" / "_ext"


@pytest.fixture(scope="module")
def pages() -> ModuleType:
    sys.path.insert(0, str(EXTENSIONS))
    try:
        return importlib.import_module("checkpages")
    finally:
        sys.path.remove(str(EXTENSIONS))


def test_it_knows_every_stage_that_finds(pages: ModuleType) -> None:
    assert {check.stage for check in own_checks().values()} - {None} == set(pages.FOUND_BY) == STAGES


def test_it_has_the_groups_in_their_order_and_every_check_once(pages: ModuleType) -> None:
    groups = pages.grouped(reversed(own_checks().values()))
    assert list(groups) == [group for group in Group if group is not Group.HOUSE]
    assert sorted(check.name for members in groups.values() for check in members) == sorted(own_checks())


def test_every_check_says_what_why_and_how_to_fix_it() -> None:
    for name, check in own_checks().items():
        assert all((check.summary, check.why, check.fix)), name
        said = [check.summary, check.why, check.fix, check.sources]
        assert " ".join(said).split() == re.sub(r"\nSources?:", "", check.text).split(), name


def test_a_check_knows_the_answers_that_link_to_it(pages: ModuleType, tmp_path: Path) -> None:
    (tmp_path / "tasks" / "more").mkdir(parents=True)
    answer = "# Torque\n\n(no-torque-known)=\n## No torque\n\nSee [it](../checks/torque-missing.md).\n\n## `LH`\n\n"
    (tmp_path / "tasks" / "torque.md").write_text(answer + "[](../checks/wrong-hand.md) [](../checks/wrong-hand.md)\n")
    quoted = "<!-- with\n# b.yaml\n-->\n\n````yaml\n# a file\n```\n````\n\n"
    linked = "[](../../checks/torque-missing.md)\n\n```{finds} no-range\n```\n"
    (tmp_path / "tasks" / "more" / "x.md").write_text(f"# Gap\n\n{quoted}{linked}")
    assert pages.answers(tmp_path) == {
        "torque-missing": [("tasks/more/x", "", "Gap"), ("tasks/torque", "no-torque-known", "No torque")],
        "no-range": [("tasks/more/x", "", "Gap")],
        "wrong-hand": [("tasks/torque", "", "`LH`")],
    }


def test_related_checks_are_few_and_share_something() -> None:
    checks = own_checks()
    related = {name: related_to(check, checks) for name, check in checks.items()}
    assert all(name not in others and len(others) <= MOST for name, others in related.items())
    assert sum(map(bool, related.values())) > len(checks) / 2
    assert {"left-loose", "left-open", "left-dry"} <= set(related["left-off"])
    assert related["unknown-name"][0] == "unknown-tool"
    assert "no-box" not in related["no-fit"], "'no' says little"
