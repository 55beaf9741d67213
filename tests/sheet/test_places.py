"""What is there several times: walked place by place, told once, printed once with a box for each place."""

from __future__ import annotations

import re
import time
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.lint.run import findings_of
from putback.sheet import JobSheet, SheetStep, sheet_of
from putback.source.finding import Level
from putback.words import as_text, catalogue

MACHINE = """\
machine: Test engine
options: {deck: [narrow, wide]}
places: {cylinder: 3, side: [left, right]}
parts:
  pump: {}
  head: {}
  valve-cover: {}
  rocker: {each: cylinder}
  push-rods: {each: cylinder, count: 2, own-places: true}
  injector: {each: cylinder, replace: always, number: TE-1, torque: 30 N·m, thread: M24 x 2.0}
  balls: {count: not counted}
fasteners:
  cover-nuts: {kind: nut, count: {deck: {narrow: 2, wide: 3}}, drive: hex 10 mm, torque: 8 N·m, secures: valve-cover}
  rocker-nuts: {kind: nut, each: cylinder, count: 2, thread: M8 x 1.25, class: "8", drive: hex 13 mm, torque: 20 N·m,
                secures: rocker, retighten-after: 10 h}
lines:
  injector-pipe: {each: cylinder, joins: [injector, pump]}
stacks:
  - [valve-cover, rocker, push-rods, head]
access-after:
  rocker-nuts: [valve-cover]
settings:
  valve-clearance: {each: cylinder, limit: 0.13 mm .. 0.17 mm, disturbed-by: rocker}
"""

START = """\
skill: Anybody who has done it once.
steps:
  - remove: cover-nuts
  - remove: valve-cover
"""

ROUND = """\
  - each: cylinder
    steps:
      - remove: rocker-nuts
      - remove: rocker
      - mark: push-rods
      - remove: push-rods
      - install: push-rods
      - install: rocker
      - install: rocker-nuts
      - tighten: rocker-nuts
      - adjust: valve-clearance
      - measure: valve-clearance
        otherwise:
          - stop: Adjust it again.
"""

END = """\
  - install: valve-cover
  - install: cover-nuts
  - tighten: cover-nuts
  - check: the engine
    limit: runs evenly within 10 s
    otherwise:
      - stop: Do the job again.
"""


def opened(folder: Path, steps: str, machine: str = MACHINE, **blocks: str) -> Opened:
    (folder / "jobs").mkdir(parents=True)
    (folder / "blocks").mkdir()
    (folder / "guide.yaml").write_text("title: Test\n", encoding="utf-8")
    (folder / "machine.yaml").write_text(machine, encoding="utf-8")
    (folder / "jobs" / "job.yaml").write_text(f"job: Test\n{steps}", encoding="utf-8")
    for name, text in blocks.items():
        (folder / "blocks" / f"{name}.yaml").write_text(f"block: {name}\n{text}", encoding="utf-8")
    return open_guide(read_guide(folder))


def told(found: Opened) -> list[str]:
    # That a follow-up is missing is true of this machine, and another matter.
    apart = (each for each in findings_of(found)[0] if each.check != "follow-up-missing")
    return [each.message for each in apart if each.level is not Level.ADVICE]


def sheet(found: Opened) -> JobSheet:
    made = sheet_of(found.guide.jobs["job"], found)
    assert made is not None
    return made


def lines(found: Opened) -> list[str]:
    words = catalogue(found)

    def shown(line: SheetStep) -> str:
        grid = "".join(f" [{' '.join(each.names)}]" for each in line.grids)
        return f"{line.number} {as_text(words.step(line.step, line.stays_in))}{grid}"

    return [shown(line).replace("\N{NO-BREAK SPACE}", " ") for line in sheet(found).walk()]


def test_it_is_printed_once_with_a_box_for_each_place(tmp_path: Path) -> None:
    found = opened(tmp_path, START + ROUND + END)
    assert told(found) == []
    assert lines(found)[:6] == [
        "1 Remove the two cover nuts (10 mm hex).",
        "2 Remove the three cover nuts (10 mm hex).",
        "3 Remove the valve cover.",
        "4 Do this for each cylinder, one after the other.",
        "4a Remove the two rocker nuts (M8 x 1.25, 13 mm hex). [1 2 3]",
        "4b Remove the rocker. [1 2 3]",
    ]
    assert "4ja Stop here. Adjust it again." in lines(found)  # nobody ticks where it ends


def test_counts_are_of_all_places(tmp_path: Path) -> None:
    made = sheet(opened(tmp_path, START + ROUND + END))
    assert [(row.thing.key, row.out, row.back) for row in made.count_back] == [
        ("cover-nuts@deck=narrow", 2, 2), ("cover-nuts@deck=wide", 3, 3), ("valve-cover", 1, 1),
        ("rocker-nuts", 6, 6), ("rocker", 3, 3), ("push-rods", 6, 6),
    ]  # fmt: skip
    assert [(row.setting.key, row.step) for row in made.settings] == [("valve-clearance", "4j")]
    assert [(row.thing.key, row.count, row.steps) for row in made.follow_ups] == [("rocker-nuts", 6, ("4h",))]


