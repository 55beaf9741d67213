"""What stands at the back of a book: the index, what falls due together, which steps differ, kits."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.model.verbs.pieces import Install, Remove, Replace, Tighten
from putback.sheet import JobSheet, sheet_of
from putback.sheet.calendar import Fall, Meter, calendars
from putback.sheet.differing import differing
from putback.sheet.indexed import Handling, Indexed, IndexGroup, index_of
from putback.sheet.kitted import kits_with_jobs
from putback.source.intake import Memory
from putback.variants import NONE

MACHINE = """\
machine: Test pump
options: {drive: [belt, gear]}
parts:
  pump: {}
  lid: {}
  glass: {}
  seal: {replace: always, number: TP-1, kit: seal-kit}
  rotor: {wear: {measure: width, limit: ">= 6 mm"}}
  guard: {when: {drive: belt}}
fasteners:
  screws: {name: lid screw, count: 4, thread: M6 x 1.0, secures: lid, to: pump, torque: 9 N·m, kit: seal-kit}
stacks:
  - [lid, seal]
kits:
  seal-kit: {name: seal kit, number: TP-9}
  other: {name: another kit, number: TP-8}
"""

SEAL = """\
job: Renew the seal
interval: {first: {hours: 10}, hours: 50, months: 6}
steps:
  - inspect: guard
    for: cracks
    otherwise: [{stop: Renew it.}]
  - remove: [screws, lid, seal]
  - inspect: glass
    for: cracks
    otherwise: [{stop: Renew it.}]
  - measure: rotor
    otherwise:
      - replace: rotor
  - install: seal
    new: true
  - install: [lid, screws]
  - tighten: screws
  - loosen: screws
  - tighten: screws
