"""A check in parts: each guide in one of them, the same everywhere; merged, they are the whole check."""

from __future__ import annotations

import json
import random
import re
import shlex
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st
from ruamel.yaml import YAML

from putback.lint import parts
from putback.lint.guides import lint
from putback.lint.parts import CheckPart, split
from putback.lint.report import formats
from tests.conftest import GUIDE, MACHINE, Putback, Write

ROOT = Path(__file__).parents[2]
PROCEDURES = ROOT / "procedures"
STRIP = "job: Strip\nsteps:\n  - remove: screws\n  - remove: lid\n"
WAIVED = (
    "job: Scrap\nwaive:\n  no-final-test: it is scrap\nsteps:\n"
    "  - remove: screws\n  - install: screws\n  - tighten: screws\n"
)
USES = "job: Use\nsteps:\n  - remove: screws\n    tool: hook\n"


def many_guides(write: Write) -> None:
    """Write guides with errors, waivers, broken files, a shared library that is faulty, and one without a job."""
    files: dict[str, str | bytes | None] = {"shared/tools.yaml": "hook: {name: hook}\nrod: {nam: rod}\n"}
    bodies = [STRIP, WAIVED, "job: [\n", USES, f"{STRIP}# {'x' * 900}\n", WAIVED + STRIP.partition("steps:\n")[2]]
    for number, body in enumerate(bodies):
        guide = f"guides/g{number}"
        files |= {f"{guide}/guide.yaml": GUIDE, f"{guide}/machine.yaml": MACHINE, f"{guide}/jobs/job.yaml": body}
    files |= {"guides/empty/guide.yaml": GUIDE, "guides/empty/machine.yaml": MACHINE, "guides/g1/jobs/b.yaml": b"\xff"}
    write(files)


def run_parts(putback: Putback, of: int, *paths: str) -> tuple[list[str], list[int]]:
    """Check each part and return the reports and the exit codes."""
    names, codes = [], []
    for number in range(1, of + 1):
        names.append(f"{number}of{of}.json")
        codes.append(putback("lint", *paths, "--part", f"{number}/{of}", "--report", f"json:{names[-1]}").code)
    return names, codes


@pytest.mark.parametrize("of", [1, 2, 3, 9])
def test_merged_parts_are_the_whole_check(write_guide: Write, putback: Putback, of: int) -> None:
    many_guides(write_guide)
    names, codes = run_parts(putback, of)
    random.Random(of).shuffle(names)
    for form in formats():
        whole, merged = putback("lint", "--format", form), putback("merge", *names, "--format", form)
        assert merged == whole, form
    assert whole.code == max(codes) == 2
    findings = putback("lint", "--format", "json").data
    assert {each["check"] for each in findings["waived"]} == {"no-final-test"}
    assert sum(each["path"] == "shared/tools.yaml" for each in findings["findings"]) == 1


def test_merged_parts_of_the_shipped_guides_are_the_whole_check(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, putback: Putback
) -> None:
    monkeypatch.chdir(tmp_path)
    names, codes = run_parts(putback, 3, str(PROCEDURES))
    assert codes == [0, 0, 0]
    reports = [word for form in ("json", "junit") for word in ("--report", f"{form}:whole/{form}")]
    whole = putback("lint", str(PROCEDURES), *reports)
    assert putback("merge", *names, *(word.replace("whole", "merged") for word in reports)) == whole
    for form in ("json", "junit"):
        assert Path("merged", form).read_bytes() == Path("whole", form).read_bytes()


def test_merged_parts_have_the_baseline_of_the_whole_check(write_guide: Write, putback: Putback) -> None:
    many_guides(write_guide)
    names, _ = run_parts(putback, 3)
    putback("lint", "--baseline", "whole.yaml", "--renew")
    putback("merge", *names, "--baseline", "merged.yaml", "--renew")
    lines = Path("whole.yaml").read_text(encoding="utf-8")
    assert Path("merged.yaml").read_text(encoding="utf-8") == lines
    Path("guides/g0/jobs/job.yaml").write_text("job: Look\nsteps:\n  - inspect: lid\n", encoding="utf-8")
    Path("guides/g1/jobs/new.yaml").write_text(STRIP, encoding="utf-8")
    names, _ = run_parts(putback, 3)
    for form in formats():
        words = ("--baseline", "whole.yaml", "--format", form)
        whole = putback("lint", *words)
        assert putback("merge", *names, *words) == whole, form
    assert whole.code == 2
    found = putback("merge", *names, "--baseline", "whole.yaml", "--format", "json").data
    assert found["summary"]["known"] > 0
    assert any(not each["known"] and each["path"] == "guides/g1/jobs/new.yaml" for each in found["findings"])


