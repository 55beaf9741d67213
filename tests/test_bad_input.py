"""Bad input through the command: a message with file, line, column and what would be right, and never a traceback.

Exit codes: 1 for errors in what was read, 2 when something could not be read or the command was called wrongly.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import NamedTuple

import pytest

from tests.conftest import GUIDE, JOB, MACHINE, Putback, Write

Content = str | bytes | None


class Bad(NamedTuple):
    """Files that replace those of a good guide, and what must be said of them."""

    files: dict[str, Content]
    code: int
    found: list[str]
    hint: str | None = None
    """Part of the hint of the first finding."""


def job(steps: str) -> dict[str, Content]:
    return {"pump/jobs/look.yaml": f"job: Look\nsteps:\n{steps}"}


def machine(text: str) -> dict[str, Content]:
    return {"pump/machine.yaml": text}


LOOK = "pump/jobs/look.yaml"
PLAIN_YAML = "check the indentation, and quote values that contain ': ' or start with a symbol"

BAD = {
    "empty job": Bad({LOOK: ""}, 1, [f"{LOOK}:1:1 not-yaml: the file is empty"]),
    "empty machine file": Bad(machine(""), 1, ["pump/machine.yaml:1:1 not-yaml: the file is empty"]),
    "empty guide file": Bad({"pump/guide.yaml": ""}, 1, ["pump/guide.yaml:1:1 not-yaml: the file is empty"]),
    "empty library file": Bad(
        {"shared/equipment.yaml": ""}, 1, ["shared/equipment.yaml:1:1 not-yaml: the file is empty"]
    ),
    "only a comment": Bad({LOOK: "# to be written\n"}, 1, [f"{LOOK}:1:1 not-yaml: the file is empty"]),
    "a list that is not closed": Bad(
        job("  - inspect: [lid\n  - inspect: lid\n"),
        2,
        [f"{LOOK}:3:14 not-yaml: the list that '[' opens here is not closed"],
        "close it",
    ),
    "a colon in a note": Bad(
        job("  - note: Look: a lid\n"),
        2,
        [f"{LOOK}:3:15 not-yaml: there is a colon where no key can be"],
        "quote values",
    ),
    "an open quotation mark": Bad(
        job('  - note: "Look\n'), 2, [f"{LOOK}:3:11 not-yaml: a quotation mark is opened here and never closed"]
    ),
    "not UTF-8": Bad(
        {LOOK: "job: Lücke\n".encode("latin-1")},
        2,
        [f"{LOOK}:1:7 not-yaml: the file is not UTF-8 text (byte 0xfc)"],
        "save it with the encoding UTF-8",
    ),
    "UTF-16": Bad(
        {LOOK: JOB.encode("utf-16")}, 2, [f"{LOOK}:1:1 not-yaml: the file is not UTF-8 text (byte 0xff)"], "UTF-8"
    ),
    "a NUL byte": Bad(
        {LOOK: b"job: Look\x00\n"}, 2, [f"{LOOK}:1:10 not-yaml: there is a control character (U+0000 NUL)"], "remove it"
    ),
    "a tab": Bad(
        {LOOK: "job: Look\nsteps:\n\t- inspect: lid\n"},
        2,
        [f"{LOOK}:3:1 not-yaml: a tab is used to indent"],
        "indent with spaces",
    ),
    "a key twice": Bad(
        {LOOK: f"job: Look\n{JOB}"},
        1,
        [f"{LOOK}:2:1 not-plain: the key 'job' is here a second time; the first is on line 1"],
        "keep one of them",
    ),
    "anchor and alias": Bad(
        job("  - inspect: &it lid\n  - inspect: *it\n"),
        1,
        [f"{LOOK}:3:14 not-plain: '&it' is an anchor", f"{LOOK}:4:14 not-plain: '*it' is an alias"],
        "write it out in full; what is shared is reused by name",
    ),
    "a merge key": Bad(
        job("  - inspect: lid\n    <<: {for: cracks}\n"),
        1,
        [f"{LOOK}:4:5 not-plain: '<<' is a merge key"],
        "write it out",
    ),
    "a tag": Bad(
        job("  - inspect: !!python/name:os lid\n"), 1, [f"{LOOK}:3:14 not-plain: '!!python/name:os' is a tag"]
    ),
    "a job that is a list": Bad(
        {LOOK: "- inspect: lid\n"},
        1,
        [f"{LOOK}:1:1 wrong-shape: the file must be a mapping with 'job', and 'steps' or 'sections', not a list"],
    ),
    "a job that is text": Bad(
        {LOOK: "Look under the lid\n"},
        1,
        [
            f"{LOOK}:1:1 wrong-shape: the file must be a mapping with 'job', and 'steps' or 'sections', "
            "not 'Look under the lid'"
        ],
    ),
    "a machine file that is a list": Bad(
        machine("- pump\n"),
        1,
        ["pump/machine.yaml:1:1 wrong-shape: the file must be a mapping with 'machine', not a list"],
    ),
    "parts as a list": Bad(
        machine("machine: Pump\nparts:\n  - lid\n"),
        1,
        ["pump/machine.yaml:3:3 wrong-shape: 'parts' must be a mapping from names to parts, not a list"],
    ),
    "a misspelt verb": Bad(
        job("  - inspekt: lid\n    note: Look for cracks.\n"),
        1,
        [f"{LOOK}:3:5 wrong-shape: 'inspekt' is not a verb; did you mean 'inspect'?"],
    ),
    "two verbs": Bad(
        job("  - remove: lid\n    install: lid\n"),
        1,
        [f"{LOOK}:4:5 wrong-shape: two verbs in one step: 'remove' and 'install'"],
        "make two steps, with one action each",
    ),
    "a step without a value": Bad(
        job("  - inspect:\n"), 1, [f"{LOOK}:3:5 wrong-shape: 'inspect' has no value"], "a name or a list of names"
    ),
    "an unknown part": Bad(
        job("  - inspect: lidd\n    note: Look for cracks.\n"),
        1,
        [f"{LOOK}:3:14 unknown-name: nothing is called 'lidd'"],
        "did you mean 'lid'?",
    ),
    "a bare number": Bad(
        machine(MACHINE.replace("4 N·m", "4")),
        1,
        ["pump/machine.yaml:5:61 bare-number: '4' has no unit"],
        "write the unit, as in '4 N·m'",
    ),
    "an impossible unit": Bad(
        machine(MACHINE.replace("4 N·m", "4 litres")),
        1,
        ["pump/machine.yaml:5:61 bad-quantity: '4 litres' is a volume, but a torque is expected"],
    ),
    "a count of none": Bad(
        job("  - remove: screws\n    count: 0\n"),
        1,
        [f"{LOOK}:4:12 wrong-shape: 'count' must be a whole number of at least 1, not 0"],
    ),
    "a count of five thousand digits": Bad(
        machine(MACHINE.replace("count: 4", f"count: {'9' * 5000}")),
        1,
        [
            "pump/machine.yaml:5:32 wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a "
            f"mapping from one option to numbers, not '{'9' * 39}…'"
        ],
    ),
    "a cycle in the machine": Bad(
        machine(f"{MACHINE}stacks:\n  - [lid, screws]\n"),
        1,
        ["pump/machine.yaml:7:11 bad-cycle: nothing can come off first: lid before screw, screw before lid"],
    ),
    "no machine file": Bad(
        machine(""), 2, ["pump/machine.yaml:1:1 no-file: this guide has no machine.yaml"], "describe the machine there"
    )._replace(files={"pump/machine.yaml": None}),
    "no guide file": Bad(
        {"pump/guide.yaml": None}, 2, ["pump/guide.yaml:1:1 no-file: this guide has no guide.yaml"], "'title: …'"
    ),
    "a missing picture": Bad(
        job("  - clean: lid\n    figure: {image: lid.svg, alt: The lid.}\n"),
        1,
        [f"{LOOK}:4:21 no-picture: there is no picture 'lid.svg' in images/"],
        "put it in pump/images",
    ),
    "deep lists": Bad(
        {LOOK: f"job: Look\nsteps: {'[' * 3000}{']' * 3000}\n"},
        2,
        [f"{LOOK}:2:57 not-yaml: the file is nested more than 50 levels deep"],
        "use far fewer levels",
    ),
    "a million characters that are no YAML": Bad(
        {LOOK: f"job: Look\nsteps:\n  - note: Look: {'x' * 1_000_000}\n"},
        2,
        [f"{LOOK}:3:15 not-yaml: there is a colon where no key can be"],
    ),
    "a key of a million characters": Bad(
        {LOOK: f'? "{"x" * 1_000_000}"\n: 1\n{JOB}'},
        1,
        [f"{LOOK}:1:3 wrong-shape: unknown key '{'x' * 39}…'"],
    ),
}


@pytest.mark.parametrize("bad", BAD.values(), ids=BAD)
def test_each_fault_is_told_where_it_is(bad: Bad, write_guide: Write, putback: Putback) -> None:
    write_guide(bad.files)
    answer = putback("lint", "--format", "json", "pump")
    assert answer.findings == bad.found
    assert answer.code == bad.code
    if bad.hint:
        assert bad.hint in answer.data["findings"][0]["hint"]


@pytest.mark.parametrize("bad", BAD.values(), ids=BAD)
def test_the_text_report_says_the_same(bad: Bad, write_guide: Write, putback: Putback) -> None:
    write_guide(bad.files)
    answer = putback("lint", "pump")
    for found in bad.found:
        place, check, message = found.split(" ", 2)
        assert message in answer.out
        assert f"error {check.rstrip(':')} at {place}" in answer.out
    assert answer.code == bad.code


def test_the_good_guide_of_these_tests_is_good(write_guide: Write, putback: Putback) -> None:
    write_guide({})
    answer = putback("lint", "pump")
    assert (answer.code, answer.out) == (0, "1 job, 1 step in 4 files: everything goes back\n")


@pytest.mark.parametrize(
    "text", [JOB.replace("\n", "\r\n").encode(), b"\xef\xbb\xbf" + JOB.encode(), JOB.strip().encode()]
)
def test_line_ends_and_byte_order_marks_are_no_faults(text: bytes, write_guide: Write, putback: Putback) -> None:
    write_guide({LOOK: text})
    assert putback("lint", "pump").code == 0


def test_a_line_of_a_million_characters_is_no_fault(write_guide: Write, putback: Putback) -> None:
    write_guide(job(f"  - note: {'x' * 1_000_000}\n"))
    assert putback("lint", "pump").code == 0


def test_a_long_line_is_cut_in_the_report(write_guide: Write, putback: Putback) -> None:
    write_guide(job(f"  - {{note: {'x' * 1_000_000}, fro: it}}\n"))
    answer = putback("lint", "pump")
    assert answer.code == 1
    assert max(map(len, answer.out.split("\n"))) < 200


# Things that are no files


def test_a_folder_called_like_a_job(write_guide: Write, putback: Putback) -> None:
    (write_guide({}) / "jobs" / "strip.yaml").mkdir()
    answer = putback("lint", "--format", "json", "pump")
    assert answer.findings == ["pump/jobs/strip.yaml:1:1 unread-file: the file cannot be read: it is a folder"]
    assert answer.code == 2


def test_a_broken_link(write_guide: Write, putback: Putback) -> None:
    (write_guide({}) / "jobs" / "strip.yaml").symlink_to("nowhere.yaml")
    answer = putback("lint", "--format", "json", "pump")
    assert answer.findings == [
        "pump/jobs/strip.yaml:1:1 unread-file: the file cannot be read: "
        "it is a link to 'nowhere.yaml', which does not exist"
    ]
    assert answer.code == 2


def test_a_link_to_itself(write_guide: Write, putback: Putback) -> None:
    (write_guide({}) / "jobs" / "strip.yaml").symlink_to("strip.yaml")
    answer = putback("lint", "pump")
    assert "the file cannot be read: it is a link that leads back to itself" in answer.out
    assert answer.code == 2


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root reads everything")
def test_a_file_that_may_not_be_read(write_guide: Write, putback: Putback) -> None:
    (write_guide({}) / "jobs" / "look.yaml").chmod(0)
    answer = putback("lint", "--format", "json", "pump")
    assert answer.findings == [f"{LOOK}:1:1 unread-file: the file cannot be read: permission denied"]
    assert answer.code == 2


def test_a_file_that_may_not_be_read_is_told_for_root_too(
    write_guide: Write, putback: Putback, monkeypatch: pytest.MonkeyPatch
) -> None:
    opened = os.open

    def refuse(path: str | Path, flags: int, *rest: int) -> int:
        if Path(path).name == "look.yaml":
            raise PermissionError(13, "Permission denied", str(path))
        return opened(path, flags, *rest)

    write_guide({})
    monkeypatch.setattr(os, "open", refuse)
    answer = putback("lint", "--format", "json", "pump")
    assert answer.findings == [f"{LOOK}:1:1 unread-file: the file cannot be read: permission denied"]
    assert answer.code == 2


# Called wrongly


@pytest.mark.parametrize(
    ("args", "message"),
    [
        (["pumb"], "'pumb' does not exist; did you mean 'pump'?"),
        (["nothing-like-it"], "'nothing-like-it' does not exist"),
        (["shared"], "there is no guide in 'shared': a guide is a folder with guide.yaml and machine.yaml"),
        (["shared/tools.yaml"], "'shared/tools.yaml' is not in a guide: there is no machine.yaml beside or above it"),
        (["--format", "jsn", "pump"], "Invalid value for '--format': 'jsn' is not one of 'text', 'github'"),
        (["--fromat", "json", "pump"], "--format"),
    ],
)
def test_called_wrongly(args: list[str], message: str, write_guide: Write, putback: Putback) -> None:
    write_guide({})
    answer = putback("lint", *args)
    assert message in answer.err
    assert answer.err.startswith("Usage: putback lint ")
    assert (answer.code, answer.out) == (2, "")


# Several at once


def test_all_faults_of_all_files_are_told_in_one_run(write_guide: Write, putback: Putback) -> None:
    write_guide(
        {
            "pump/guide.yaml": "titel: Bench pump\n",
            "pump/machine.yaml": f"{MACHINE}lines:\n  hose: {{joins: [lidd]}}\n",
            "pump/equipment.yaml": "stand: {rated-load: 60}\n",
            "pump/blocks/broken.yaml": 'block: "x\n',
            "pump/jobs/look.yaml": (
                "job: Look\nsteps:\n  - inspekt: lid\n    text: x\n  - inspect: lid\n    fro: cracks\n"
            ),
            "pump/jobs/strip.yaml": "job: Strip\nsteps:\n  - remove: screws\n  - remove: led\n    time: 5\n",
        }
    )
    answer = putback("lint", "--format", "json", "pump")
    assert answer.findings == [
        "pump/blocks/broken.yaml:1:8 not-yaml: a quotation mark is opened here and never closed",
        "pump/equipment.yaml:1:21 bare-number: '60' has no unit",
        "pump/guide.yaml:1:1 wrong-shape: unknown key 'titel'; did you mean 'title'?",
        "pump/jobs/look.yaml:3:5 wrong-shape: 'inspekt' is not a verb; did you mean 'inspect'?",
        # Read as the 'for' that it was meant for, so that what else is wrong with the step is told as well.
        "pump/jobs/look.yaml:5:5 no-way-out: nothing says what to do if this fails: lid without cracks",
        "pump/jobs/look.yaml:6:5 wrong-shape: unknown key 'fro'; did you mean 'for'?",
        "pump/jobs/strip.yaml:3:13 left-off: four screws come off and never go back",
        # Read as the lid that it was meant for, so that what else is wrong with it is told as well.
        "pump/jobs/strip.yaml:4:13 left-off: lid comes off and never goes back",
        "pump/jobs/strip.yaml:4:13 unknown-name: nothing is called 'led'",
        "pump/jobs/strip.yaml:5:11 bare-number: '5' has no unit",
        "pump/machine.yaml:7:18 unknown-name: nothing is called 'lidd'",
    ]
    assert answer.code == 2


def test_what_could_not_be_checked_is_said(write_guide: Write, putback: Putback) -> None:
    write_guide({LOOK: "job: Look\nsteps:\n  - ogle: lid\n  - ogle: lid\n"})
    first, second = putback("lint", "--format", "json", "pump").data["findings"]
    assert first["also"][-1]["message"] == "the order of this job was not checked: 2 faults in this file"
    assert not second["also"]


def test_a_broken_machine_file_says_what_follows_from_it(write_guide: Write, putback: Putback) -> None:
    write_guide({"pump/machine.yaml": "machine: Pump\ngadgets: {}\n"})
    (finding,) = putback("lint", "--format", "json", "pump").data["findings"]
    assert finding["also"][-1]["message"] == "the order of every job was not checked: 1 fault in this file"


def test_two_guides_of_which_one_is_broken(write_guide: Write, putback: Putback) -> None:
    write_guide(
        {
            "motor/machine.yaml": "machine: [\n",
            "motor/guide.yaml": GUIDE,
            **job("  - inspect: lidd\n    note: Look for cracks.\n"),
        }
    )
    answer = putback("lint", "--format", "json")
    assert [found.split(" ")[0] for found in answer.findings] == ["motor/machine.yaml:2:1", "pump/jobs/look.yaml:3:14"]
    assert answer.code == 2


def test_a_machine_with_very_many_variants(write_guide: Write, putback: Putback) -> None:
    options = "".join(f"  o{number}: [a, b, c]\n" for number in range(60))
    parts = "".join(f"  p{number}: {{when: {{o{number}: a}}}}\n" for number in range(60))
    steps = "".join(f"  - remove: p{number}\n" for number in range(60))
    write_guide({"pump/machine.yaml": f"machine: Pump\noptions:\n{options}parts:\n{parts}", **job(steps)})
    answer = putback("lint", "--format", "json", "pump")
    assert [found["variant"] for found in answer.data["findings"]] == [{f"o{number}": "a"} for number in range(60)]
