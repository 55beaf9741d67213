"""Which guides and files a path stands for, waivers, and what holds for a run as a whole."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.lint.guides import lint
from putback.lint.run import NoGuideError, check_guide, find_guides
from tests.conftest import GUIDE, JOB, MACHINE, Putback, Write

DATA = Path(__file__).parents[1] / "data"
PROCEDURES = Path(__file__).parents[2] / "procedures"

BAD_JOB = "job: Strip\nsteps:\n  - remove: screws\n"


def messages(*paths: str) -> list[str]:
    return [f"{finding.span}: {finding.message}" for finding in lint([Path(path) for path in paths]).findings]


@pytest.mark.parametrize("guide", sorted(PROCEDURES.iterdir()), ids=lambda path: path.name)
def test_the_guides_of_this_repository_give_nothing(guide: Path) -> None:
    result = lint([guide])
    assert result.findings == ()
    assert (result.jobs > 0, result.unreadable) == (True, False)


def test_the_guide_of_the_design_gives_nothing() -> None:
    result = lint([DATA / "tarrick-d2-example"])
    assert result.findings == ()
    assert (result.jobs, result.steps, result.exit_code) == (1, 30, 0)


@pytest.mark.parametrize(
    ("step", "line"),
    [
        ("      - install: impeller\n        new: true\n        turn: clockwise\n", "impeller comes off"),
        ("      - tighten: cover-screws             # to the machine's torque, in its order\n", "never tightened"),
        ("      - caution: running-engine\n", "nothing warns of the running engine"),
    ],
)
def test_the_guide_of_the_design_without_a_step(step: str, line: str) -> None:
    path = (DATA / "tarrick-d2-example" / "jobs" / "impeller.yaml").resolve()
    text = path.read_text(encoding="utf-8")
    assert text.count(step) == 1
    _, findings, _ = check_guide(path.parents[1], {path: text.replace(step, "")})
    assert any(line in finding.message for finding in findings)


# Paths


def test_a_folder_stands_for_all_guides_in_it(write_guide: Write) -> None:
    write_guide({"motor/guide.yaml": GUIDE, "motor/machine.yaml": MACHINE, "motor/jobs/strip.yaml": BAD_JOB})
    assert set(find_guides([Path()])) == {Path("pump").resolve(), Path("motor").resolve()}
    assert messages(".") == messages("motor", "pump") == messages("motor")
    assert len(messages(".")) == 1


def test_a_folder_in_a_guide_stands_for_the_guide(write_guide: Write) -> None:
    write_guide({"pump/jobs/strip.yaml": BAD_JOB})
    assert (
        messages("pump/jobs")
        == messages("pump")
        == ["pump/jobs/strip.yaml:3:13: four screws come off and never go back"]
    )


def test_a_file_stands_for_itself(write_guide: Write) -> None:
    write_guide({"pump/jobs/strip.yaml": BAD_JOB})
    assert messages("pump/jobs/look.yaml") == []
    assert len(messages("pump/jobs/strip.yaml")) == 1


def test_a_file_and_its_guide_stand_for_the_guide(write_guide: Write) -> None:
    write_guide({"pump/jobs/strip.yaml": BAD_JOB})
    assert len(messages("pump/jobs/look.yaml", "pump")) == 1
    assert len(messages("pump", "pump/jobs/look.yaml")) == 1


def test_a_guide_named_twice_is_checked_once(write_guide: Write) -> None:
    write_guide({"pump/jobs/strip.yaml": BAD_JOB})
    result = lint([Path("pump"), Path("pump").resolve(), Path()])
    assert (len(result.findings), result.jobs, result.files) == (1, 2, 5)


def test_hidden_folders_and_links_are_not_searched(write_guide: Write) -> None:
    guide = write_guide({".venv/guide.yaml": GUIDE, "node_modules/guide.yaml": GUIDE})
    (guide.parent / "back-to").symlink_to("pump")
    assert list(find_guides([Path()])) == [Path("pump").resolve()]


def test_shown_paths_are_as_the_user_would_write_them(write_guide: Write, monkeypatch: pytest.MonkeyPatch) -> None:
    guide = write_guide({"pump/jobs/strip.yaml": BAD_JOB})
    monkeypatch.chdir(guide)
    assert messages(".")[0].startswith("jobs/strip.yaml:3:13:")
    monkeypatch.chdir(guide / "jobs")
    assert messages("strip.yaml")[0].startswith("strip.yaml:3:13:")
    monkeypatch.chdir(guide.parent / "shared")
    assert messages("../pump")[0].startswith(f"{guide}/jobs/strip.yaml:3:13:")


def test_a_path_to_nothing(write_guide: Write) -> None:
    write_guide({})
    with pytest.raises(NoGuideError, match="'pumb' does not exist; did you mean 'pump'"):
        find_guides([Path("pumb")])
    with pytest.raises(NoGuideError, match=r"'no/where/at/all' does not exist$"):
        find_guides([Path("no/where/at/all")])


# The run


def test_findings_are_in_the_order_of_files_and_lines(write_guide: Write) -> None:
    write_guide({"pump/jobs/a.yaml": BAD_JOB, "pump/jobs/b.yaml": f"{BAD_JOB}  - remove: nothing\n"})
    result = lint([Path("pump")])
    assert [finding.order for finding in result.findings] == sorted(finding.order for finding in result.findings)
    assert len(result.findings) == 3


def test_a_fault_in_a_block_is_told_once_and_a_job_that_forgets_it_for_itself(write_guide: Write) -> None:
    write_guide(
        {
            "pump/blocks/open.yaml": (
                "block: Open\nends-with: [screws]\nsteps:\n  - remove: screws\n  - clean: lidd\n"
            ),
            "pump/jobs/a.yaml": "job: A\nsteps:\n  - do: open\n",
            "pump/jobs/b.yaml": "job: B\nsteps:\n  - do: open\n",
        }
    )
    assert messages("pump") == [
        "pump/blocks/open.yaml:5:12: nothing is called 'lidd'",
        "pump/jobs/a.yaml:3:9: four screws come off here and never go back",
        "pump/jobs/b.yaml:3:9: four screws come off here and never go back",
    ]


def test_text_that_is_not_saved_stands_in_for_a_file(write_guide: Write) -> None:
    guide = write_guide({}).resolve()
    look = guide / "jobs" / "look.yaml"
    _, findings, _ = check_guide(guide, {look: JOB.replace("lid", "lidd")})
    assert [finding.message for finding in findings] == ["nothing is called 'lidd'"]
    assert check_guide(guide)[1] == []


# Waivers


ACCEPTED = "job: Strip\n{job}steps:\n  - loosen: screws\n  - tighten: screws\n{step}"
STEP = "    waive: {no-final-test: the next job runs it}\n"
WHOLE = "waive: {no-final-test: the next job runs it}\n"


@pytest.mark.parametrize(
    ("files", "found"),
    [
        ({"pump/jobs/a.yaml": ACCEPTED.format(job="", step="")}, ["no-final-test"]),
        ({"pump/jobs/a.yaml": ACCEPTED.format(job="", step=STEP)}, []),
        ({"pump/jobs/a.yaml": ACCEPTED.format(job=WHOLE, step="")}, []),
        ({"pump/jobs/a.yaml": ACCEPTED.format(job="", step=""), "pump/guide.yaml": GUIDE + WHOLE}, []),
        ({"pump/jobs/a.yaml": ACCEPTED.format(job=WHOLE, step=STEP)}, ["bad-waiver"]),
        ({"pump/guide.yaml": GUIDE + WHOLE}, ["bad-waiver"]),
        ({"pump/guide.yaml": GUIDE + "waive: {left-off: it is lost}\n"}, ["bad-waiver"]),
        ({"pump/guide.yaml": GUIDE + "waive: {unproven: it is}\n"}, ["bad-waiver"]),
    ],
)
def test_waivers(files: dict[str, str | bytes | None], found: list[str], write_guide: Write) -> None:
    write_guide(files)
    assert [finding.check for finding in lint([Path("pump")]).findings] == found


def test_a_waiver_alone_hides_no_other_file(write_guide: Write, putback: Putback) -> None:
    bare = ACCEPTED.format(job="", step="")
    write_guide({"pump/jobs/a.yaml": ACCEPTED.format(job=WHOLE, step=""), "pump/jobs/b.yaml": bare})
    answer = putback("lint", "--format", "json", "pump")
    assert [found.split(" ")[:2] for found in answer.findings] == [["pump/jobs/b.yaml:4:14", "no-final-test:"]]