STEPS = [match[0] for match in re.finditer(r"^ +- [a-z]+: [a-z-]+\n", START + ROUND + END, re.MULTILINE)]
"""What can be lost."""
NO_SLIP = ("each", "check", "adjust")
"""To measure is enough: only what is out of its limit is adjusted."""


@pytest.mark.parametrize("step", [step for step in STEPS if not any(word in step for word in NO_SLIP)])
def test_one_slip_in_what_is_done_for_each_is_told_once(step: str, tmp_path: Path) -> None:
    whole = START + ROUND + END
    at = whole.index(step) + len(step)
    assert whole.count(step) == 1
    if whole[at:].startswith((" " * 8 + "otherwise", " " * 4 + "limit")):
        return  # what hangs on it would hang on nothing
    messages = told(opened(tmp_path, whole.replace(step, "")))
    assert 1 <= len(messages) <= 3
    assert not any("@" in message for message in messages)


def test_a_thing_holds_its_own_place_alone(tmp_path: Path) -> None:
    one = """\
  - remove: rocker-nuts
    at: 2
  - remove: rocker
    at: 2
  - mark: push-rods
    at: 2
  - remove: push-rods
    at: {place}
  - install: push-rods
    at: {place}
  - install: rocker
    at: 2
  - install: rocker-nuts
    at: 2
  - tighten: rocker-nuts
    at: 2
  - adjust: valve-clearance
    at: 2
"""
    assert told(opened(tmp_path / "a", START + one.format(place=2) + END)) == []
    wrong = told(opened(tmp_path / "b", START + one.format(place=3) + END))
    assert wrong == [
        "push rods cannot come off: rocker is still on it",
        "push rods come off, but nothing shows which piece goes back where",
    ]
    assert "7 Remove the two push rods. [2]" in lines(opened(tmp_path / "c", START + one.format(place=2) + END))


def test_what_came_off_at_all_places_goes_back_place_by_place(tmp_path: Path) -> None:
    steps = "steps:\n  - remove: rocker-nuts\n  - remove: rocker\n  - mark: push-rods\n  - remove: push-rods\n"
    ends = (
        "begins-with: [cover-nuts, valve-cover]\nends-with: [cover-nuts, valve-cover, rocker-nuts, rocker, push-rods]\n"
    )
    do = "  - do: off\n  - reverse: off\n  - adjust: valve-clearance\n"
    found = opened(tmp_path, START + do + END, off=ends + steps)
    assert told(found) == []
    back = [line for line in lines(found) if re.match(r"(8|9|10|11) ", line)]
    assert back == [
        "8 Install the two push rods. [1 2 3]",
        "9 Install the rocker. [1 2 3]",
        "10 Install the two rocker nuts (M8 x 1.25, 13 mm hex) hand-tight. [1 2 3]",
        "11 Tighten the two rocker nuts to 20 N·m (15 lbf·ft). [1 2 3]",
    ]


def test_an_end_of_a_line_is_that_at_its_own_place(tmp_path: Path) -> None:
    do = "  - disconnect: injector-pipe\n    at: injector\n"
    found = opened(tmp_path / "a", START + do + do.replace("dis", "") + END)
    assert told(found) == []
    assert "4 Disconnect the injector pipe from the injector. [1 2 3]" in lines(found)
    one = "  - disconnect: injector-pipe\n    at: 2\n"
    found = opened(tmp_path / "b", START + one + one.replace("dis", "") + END)
    assert "4 Disconnect the injector pipe. [2]" in lines(found)
    assert told(opened(tmp_path / "c", START + one + END)) == ["injector pipe comes off and is never reconnected"]


def test_a_block_is_done_for_each_place_with_what_it_takes(tmp_path: Path) -> None:
    block = "takes: {what: fastener}\nsteps:\n  - remove: what\n  - install: what\n    new: true\n  - tighten: what\n"
    pipes = "  - disconnect: injector-pipe\n  - {}  - connect: injector-pipe\n"
    do = "each: cylinder\n    steps:\n      - do: change\n        with: {what: injector}\n"
    found = opened(tmp_path / "a", START + pipes.format(do) + END, change=block)
    assert told(found) == []
    assert "5b Install a new injector (M24 x 2.0, part number TE-1) hand-tight. [1 2 3]" in lines(found)
    assert [(row.thing.key, row.count) for row in sheet(found).set_up.parts] == [("injector", 3)]
    lost = block.replace("  - tighten: what\n", "")
    assert told(opened(tmp_path / "b", START + pipes.format(do) + END, change=lost)) == [
        "injector goes in hand-tight and is never tightened"
    ]


def test_what_is_not_counted_is_all_or_none(tmp_path: Path) -> None:
    found = opened(tmp_path, START + "  - remove: balls\n  - install: balls\n" + END)
    assert told(found) == []
    assert "4 Remove all the balls." in lines(found)