def test_a_merge_in_another_folder_has_the_same_paths(
    write_guide: Write, putback: Putback, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    many_guides(write_guide)
    (tmp_path / ".git").mkdir()
    monkeypatch.chdir(tmp_path / "guides")
    names, _ = run_parts(putback, 2)
    whole = {form: putback("lint", "--format", form) for form in ("sarif", "gitlab", "github")}
    elsewhere = tmp_path.parent / f"{tmp_path.name}-merge"
    elsewhere.mkdir()
    monkeypatch.chdir(elsewhere)
    reports = [str(tmp_path / "guides" / name) for name in names]
    assert {form: putback("merge", *reports, "--format", form) for form in whole} == whole


def test_a_part_says_that_it_is_one(write_guide: Write, putback: Putback) -> None:
    write_guide({"motor/guide.yaml": GUIDE, "motor/machine.yaml": MACHINE, "motor/jobs/look.yaml": "job: X\n"})
    answers = [putback("lint", "pump", "motor", "--part", f"{number}/3") for number in (1, 2, 3)]
    assert [answer.code for answer in answers] == [0, 1, 0]
    assert answers[0].out == (
        "1 job, 1 step in 4 files: all that was checked goes back; "
        "not checked: 1 of 2 guides, which are in other parts (this is part 1 of 3)\n"
    )
    assert answers[2].out == (
        "0 jobs, 0 steps in 0 files: nothing found; "
        "not checked: 2 of 2 guides, which are in other parts (this is part 3 of 3)\n"
    )
    data = putback("lint", "pump", "motor", "--part", "1/3", "--format", "json").data
    assert (data["summary"]["complete"], data["part"]["split"]) == (False, {"pump": 1, "motor": 2})


@given(st.lists(st.integers(0, 50), max_size=12), st.integers(1, 6), st.randoms(use_true_random=False))
def test_a_split_is_fair_and_does_not_depend_on_the_order(costs: list[int], of: int, luck: random.Random) -> None:
    guides = {Path(f"g{number:02}"): cost for number, cost in enumerate(costs)}
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(parts, "cost_of", guides.__getitem__)
        found = split(guides, of)
        mixed = luck.sample(list(guides), len(guides))
        assert split(mixed, of) == found
        assert list(split(mixed, of)) == mixed
    loads = [sum(guides[guide] for guide in found if found[guide] == number) for number in range(1, of + 1)]
    assert set(found.values()) <= set(range(1, of + 1))
    # Graham (1969): the longest part is at most 4/3 - 1/(3 of) times the best there is, which is at least these.
    ordered = sorted(costs, reverse=True)
    best = max([sum(costs) / of, *ordered[:1], *([ordered[of - 1] + ordered[of]] if len(ordered) > of else [])])
    assert max(loads) <= best * (4 / 3 - 1 / (3 * of)) + 1e-9 or max(loads) <= best + ordered[0]


def test_every_part_has_guides_when_there_are_enough(write_guide: Write) -> None:
    many_guides(write_guide)
    found = split([path.parent for path in sorted(Path("guides").glob("*/guide.yaml"))], 4)
    assert set(found.values()) == {1, 2, 3, 4}
    assert found[Path("guides/g4")] != found[Path("guides/g5")]  # the two longest


@pytest.mark.parametrize(
    ("word", "message"),
    [
        ("x", "--part takes K/N, such as 2/3 for the second of three parts, not 'x'"),
        ("1/0", "--part has no part 1 of 0; the parts of N are 1/N to N/N"),
        ("0/3", "--part has no part 0 of 3; the parts of N are 1/N to N/N"),
        ("4/3", "--part has no part 4 of 3; the parts of N are 1/N to N/N"),
        ("-1/3", "--part takes K/N, such as 2/3 for the second of three parts, not '-1/3'"),
        ("1/1001", "--part makes 1,000 parts at most, not 1,001"),
    ],
)
def test_a_part_that_is_none(write_guide: Write, putback: Putback, word: str, message: str) -> None:
    write_guide({})
    answer = putback("lint", "pump", "--part", word)
    assert (answer.code, answer.out, answer.err.splitlines()[-1]) == (2, "", f"Error: {message}")


def test_a_part_checks_all_variants(write_guide: Write, putback: Putback) -> None:
    write_guide({})
    answer = putback("lint", "pump", "--part", "1/2", "--variant", "a=b")
    assert answer.code == 2
    assert answer.err.endswith("Error: --part is for a check of everything, in all variants; leave out --variant\n")


# What cannot be merged


@pytest.fixture
def reports(write_guide: Write, putback: Putback) -> list[str]:
    many_guides(write_guide)
    return run_parts(putback, 3)[0]


def refused(putback: Putback, *names: str) -> str:
    answer = putback("merge", *names)
    assert (answer.code, answer.out) == (2, "")
    assert answer.err.startswith("Error: ")
    return answer.err.removeprefix("Error: ").rstrip("\n")


def test_parts_that_do_not_belong_together(reports: list[str], putback: Putback) -> None:
    assert refused(putback, *reports[:2]) == "part 3 of 3 is missing"
    assert refused(putback, reports[1]) == "parts 1 and 3 of 3 are missing"
    assert refused(putback, *reports, reports[0]) == "1of3.json and 1of3.json are both part 1"
    others, _ = run_parts(putback, 2)
    two = "are of two different splits: check all parts of the same commit and paths"
    assert refused(putback, *reports[:2], others[0]) == f"1of3.json and 1of2.json {two}"
    changed = json.loads(Path(reports[2]).read_text(encoding="utf-8"))
    for change, message in (
        ({"split": {"guides/g1": 3}}, f"2of3.json and x.json {two}"),
        ({"folder": "elsewhere"}, "2of3.json and x.json were made in two different folders"),
        ({"version": "9.9"}, "x.json is of Putback 9.9, and this is 0.1.0: check and merge with one version"),
    ):
        Path("x.json").write_text(json.dumps(changed | {"part": changed["part"] | change}), encoding="utf-8")
        assert refused(putback, *reports[:2], "x.json") == message


MAKE = "make one with 'putback lint --part K/N --report json:FILE'"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (b"", "x.json:1:1: this is not JSON: expecting value"),
        (b'{\n  "a": 1\n  "b": 2\n}', "x.json:3:3: this is not JSON: expecting ',' delimiter"),
        (b'{"a": "\xff"}', "x.json: this is not JSON: byte 8 is not UTF-8"),
        (b"[" * 100_000, "x.json: this is not JSON of a report: a number is too long, or it is nested too deeply"),
        (b"1" * 5000, "x.json: this is not JSON of a report: a number is too long, or it is nested too deeply"),
        (b"[]", f"x.json: this is no report of a part; {MAKE}"),
        (b"{}", f"x.json: this is no report of a part; {MAKE}"),
        (
            b'{"findings": [], "summary": {}}',
            f"x.json: this is the report of a whole check, and there is nothing to merge; {MAKE}",
        ),
        (
            b'{"findings": 5, "waived": [], "summary": {}, "part": {}}',
            "x.json: this is no whole report of a part: 'findings' is not as it must be",
        ),
        (
            b'{"findings": [], "waived": [], "summary": {}, "part": {"x": "\\ud800"}, "y": 1}',
            "x.json: this is no whole report of a part: a text has half a character",
        ),
    ],
)  # fmt: skip
def test_a_file_that_is_no_report(write_guide: Write, putback: Putback, text: bytes, message: str) -> None:
    write_guide({"x.json": text})
    assert refused(putback, "x.json") == message


