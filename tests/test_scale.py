"""Large guides: what an author could write in earnest is checked to its end, and what is beyond that is told.

Nothing is timed here. What is counted is what time goes with: entries of the ledger, and rows of the diagrams.
"""

from __future__ import annotations

import importlib.util
import sys
from collections import Counter
from pathlib import Path
from types import ModuleType

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.lint.run import result_of
from putback.source.intake import Memory
from tests.conftest import Putback

ROOT = Path(__file__).parents[1]


def scaling() -> ModuleType:
    spec = importlib.util.spec_from_file_location("scaling", ROOT / ".ci" / "scaling.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    sys.modules["scaling"] = module
    spec.loader.exec_module(module)
    return module


SCALING = scaling()


def guide_of(row: str, size: int) -> Guide:
    texts: dict[str, str] = SCALING.COVER | SCALING.ROWS[row].make(size)
    return read_guide(Path("/g"), store=Memory({Path("/g", name): text for name, text in texts.items()}))


def cost(row: str, size: int) -> tuple[int, int]:
    """Return the entries of all books, and the rows of the diagrams when all checks have run."""
    case = open_guide(guide_of(row, size))
    assert case.graph is not None
    result_of(case)
    return sum(len(book.entries) for book in case.books), len(case.graph.space._rows)


@pytest.mark.parametrize("row", [name for name, row in SCALING.ROWS.items() if not row.beyond])
def test_what_could_be_written_in_earnest_is_checked_to_its_end(row: str) -> None:
    kind = SCALING.ROWS[row]
    result = result_of(open_guide(guide_of(row, kind.sizes[-1])))
    found = Counter(finding.check for finding in result.findings)
    assert set(found) == set(kind.finds)
    assert not result.unchecked
    assert all(found[check] <= most for check, most in kind.finds.items())


@pytest.mark.parametrize("row", [name for name, row in SCALING.ROWS.items() if row.beyond])
def test_what_is_beyond_that_is_told_at_its_place(row: str) -> None:
    kind = SCALING.ROWS[row]
    result = result_of(open_guide(guide_of(row, kind.sizes[-1])))
    [finding] = [finding for finding in result.findings if finding.check == "too-many-loops"]
    assert kind.beyond in finding.message
    assert not result.complete
    assert result.boundless == (row != "checks_left")


def test_many_things_in_one_way_are_told_by_the_first_few() -> None:
    many = 50
    parts = "parts:\n  p: {}\n" + "".join(f"  c{n}: {{}}\n" for n in range(many))
    behind = f"access-after: {{p: [{', '.join(f'c{n}' for n in range(many))}]}}\n"
    steps = SCALING.job("  - remove: p\n  - install: p\n" + SCALING.PROVED)
    texts = SCALING.COVER | {"machine.yaml": SCALING.HEAD + parts + behind, "jobs/job.yaml": steps}
    store = Memory({Path("/g", name): text for name, text in texts.items()})
    result = result_of(open_guide(read_guide(Path("/g"), store=store)))
    blocked = [finding for finding in result.findings if finding.check == "blocked" and finding.span.line == 3]
    assert len(blocked) == 6
    assert sum(finding.message.endswith("; and 44 more like this") for finding in blocked) == 1


def test_what_has_no_end_is_not_printed_even_as_a_draft(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, putback: Putback
) -> None:
    for name, text in (SCALING.COVER | SCALING.blocks(30)).items():
        path = tmp_path / "deep" / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    answer = putback("build", "--draft", "deep")
    assert answer.code == 1
    assert "deep is not printed, not even as a draft" in answer.err
    assert not (tmp_path / "build").exists()


@pytest.mark.parametrize("row", ["steps", "checks_back", "checks_to_start", "attached", "entangled", "met", "excluded"])
def test_twice_the_size_is_little_more_than_twice_the_work(row: str) -> None:
    (entries, rows), (more_entries, more_rows) = cost(row, 16), cost(row, 32)
    power = 4.2 if row == "checks_to_start" else 2.2  # each check goes through all before it once more
    assert more_entries <= power * entries
    assert more_rows <= 4.2 * rows