def test_places_within_places(tmp_path: Path) -> None:
    look = "          - inspect: push-rods\n            for: a bend\n"
    inner = f"  - each: side\n    steps:\n      - each: cylinder\n        steps:\n{look}"
    machine = MACHINE.replace("[valve-cover, rocker, push-rods, head]", "[valve-cover, rocker, head]")
    found = opened(
        tmp_path, START + inner + "            otherwise:\n              - stop: Renew them.\n" + END, machine
    )
    assert told(found) == []
    assert any(line.endswith("[left, 1 left, 2 left, 3 right, 1 right, 2 right, 3]") for line in lines(found))


def test_six_times_forty_steps_are_fast(tmp_path: Path) -> None:
    forty = ROUND.replace(
        "\n          - stop: Adjust it again.", "\n          - adjust: valve-clearance\n          - back-to: again"
    )
    forty = forty.replace(
        "- adjust: valve-clearance\n      - measure", "- adjust: valve-clearance\n        name: again\n      - measure"
    )
    machine = MACHINE.replace("cylinder: 3", "cylinder: 6")
    start = time.process_time()
    found = opened(tmp_path, START + forty * 4 + END, machine)
    assert told(found) == []
    assert time.process_time() - start < 5


BY_HAND = ("rocker", "push-rods", "rocker-nuts", "injector", "injector-pipe", "valve-clearance")


def by_hand(text: str, places: range) -> str:
    """Write out what stands in a machine file or a job for each cylinder, as an author without places would."""
    written: list[str] = []
    for line in re.sub(r",\n +", ", ", text).splitlines():
        if line.startswith("places:"):
            continue
        each = re.match(r"  ([a-z-]+): [{\[]", line)
        if each and each[1] in BY_HAND:
            name = each[1].replace("-", " ")
            named = f"name: {name.removesuffix('s') if 'count' in line else name}"
            written += [numbered(line, place).replace("each: cylinder", named) for place in places]
        elif "[valve-cover, rocker" in line:
            written += [numbered(line, place) for place in places]
        else:
            written.append(line)
    return "\n".join(written) + "\n"


def numbered(text: str, place: int) -> str:
    names = "|".join(sorted(BY_HAND, key=len, reverse=True))
    return re.sub(rf"(?<![a-z-])({names})(?=[,:\]\n}}]|$)", rf"\1-{place}", text)


def round_by_hand(text: str, places: range) -> str:
    """Write out the steps for each cylinder."""
    _, steps = text.split("    steps:\n")
    return "".join(numbered(re.sub(r"^    ", "", steps, flags=re.MULTILINE), place) for place in places)


@pytest.mark.parametrize(
    "lost", ["", "install: rocker", "tighten: rocker-nuts", "remove: rocker-nuts", "mark: push-rods"]
)
def test_places_say_what_an_author_would_write_out_by_hand(lost: str, tmp_path: Path) -> None:
    steps = ROUND.replace(f"      - {lost}\n", "") if lost else ROUND
    each = opened(tmp_path / "a", START + steps + END)
    hand = opened(tmp_path / "b", START + round_by_hand(steps, range(1, 4)) + END, by_hand(MACHINE, range(1, 4)))
    assert hand.guide.faults == ()
    assert sorted(set(told(hand))) == sorted(told(each))
    assert bool(lost) is bool(told(each))


def test_a_block_of_one_place_is_reversed_at_that_place(tmp_path: Path) -> None:
    ends = "begins-with: [cover-nuts, valve-cover]\nends-with: [cover-nuts, valve-cover, rocker-nuts, rocker]\n"
    block = f"{ends}steps:\n  - remove: rocker-nuts\n  - remove: rocker\n"
    do = "  - each: cylinder\n    steps:\n      - do: off\n      - inspect: push-rods\n        for: a bend\n"
    back = "        otherwise:\n          - stop: Renew them.\n      - reverse: off\n  - adjust: valve-clearance\n"
    found = opened(tmp_path, START + do + back + END, off=block)
    assert told(found) == []
    assert "4d Install the rocker. [1 2 3]" in lines(found)


def test_too_many_places_in_each_other_are_told(tmp_path: Path) -> None:
    deep, indent = "", "  "
    for _ in range(6):
        deep += f"{indent}- each: cylinder\n{indent}  steps:\n"
        indent += "    "
    steps = f"{START}{deep}{indent}- inspect: push-rods\n{indent}  for: a bend\n{END}"
    start = time.process_time()
    found = opened(tmp_path, steps, MACHINE.replace("cylinder: 3", "cylinder: 24"))
    assert [each.sequence.key for each in found.too_long] == ["job"]
    assert time.process_time() - start < 5


def test_rows_of_all_places_are_in_the_plural(tmp_path: Path) -> None:
    found = opened(tmp_path, START + ROUND + END)
    words = catalogue(found)
    titles = [words.title_of(row.thing) for row in sheet(found).count_back]
    assert titles == ["Cover nuts", "Cover nuts", "Valve cover", "Rocker nuts", "Rockers", "Push rods"]
