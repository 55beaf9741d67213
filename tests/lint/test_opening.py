"""A guide that is read to be printed has the result of that very guide, kept or not."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.lint.cache import Cache
from putback.lint.guides import lint
from putback.lint.opening import open_witnessed, result_for
from putback.lint.result import Result
from putback.lint.run import result_of
from tests.lint.keeping import write_guides


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a folder for results; the current one has two small guides with faults."""
    write_guides(tmp_path / "guides")
    monkeypatch.chdir(tmp_path / "guides")
    return tmp_path / "kept"


def read() -> Guide:
    return open_witnessed([Path("pump")])[0].guide


def asked(guide: Guide, cache: Cache, catalogues: dict[str, str] | None = None) -> tuple[Result, int]:
    """Return the result, and how often the guide had to be checked for it."""
    checked = []

    def opened() -> Opened:
        checked.append(guide)
        return open_guide(guide)

    return result_for(guide, (), opened, cache, catalogues), len(checked)


def test_lint_and_build_take_the_results_of_each_other(kept: Path) -> None:
    expected = result_of(open_guide(read()))
    lint([Path("pump")], cache=Cache(kept))
    assert asked(read(), Cache(kept)) == (expected, 0)
    Path("pump/index.md").write_text("# Pump\n", encoding="utf-8")
    assert asked(read(), Cache(kept))[1] == 1
    assert asked(read(), Cache(kept))[1] == 0
    assert asked(read(), Cache(None))[1] == 1


def test_the_result_is_that_of_what_was_read_and_not_of_what_is_there_now(kept: Path) -> None:
    job = Path("pump/jobs/open.yaml")
    good = job.read_text(encoding="utf-8")
    job.write_text(good + "  - remove: sprocket\n", encoding="utf-8")
    faulty = read()
    job.write_text(good, encoding="utf-8")
    lint([Path("pump")], cache=Cache(kept))
    result, checked = asked(faulty, Cache(kept))
    assert checked == 1
    assert any("sprocket" in finding.message for finding in result.findings)
    # What was then kept is of the faulty job, and is not taken for the good one.
    result, checked = asked(read(), Cache(kept))
    assert not any("sprocket" in finding.message for finding in result.findings)


def test_with_other_translations_it_is_another_result(kept: Path) -> None:
    guide = read()
    assert guide.catalogues
    assert asked(guide, Cache(kept))[1] == 1
    without = replace(guide, catalogues={})
    assert asked(without, Cache(kept), {})[1] == 1
    assert asked(without, Cache(kept), {})[1] == 0
    assert asked(read(), Cache(kept))[1] == 0
