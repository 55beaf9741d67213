"""Where a fault of a safety message is told: in the guide's own file, or at the step that shows a shared one."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.checks.caution_vague import find as find_vague
from putback.guide.reading import read_guide
from putback.ledger.messages import all_answering, shown_cautions
from putback.ledger.opened import open_guide
from putback.lint.run import check_guide
from putback.source.schema import shipped

WEAK = """
{name}:
  signal: notice
  hazard: Belts turn while the engine runs.
  consequence: They can tear off fingers.
  avoid: [Be careful.]
  covers: [running-engine]
"""
GUARD = "parts: {guard: {}}"
JOB = "job: Run it\nsteps:\n  - caution: {name}\n  - run: engine\n"


def write_guide(root: Path, job: str, **files: str) -> Path:
    """Write a library and a guide; `files` are its own."""
    texts = {
        "shared/hazards.yaml": "running-engine: {signal-at-least: warning, verbs: [run]}\n",
        "shared/cautions.yaml": WEAK.format(name="shared-one") + WEAK.format(name="nobody-shows-it"),
        "guide/guide.yaml": "title: A guide\n",
        "guide/machine.yaml": f"machine: An engine\n{GUARD}\n",
        "guide/jobs/run.yaml": job,
        **{f"guide/{name.replace('__', '/')}.yaml": text for name, text in files.items()},
    }
    for name, text in texts.items():
        path = root / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text, encoding="utf-8")
    return root / "guide"


def places(folder: Path) -> list[tuple[str, int, str]]:
    _, findings, _ = check_guide(folder)
    return [(Path(found.span.path).name, found.span.line, found.check) for found in findings]


def test_a_fault_of_a_shared_caution_is_told_at_each_step_that_shows_it(tmp_path: Path) -> None:
    folder = write_guide(tmp_path, JOB.format(name="shared-one"))
    assert places(folder) == [("run.yaml", 3, "caution-vague"), ("run.yaml", 3, "signal-weak")]


def test_a_fault_of_an_own_caution_is_told_in_its_file(tmp_path: Path) -> None:
    folder = write_guide(tmp_path, JOB.format(name="own-one"), cautions=WEAK.format(name="own-one"))
    assert places(folder) == [("cautions.yaml", 3, "signal-weak"), ("cautions.yaml", 6, "caution-vague")]


def test_a_shared_block_shows_cautions_when_the_guide_does_it(tmp_path: Path) -> None:
    block = "block: Run\nsteps:\n  - caution: shared-one\n  - run: engine\n"
    folder = write_guide(tmp_path, "job: Run it\nsteps:\n  - do: trial\n")
    (tmp_path / "shared" / "blocks").mkdir()
    (tmp_path / "shared" / "blocks" / "trial.yaml").write_text(block, encoding="utf-8")
    (tmp_path / "shared" / "blocks" / "other.yaml").write_text(block, encoding="utf-8")
    (shown,) = shown_cautions(read_guide(folder))
    assert [(Path(span.path).name, span.line) for span in shown.steps] == [("trial.yaml", 3)]
    assert not shown.own


def test_no_caution_of_the_shipped_library_is_vague(tmp_path: Path) -> None:
    folder = write_guide(tmp_path, "job: Look\nsteps:\n  - inspect: guard\n")
    (folder / "cautions.yaml").write_text(
        (shipped("shared") / "cautions.yaml").read_text(encoding="utf-8"), encoding="utf-8"
    )
    (tmp_path / "shared" / "cautions.yaml").write_text("{}\n", encoding="utf-8")
    guide = read_guide(folder)
    assert len(list(shown_cautions(guide))) > 20
    assert list(find_vague(open_guide(guide))) == []


@pytest.mark.parametrize(
    ("wanted", "chosen"),
    [
        (set(), []),
        ({"hot"}, ["wide"]),
        ({"hot", "sharp"}, ["wide"]),
        ({"hot", "sharp", "oily"}, ["wide", "oil"]),
        ({"oily"}, ["oil"]),
        ({"hot", "unheard-of"}, []),
        ({"unheard-of"}, []),
    ],
)
def test_a_few_messages_answer_all_hazards_or_none_does(wanted: set[str], chosen: list[str]) -> None:
    answers = {"burns": {"hot"}, "cuts": {"sharp"}, "wide": {"hot", "sharp", "running"}, "oil": {"oily"}}
    assert all_answering(wanted, answers) == chosen
