"""`docs/tasks/`: each answer is linted on the bench machine; what is shown as wrong is found, and all else is not."""

from __future__ import annotations

import importlib.util
import re
from pathlib import Path
from types import ModuleType
from typing import Any

import pytest

from tests.pasted import ROOT

TASKS = ROOT / "docs" / "tasks"
PAGES = sorted(TASKS.glob("*.md"))


def load_answers() -> ModuleType:
    spec = importlib.util.spec_from_file_location("answers", ROOT / "docs" / "_ext" / "answers.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


ANSWERS = load_answers()
TRIED = [
    pytest.param(each, id=f"{page.stem}: {each.question}")
    for page in PAGES
    for each in ANSWERS.answers(page.read_text(encoding="utf-8"))
    if each.kind != "{prints}" and each.reason is None
]


@pytest.mark.parametrize("answer", TRIED)
def test_an_answer_gives_the_findings_that_it_names_and_no_other(answer: Any) -> None:
    found = ANSWERS.found_in(answer)
    named = sorted(set(answer.arguments))
    assert sorted({each.check for each in found}) == named, [f"{e.span.path}: {e.check}: {e.message}" for e in found]


def test_an_answer_that_is_wrong_is_seen() -> None:
    """The guard of the test above."""
    (broken,) = ANSWERS.answers("# Guard\n\n```yaml\nsteps:\n  - remove: guard-bolts\n```\n")
    assert {each.check for each in ANSWERS.found_in(broken)} >= {"left-off"}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_block_of_yaml_is_an_answer(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    fences = re.findall(r"^`{3,}(?:yaml|\{finds\}|\{prints\})", text, re.MULTILINE)
    assert len(fences) == len([*ANSWERS.answers(text)])


@pytest.mark.parametrize("page", [page for page in PAGES if page.stem != "index"], ids=lambda page: page.stem)
def test_every_task_has_a_label_and_is_in_the_index(page: Path) -> None:
    text = re.sub(r"^````.*?^````$", "", page.read_text(encoding="utf-8"), flags=re.DOTALL | re.MULTILINE)
    headings = re.findall(r"^## (.+)$", text, re.MULTILINE)
    labelled = re.findall(r"^```\{index\} \S.*\n```\n\n\(how-[a-z0-9-]+\)=\n\n## (.+)$", text, re.MULTILINE)
    assert headings == labelled
    assert headings


def test_the_index_page_names_every_page() -> None:
    text = (TASKS / "index.md").read_text(encoding="utf-8")
    listed = set(re.findall(r"\]\(([a-z-]+)\.md\)", text))
    assert listed == {page.stem for page in PAGES} - {"index"}
    assert {
        name for block in re.findall(r":hidden:\n\n(.*?)\n```", text, re.DOTALL) for name in block.split()
    } == listed
