"""The closing line says "everything goes back" of everything only, else what was not looked at; so does the JSON."""

from __future__ import annotations

import pytest

from tests.conftest import GUIDE, JOB, MACHINE, Putback, Write

Files = dict[str, str | bytes | None]

GOOD = "job: Look again\nsteps:\n  - clean: lid\n  - clean: screws\n"
OPTIONS = f"{MACHINE}options:\n  shaft: [long, short]\n  drive: [belt, gear]\n"
MANY = """\
machine: Bench pump
parts: {lid: {}}
fasteners:
  screws: {name: lid screw, count: 300, secures: lid}
"""
ROUNDS = """\
job: Rounds
steps:
  - remove: screws
    count: 1
    name: look
  - check: the joint
    limit: dry
    otherwise:
      - back-to: look
  - install: screws
  - check: the joint, at last
    limit: dry
    otherwise:
      - stop: Do the job again.
"""
BAD = "job: Bad\nsteps:\n  - inspekt: lid\n    note: Look for cracks.\n"
BLOCK = "block: B\nsteps:\n  - clean: lid\n"
STOP = "  - stop: The rest is in the next job.\n"

CASES: dict[str, tuple[Files, list[str], str, int, list[str]]] = {
    "all of it": ({"pump/jobs/b.yaml": GOOD}, ["pump"], "2 jobs, 3 steps in 5 files: everything goes back", 0, []),
    "a job of a wrong shape": (
        {"pump/jobs/b.yaml": BAD},
        ["pump"],
        "1 of 2 jobs, 1 step in 5 files: 1 error; not checked: 1 of 2 jobs",
        1,
        ["1 of 2 jobs"],
    ),
    "a job that is no YAML": (
        {"pump/jobs/b.yaml": "job: [\n"},
        ["pump"],
        "1 of 2 jobs, 1 step in 5 files: 1 error, not everything could be read; not checked: 1 of 2 jobs",
        2,
        ["1 of 2 jobs"],
    ),
    "a job in a folder of its own": (
        {"pump/jobs/deep/b.yaml": GOOD},
        ["pump"],
        "1 of 2 jobs, 1 step in 4 files: 1 error; not checked: 1 of 2 jobs",
        1,
        ["1 of 2 jobs"],
    ),
    "no machine that could be used": (
        {"pump/machine.yaml": "machine: Pump\nprats: {}\n", "pump/blocks/b.yaml": BLOCK},
        ["pump"],
        "0 of 1 job, 0 steps in 5 files: 1 error; not checked: 1 of 1 job, 1 of 1 block",
        1,
        ["1 of 1 job", "1 of 1 block"],
    ),
    "a loop in the order": (
        {"pump/machine.yaml": f"{MACHINE}stacks:\n  - [lid, screws]\n"},
        ["pump"],
        "0 of 1 job, 0 steps in 4 files: 1 error; not checked: 1 of 1 job",
        1,
        ["1 of 1 job"],
    ),
    "a loop in the order, and one job asked for": (
        {"pump/machine.yaml": f"{MACHINE}stacks:\n  - [lid, screws]\n"},
        ["pump/jobs/look.yaml"],
        "0 of 1 job, 0 steps in 4 files: 1 error; not checked: 1 of 1 job, the other files of pump",
        1,
        ["1 of 1 job", "the other files of pump"],
    ),
    "every variant excluded": (
        {"pump/machine.yaml": f"{OPTIONS}exclude: [{{shaft: long}}, {{shaft: short}}]\n"},
        ["pump"],
        "0 of 1 job, 0 steps in 4 files: 1 error; not checked: 1 of 1 job",
        1,
        ["1 of 1 job"],
    ),
    "one variant": (
        {"pump/machine.yaml": OPTIONS},
        ["pump", "--variant", "shaft=long", "--variant", "drive=gear"],
        "1 job, 1 step in 4 files: all that was checked goes back; "
        "not checked: variants other than shaft = long and drive = gear",
        0,
        ["variants other than shaft = long and drive = gear"],
    ),
    "one job": (
        {"pump/jobs/b.yaml": GOOD},
        ["pump/jobs/b.yaml"],
        "1 job, 2 steps in 5 files: all that was checked goes back; not checked: the other files of pump",
        0,
        ["the other files of pump"],
    ),
    "one job beside a bad one": (
        {"pump/jobs/b.yaml": BAD},
        ["pump/jobs/look.yaml"],
        "1 job, 1 step in 5 files: all that was checked goes back; not checked: the other files of pump",
        0,
        ["the other files of pump"],
    ),
    "one bad job beside a good one": (
        {"pump/jobs/b.yaml": BAD},
        ["pump/jobs/b.yaml"],
        "0 of 1 job, 0 steps in 5 files: 1 error; not checked: 1 of 1 job, the other files of pump",
        1,
        ["1 of 1 job", "the other files of pump"],
    ),
    "one job beside one that cannot be read": (
        {"pump/jobs/b.yaml": "job: [\n"},
        ["pump/jobs/look.yaml"],
        "1 job, 1 step in 5 files: all that was checked goes back; not checked: the other files of pump",
        0,
        ["the other files of pump"],
    ),
    "one job of a machine that cannot be read": (
        {"pump/machine.yaml": "machine: [\n"},
        ["pump/jobs/look.yaml"],
        "0 of 1 job, 0 steps in 4 files: 1 error, not everything could be read; "
        "not checked: 1 of 1 job, the other files of pump",
        2,
        ["1 of 1 job", "the other files of pump"],
    ),
    "one job with a library that cannot be read": (
        {"shared/hazards.yaml": "a: [\n"},
        ["pump/jobs/look.yaml"],
        "1 job, 1 step in 5 files: 1 error, not everything could be read; "
        "not checked: what needs the library's hazards, the other files of pump",
        2,
        ["what needs the library's hazards", "the other files of pump"],
    ),
    "the machine file": (
        {},
        ["pump/machine.yaml"],
        "0 jobs, 0 steps in 4 files: nothing found; not checked: the other files of pump",
        0,
        ["the other files of pump"],
    ),
    "a file that is not read": (
        {"pump/notes.txt": "x"},
        ["pump/notes.txt"],
        "0 jobs, 0 steps in 4 files: nothing found; "
        "not checked: pump/notes.txt, which is not read, the other files of pump",
        0,
        ["pump/notes.txt, which is not read", "the other files of pump"],
    ),
    "more ways than can be followed": (
        {"pump/machine.yaml": MANY, "pump/jobs/look.yaml": ROUNDS},
        ["pump"],
        "0 of 1 job, 0 steps in 4 files: 1 error; not checked: 1 of 1 job",
        1,
        ["1 of 1 job"],
    ),
    "no job": (
        {"pump/jobs/look.yaml": None},
        ["pump"],
        "0 jobs, 0 steps in 3 files: there is no job to check",
        0,
        [],
    ),
    "a guide without a job beside another": (
        {"motor/guide.yaml": GUIDE, "motor/machine.yaml": MACHINE},
        ["."],
        "1 job, 1 step in 6 files: all that was checked goes back; not checked: motor, which has no job",
        0,
        ["motor, which has no job"],
    ),
    "a fault that is accepted": (
        {"pump/jobs/b.yaml": BAD, "pump/guide.yaml": f"{GUIDE}waive: {{wrong-shape: it will be mended}}\n"},
        ["pump"],
        "1 of 2 jobs, 1 step in 5 files: all that was checked goes back; not checked: 1 of 2 jobs",
        1,
        ["1 of 2 jobs"],
    ),
    "a library whose fault is accepted": (
        {
            "shared/hazards.yaml": "heat: {signal-at-least: loud}\n",
            "pump/guide.yaml": f"{GUIDE}waive: {{wrong-shape: it will be mended}}\n",
        },
        ["pump"],
        "1 job, 1 step in 5 files: all that was checked goes back; not checked: what needs the library's hazards",
        1,
        ["what needs the library's hazards"],
    ),
    "a block of a wrong shape that nobody does": (
        {"pump/blocks/b.yaml": "block: B\nstpes: []\n"},
        ["pump"],
        "1 job, 1 step in 5 files: 1 error; not checked: 1 of 1 block",
        1,
        ["1 of 1 block"],
    ),
    "no cover": (
        {"pump/guide.yaml": "titel: Bench pump\n"},
        ["pump"],
        "1 job, 1 step in 4 files: 1 error; not checked: what guide.yaml of pump says",
        1,
        ["what guide.yaml of pump says"],
    ),
    "a symptom table of a wrong shape": (
        {"pump/symptoms.yaml": "dry: {sing: No water comes.}\n"},
        ["pump"],
        "1 job, 1 step in 5 files: 2 errors; not checked: what symptoms.yaml of pump says",
        1,
        ["what symptoms.yaml of pump says"],
    ),
    "a stop at the end": (
        {"pump/jobs/look.yaml": f"{JOB}{STOP}"}, ["pump"], "1 job, 2 steps in 4 files: everything goes back", 0, [],
    ),
    "a stop in the middle": (
        {"pump/jobs/look.yaml": f"{JOB}{STOP}  - remove: lid\n"}, ["pump"], "1 job, 2 steps in 4 files: 1 error", 1, [],
    ),
    "a stop in front": (
        {"pump/jobs/look.yaml": f"job: Look\nsteps:\n{STOP}  - remove: lid\n"},
        ["pump"],
        "1 job, 1 step in 4 files: 1 error",
        1,
        [],
    ),
    "a stop in a block": (
        {
            "pump/blocks/b.yaml": f"block: B\nsteps:\n{STOP}",
            "pump/jobs/look.yaml": "job: Look\nsteps:\n  - do: b\n  - remove: lid\n",
        },
        ["pump"],
        "1 job, 1 step in 5 files: 1 error",
        1,
        [],
    ),
}  # fmt: skip