def test_a_report_that_is_not_there(write_guide: Write, putback: Putback) -> None:
    write_guide({})
    assert refused(putback, "no.json").startswith("no.json: it cannot be read: ")
    assert putback("merge").code == 2


def slots(data: Any, path: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """Return the way to everything in a document."""
    inner = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    return [path, *(way for key, value in inner for way in slots(value, (*path, key)))]


def test_a_report_that_somebody_changed_gives_a_message(reports: list[str], putback: Putback) -> None:
    """Whatever stands anywhere in a report, the answer is a result or a message."""
    luck = random.Random(7)
    text = Path(reports[0]).read_text(encoding="utf-8")
    ways = slots(json.loads(text))
    for _ in range(300):
        data = {"": json.loads(text)}
        *above, last = ("", *luck.choice(ways))
        spot: Any = data
        for key in above:
            spot = spot[key]
        spot[last] = luck.choice([None, -1, 10**30, "\ud800\0", [], {}, True, 1.5, [{}], {"x": 1}])
        Path("x.json").write_text(json.dumps(data[""]), encoding="utf-8")
        answer = putback("merge", "x.json", *reports[1:], "--format", luck.choice(formats()))
        assert answer.code in (0, 1, 2)
        assert answer.code != 2 or answer.out or answer.err.startswith("Error: ")
        assert "fault in Putback" not in answer.err, answer.err


def test_parts_are_whole_in_any_number(write_guide: Write) -> None:
    many_guides(write_guide)
    for of in (2, 5):
        results = [lint([Path()], part=CheckPart(number, of)) for number in range(1, of + 1)]
        seen = [looked.guide for result in results for looked in result.guides]
        assert sorted(seen) == sorted({looked.guide for looked in lint([Path()]).guides})
        assert all(one.share and two.share and one.share.split == two.share.split for one, two in pairwise(results))


def test_the_workflow_of_the_page_checks_all_parts(
    write_guide: Write, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is there to copy is run as the platform would."""
    page = (ROOT / "docs" / "tasks" / "ci.md").read_text(encoding="utf-8")
    block = re.search(r"^```yaml\n(name: guides\n.*?)^```$", page, re.DOTALL | re.MULTILINE)
    assert block is not None
    jobs = YAML(typ="safe", pure=True).load(block[1])["jobs"]
    many_guides(write_guide)
    Path("guides").rename("procedures")

    def ran(job: str, number: int = 0) -> int:
        lines = [step["run"] for step in jobs[job]["steps"] if step.get("run", "").startswith("putback ")]
        (line,) = [line.replace("${{ matrix.part }}", str(number)) for line in lines]
        words = [sorted(map(str, Path().glob(word))) if "*" in word else [word] for word in shlex.split(line)[1:]]
        return putback(*(word for some in words for word in some)).code

    numbers = jobs["part"]["strategy"]["matrix"]["part"]
    codes = [ran("part", number) for number in numbers]
    assert ran("guides") == max(codes) == 2
    run = json.loads(Path("putback.sarif").read_text(encoding="utf-8"))["runs"][0]
    assert len(run["results"]) > len(numbers)
