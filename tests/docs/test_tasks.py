"""`docs/tasks/`: each answer is linted on the bench machine; what is shown as wrong is found, and nothing else is."""

from __future__ import annotations

import re
from pathlib import Path
from typing import Any

import pytest
from ruamel.yaml import YAML

from tests.docs.answering import answers, lint
from tests.pasted import ROOT

TASKS = ROOT / "docs" / "tasks"
PAGES = sorted(TASKS.glob("*.md"))
TRIED = [
    pytest.param(each, id=f"{page.stem}: {each.question}")
    for page in PAGES
    for each in answers(page.read_text(encoding="utf-8"))
    if each.kind != "{prints}" and each.reason is None
]


@pytest.mark.parametrize("answer", TRIED)
def test_an_answer_gives_the_findings_that_it_names_and_no_other(answer: Any) -> None:
    found = lint(answer)
    told = [f"{each.span.path}: {each.check}: {each.message}" for each in found]
    assert {each.check for each in found} == set(answer.arguments), told


def test_an_answer_that_is_wrong_is_seen() -> None:
    """The guard of the test above."""
    (broken,) = answers("# Guard\n\n```yaml\nsteps:\n  - remove: guard-bolts\n```\n")
    assert {each.check for each in lint(broken)} >= {"left-off"}


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_every_block_of_yaml_is_an_answer(page: Path) -> None:
    text = page.read_text(encoding="utf-8")
    fences = re.findall(r"^`{3,}(?:yaml|\{finds\}|\{prints\})", text, re.MULTILINE)
    assert len(fences) == len(answers(text))


def test_yaml_that_is_no_guide_can_be_read_all_the_same() -> None:
    texts = (page.read_text(encoding="utf-8") for page in PAGES)
    others = [YAML(typ="safe").load(each.shown) for text in texts for each in answers(text) if each.reason]
    first = [next(iter(each)) if isinstance(each, dict) else "a list" for each in others]
    assert first == ["name", "name", "permissions", "guides", "name", "repos", "repos", "a list", "publish"]


@pytest.mark.parametrize("page", [page for page in PAGES if page.stem != "index"], ids=lambda page: page.stem)
def test_every_task_has_a_label_and_is_in_the_index(page: Path) -> None:
    text = re.sub(r"^````.*?^````$", "", page.read_text(encoding="utf-8"), flags=re.DOTALL | re.MULTILINE)
    headings = re.findall(r"^## (.+)$", text, re.MULTILINE)
    labelled = re.findall(r"^```\{index\} \S.*\n```\n\n\(how-[a-z0-9-]+\)=\n\n## (.+)$", text, re.MULTILINE)
    assert headings == labelled
    assert headings


def test_the_index_page_names_every_page() -> None:
    text = (TASKS / "index.md").read_text(encoding="utf-8")
    (contents,) = re.findall(r"^:hidden:\n\n(.*?)\n```", text, re.DOTALL | re.MULTILINE)
    groups = re.findall(r"^```\{tasks\}\n(.*?)\n```", text, re.DOTALL | re.MULTILINE)
    assert contents.split() == " ".join(groups).split()
    assert sorted(contents.split()) == [page.stem for page in PAGES if page.stem != "index"]