@pytest.mark.parametrize(("files", "args", "line", "code", "not_checked"), CASES.values(), ids=CASES)
def test_the_closing_line(
    files: Files, args: list[str], line: str, code: int, not_checked: list[str], write_guide: Write, putback: Putback
) -> None:
    write_guide(files)
    text, data = putback("lint", *args), putback("lint", *args, "--format", "json")
    assert text.out.rstrip("\n").split("\n")[-1] == line
    assert (text.code, data.code) == (code, code)
    summary = data.data["summary"]
    assert summary["not_checked"] == not_checked
    assert summary["complete"] == (not not_checked and summary["jobs"] > 0)
    assert ("everything goes back" in line) <= summary["complete"]


@pytest.mark.parametrize("name", ["look.yaml", "linked.yaml"])
def test_a_job_that_is_a_link_stands_for_itself(name: str, write_guide: Write, putback: Putback) -> None:
    pump = write_guide({"pump/jobs/look.yaml": "job: Look\nsteps:\n  - clean: lidd\n"})
    elsewhere = pump / "elsewhere.yaml"
    elsewhere.write_text("job: Look\nsteps:\n  - clean: lidd\n", encoding="utf-8")
    (pump / "jobs" / "linked.yaml").symlink_to("../elsewhere.yaml")
    answer = putback("lint", "--format", "json", f"pump/jobs/{name}")
    assert answer.findings == [f"pump/jobs/{name}:3:12 unknown-name: nothing is called 'lidd'"]


def test_what_is_not_checked_is_not_printed(write_guide: Write, putback: Putback) -> None:
    write_guide({"pump/jobs/b.yaml": BAD, "pump/guide.yaml": f"{GUIDE}waive: {{wrong-shape: it will be mended}}\n"})
    answer = putback("build", "pump")
    assert answer.code == 1
    assert "not checked: 1 of 2 jobs" in answer.err
    assert "pump is not printed" in answer.err
