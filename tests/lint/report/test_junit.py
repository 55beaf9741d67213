"""JUnit XML against its schema, and what is a case, a failure, an error."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from lxml import etree

from putback.checks import Group
from putback.lint.guides import lint
from putback.lint.report import junit
from putback.lint.result import Result
from tests.conftest import Write
from tests.lint.report.hostile import TEXTS, hostile
from tests.lint.report.test_sarif import STRIP

# From pytest, which tests its own reports with it; MIT License, Copyright (c) 2014 Gregory Boissinot.
XSD = Path(__file__).with_name("junit-10.xsd")


@cache
def schema() -> etree.XMLSchema:
    return etree.XMLSchema(etree.parse(str(XSD)))


def written(result: Result) -> etree._Element:
    """Return the document of a result, which the schema allows and whose counts are right."""
    top = etree.fromstring(junit.write(result).encode())
    schema().assertValid(top)
    for element in [top, *top.iter("testsuite")]:
        assert int(element.attrib["tests"]) == len(list(element.iter("testcase")))
        for kind, name in (("failure", "failures"), ("error", "errors")):
            assert int(element.attrib[name]) == len(list(element.iter(kind)))
    return top


def cases(top: etree._Element, kind: str) -> list[tuple[str, str]]:
    return [
        (case.attrib["classname"], case.attrib["name"]) for case in top.iter("testcase") if case.find(kind) is not None
    ]


def test_the_schema_refuses_something() -> None:
    assert not schema().validate(etree.fromstring('<testsuites><testsuite name="x"/></testsuites>'))


@pytest.mark.parametrize("text", TEXTS)
def test_hostile_words_give_valid_xml(text: str) -> None:
    top = written(hostile(text))
    whole = junit.write(hostile(text))
    assert not set("\x1b\x7f\x9b\u202e\u2028\ufeff\ufffe") & set(whole)
    assert len(top.findall(".//system-out")) + len(top.findall(".//failure")) + len(top.findall(".//error")) >= 4


def test_a_case_for_each_job_and_group(write_guide: Write) -> None:
    write_guide({"pump/jobs/strip.yaml": STRIP, "pump/jobs/broken.yaml": "job: X\nsteps: 5\n"})
    top = written(lint([Path("pump")]))
    jobs = ["pump/jobs/broken.yaml", "pump/jobs/look.yaml", "pump/jobs/strip.yaml"]
    groups = [group.title for group in Group]
    pump, rest = top.findall("testsuite")
    assert [(case.attrib["classname"], case.attrib["name"]) for case in pump] == [
        (job, group) for job in jobs for group in groups
    ]
    assert cases(top, "error") == [("pump/jobs/broken.yaml", Group.READING.title)]
    assert set(cases(top, "skipped")) == {
        ("pump/jobs/broken.yaml", group) for group in groups if group != Group.READING.title
    }
    assert {job for job, _ in cases(pump, "failure")} == {"pump/jobs/strip.yaml"}
    assert cases(rest, "failure") == [("putback", "everything was checked")]
    (waived,) = [out for out in top.iter("system-out") if "waived" in (out.text or "")]
    assert (waived.text or "").endswith("\nbecause: It is scrap, all of it.")


def test_a_good_guide_has_cases_and_no_fault(write_guide: Write) -> None:
    write_guide({})
    top = written(lint([Path("pump")]))
    assert dict(top.attrib) == {"name": "putback", "tests": str(len(Group)), "failures": "0", "errors": "0"}


def test_what_was_not_asked_for_is_no_failure() -> None:
    top = written(Result(left_out=("other files",)))
    assert cases(top, "skipped") == [("putback", "everything was checked")]
    assert cases(top, "failure") == []