"""

LOOK = "job: {title}\ninterval: {interval}\nsteps:\n  - inspect: [glass, guard]\n    for: cracks\n    tool: {tool}\n"
FILES = {
    "guide.yaml": "title: Test pump\n",
    "machine.yaml": MACHINE,
    "tools.yaml": "mirror: {name: mirror}\n",
    "jobs/a-seal.yaml": SEAL,
    "jobs/b-look.yaml": LOOK.format(title="Look", interval="{hours: 100, years: 1}", tool="mirror"),
    "jobs/c-look.yaml": LOOK.format(title="Look again", interval="{months: 9 .. 12}", tool="mirror"),
}


def opened(files: dict[str, str]) -> Opened:
    store = Memory({Path("/pump") / name: text.encode() for name, text in files.items()})
    return open_guide(read_guide(Path("/pump"), store=store))


@pytest.fixture(scope="module")
def pump() -> Opened:
    return opened(FILES)


@pytest.fixture(scope="module", params=["hollin-20", "ambry-g5"])
def shipped(request: pytest.FixtureRequest) -> Opened:
    return open_guide(read_guide(Path("procedures") / request.param))


def told(entries: tuple[Indexed, ...]) -> dict[str, list[str]]:
    """Return the entries in words: the jobs of each, with what is done in which steps."""
    return {
        entry.what if isinstance(entry.what, str) else entry.what.key: [
            " ".join([used.job.title, *(f"{done.handling} {','.join(done.steps)}" for done in used.done)])
            for used in entry.jobs
        ]
        for entry in entries
    }


def test_an_index_has_the_main_of_what_is_done_and_not_every_mention(pump: Opened) -> None:
    found = told(index_of(pump))
    assert found["screws"] == ["Renew the seal off 2 on 6 tightened 7,9"]
    assert found["seal"] == ["Renew the seal off 2 on 5"]
    # That it is renewed in a branch is the only place where it is.
    assert found["rotor"] == ["Renew the seal renewed 4a measured 4"]
    assert found["glass"] == ["Renew the seal inspected 3", "Look inspected 1", "Look again inspected 1"]
    assert found["mirror"] == ["Look", "Look again"]
    assert "pump" not in found


def test_what_many_jobs_only_look_at_is_no_main_entry() -> None:
    look = LOOK.format(title="Look", interval="each day", tool="mirror")
    found = told(index_of(opened(FILES | {f"jobs/d-{at}.yaml": look for at in range(9)})))
    assert found["glass"] == []
    assert len(found["mirror"]) == 11


def handled(sheet: JobSheet) -> Iterator[tuple[str, str, str]]:
    for line in sheet.walk():
        for ref in line.step.things:
            if isinstance(line.step.action, Remove | Install | Replace | Tighten):
                yield ref.name, line.step.verb.name, line.number


def test_whatever_comes_off_goes_on_or_is_tightened_is_in_the_index(shipped: Opened) -> None:
    known = {Handling.OFF: "remove", Handling.ON: "install", Handling.RENEWED: "replace"}
    known[Handling.TIGHTENED] = "tighten"
    listed = {
        (used.job.key, entry.what.key, known[done.handling], number)
        for entry in index_of(shipped)
        if not isinstance(entry.what, str)
        for used in entry.jobs
        for done in used.done
        if done.handling in known
        for number in done.steps
    }
    there: set[tuple[str, str, str, str]] = set()
    for job in shipped.guide.jobs.values():
        sheet = sheet_of(job, shipped)
        assert sheet is not None
        there |= {(job.key, *each) for each in handled(sheet)}
    # Lines are disconnected, and connected.
    assert {each for each in listed if each[1] not in lines(shipped)} <= there
    assert {each[:3] for each in there} <= {each[:3] for each in listed}


def lines(shipped: Opened) -> set[str]:
    assert shipped.guide.machine is not None
    return {key for key, thing in shipped.guide.machine.things.items() if type(thing).__name__ == "Line"}


def test_every_hazard_of_the_index_stands_at_a_step_of_its_job(shipped: Opened) -> None:
    hazards = [entry for entry in index_of(shipped) if entry.group is IndexGroup.HAZARDS]
    assert hazards
    for used in (used for entry in hazards for used in entry.jobs):
        sheet = sheet_of(used.job, shipped)
        assert sheet is not None
        assert {number for done in used.done for number in done.steps} <= {line.number for line in sheet.walk()}


def test_a_calendar_has_a_column_for_each_interval_and_marks_what_comes_round_again(pump: Opened) -> None:
    hours, months = calendars(list(pump.guide.jobs.values()))
    assert (hours.meter, months.meter) == (Meter.HOURS, Meter.MONTHS)
    assert [column.least for column in hours.columns] == [10, 50, 100]
    assert [(job.title, falls) for job, falls in hours.rows] == [
        ("Renew the seal", (Fall.FIRST, Fall.OWN, Fall.ALSO)),
        ("Look", (None, None, Fall.OWN)),
    ]
    assert [column.least for column in months.columns] == [6, 9, 12]
    assert [(job.title, falls) for job, falls in months.rows] == [
        ("Renew the seal", (Fall.OWN, None, Fall.ALSO)),
        ("Look again", (None, Fall.OWN, None)),
        ("Look", (None, None, Fall.OWN)),
    ]
    assert calendars([]) == []


def test_the_steps_that_differ_are_those_that_some_variants_do_not_have(shipped: Opened) -> None:
    graph = shipped.graph
    assert graph is not None
    space = graph.space
    for each in differing(shipped):
        sheet = sheet_of(each.job, shipped)
        assert sheet is not None
        steps = [line for line in (top for part in sheet.sections for top in part.steps) if line.number]
        numbers = [line.number for line in steps]
        covered = {
            number
            for part in each.parts
            for first, last in part.steps
            if first in numbers and last in numbers
            for number in numbers[numbers.index(first) : numbers.index(last) + 1]
        }
        wanted = {line.number for line in steps if space.without(space.built, line.variants) != NONE}
        assert covered == wanted
        for part, line in product(each.parts, steps):
            if any(first == line.number for first, _ in part.steps):
                assert space.both(space.built, graph.meaning(part.when)) == line.variants


def test_a_kit_has_what_says_so_and_the_jobs_that_fit_it(pump: Opened) -> None:
    [kit] = kits_with_jobs(pump)
    assert (kit.kit.name, kit.kit.number) == ("seal kit", "TP-9")
    assert [(thing.key, count) for thing, count in kit.contents] == [("seal", 1), ("screws", 4)]
    assert [job.title for job in kit.jobs] == ["Renew the seal"]
