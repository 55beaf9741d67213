"""`docs/tasks/how-to-say.md`: each answer is linted on the bench machine, and gives no finding."""

from __future__ import annotations

import io
import re
from typing import Any, NamedTuple

import pytest
from ruamel.yaml import YAML

from putback.source.finding import Finding
from putback.testing.examples import BENCH, JOB, Example, run_example
from tests.pasted import ROOT

PAGE = ROOT / "docs" / "tasks" / "how-to-say.md"
"""The page."""

FENCE = re.compile(r"(?:^<!-- with\n(?P<rest>.*?)^-->\n\n?)?^```yaml\n(?P<shown>.*?)^```$", re.DOTALL | re.MULTILINE)
"""An answer: what is shown, and the rest of the guide that it stands in, which is not."""

FILE = re.compile(r"^# (\S+\.yaml)\n", re.MULTILINE)
"""What starts another file, within an answer."""

AROUND = ("before", "after")
"""In the rest: steps that come before those shown, and after them."""


class Answer(NamedTuple):
    """One answer of the page."""

    question: str
    shown: str
    rest: str


def answers() -> list[Answer]:
    found = []
    for part in re.split(r"^### ", PAGE.read_text(encoding="utf-8"), flags=re.MULTILINE)[1:]:
        question, _, text = part.partition("\n")
        blocks = [Answer(question, each["shown"], each["rest"] or "") for each in FENCE.finditer(text)]
        assert blocks, f"'{question}' has no answer"
        found += blocks
    return found


def read(text: str) -> Any:
    return YAML(typ="safe", pure=True).load(text) or {}


def merged(one: Any, other: Any) -> Any:
    """Add what the second says to the first: mappings key by key, lists one after the other."""
    if isinstance(one, dict) and isinstance(other, dict):
        return one | {key: merged(one[key], value) if key in one else value for key, value in other.items()}
    return [*one, *other] if isinstance(one, list) and isinstance(other, list) else other


def files(text: str) -> dict[str, Any]:
    """Return what a text says of each file: without a heading, of the machine, or of the job once there are steps."""
    before, *rest = FILE.split(text)
    found = dict(zip(rest[::2], map(read, rest[1::2]), strict=True))
    head = read(before)
    job = {"steps", "sections", "job", "before", "after"} & set(head)
    return ({JOB if job else "machine.yaml": head} if head else {}) | found


def guide_of(answer: Answer) -> dict[str, str]:
    """Return the files of the guide that an answer makes of the bench machine."""
    said = merged(files(answer.rest), files(answer.shown))
    if (job := said.get(JOB)) is not None:
        around = [job.pop(key, []) for key in AROUND]
        if "steps" in job:
            job["steps"] = [*around[0], *job["steps"], *around[1]]
        said[JOB] = {"job": "Example"} | job
    machine = read((BENCH / "machine.yaml").read_text(encoding="utf-8"))
    said["machine.yaml"] = merged(machine, said.get("machine.yaml", {}))
    pages = {"index.md": "```{putback-symptoms}\n```\n"} if "symptoms.yaml" in said else {}
    return {path: written(value) for path, value in said.items()} | pages


def written(value: Any) -> str:
    yaml, out = YAML(), io.StringIO()
    yaml.width = 10_000
    yaml.dump(value, out)
    return out.getvalue()


def lint(answer: Answer) -> list[Finding]:
    return run_example(Example(guide_of(answer)))


@pytest.mark.parametrize("answer", answers(), ids=lambda answer: answer.question)
def test_an_answer_gives_no_finding(answer: Answer) -> None:
    assert [f"{each.span.path}: {each.check}: {each.message}" for each in lint(answer)] == []


def test_an_answer_that_is_wrong_is_seen() -> None:
    """The guard of the test above."""
    broken = Answer("", "steps:\n  - remove: guard-bolts\n", "")
    assert {each.check for each in lint(broken)} >= {"left-off"}


def test_there_are_thirty_questions() -> None:
    assert len({answer.question for answer in answers()}) >= 30
