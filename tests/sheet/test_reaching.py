"""The way in of the shipped jobs: what comes off before the main thing, and where nothing is worth a drawing."""

from __future__ import annotations

import pytest

from putback.sheet import sheet_of
from putback.sheet.reaching import WayIn, way_in
from tests.sheet.test_shipped import GUIDES, shipped


def found(guide: str, job: str) -> WayIn | None:
    opened = shipped(guide)
    sheet = sheet_of(opened.guide.jobs[job], opened)
    assert sheet is not None
    assert opened.graph is not None
    assert opened.written is not None
    return way_in(opened.guide.jobs[job].title, sheet, opened.graph, opened.written)


def test_what_holds_a_part_goes_with_it_and_what_comes_off_in_a_row_is_one_box() -> None:
    way = found("ambry-g5", "recoil-starter")
    assert way is not None
    assert [(group.things, sorted(group.after)) for group in way.groups] == [
        (("handle-bolts", "handle"), []),
        (("recoil-bolts", "recoil-starter"), [0]),
        (("rope-grip",), []),
        (("centre-screw", "drive-plate", "pawls", "reel"), [1, 2]),
        (("recoil-spring",), [3]),
    ]
    assert way.section == 3


def test_what_lies_under_the_main_thing_is_not_in_the_way() -> None:
    way = found("hollin-20", "water-pump")
    assert way is not None
    assert way.reached == "impeller"
    names = {name for group in way.groups for name in group.things}
    assert {"trim-tab", "gearcase", "pump-housing", "lower-washer"} <= names
    assert not names & {"pump-plate", "plate-gasket", "drive-key"}


@pytest.mark.parametrize("job", ["thermostat", "propeller", "spark-plugs", "daily-checks"])
def test_there_is_none_for_a_few_things_or_a_row_of_them(job: str) -> None:
    assert found("hollin-20", job) is None


@pytest.mark.parametrize("guide", GUIDES)
def test_everything_that_the_job_takes_off_before_comes_in_once_and_in_order(guide: str) -> None:
    opened = shipped(guide)
    for job in opened.guide.jobs:
        way = found(guide, job)
        if way is None:
            continue
        names = [name for group in way.groups for name in group.things]
        assert len(names) == len(set(names))
        assert names[-1] == way.reached
        assert way.groups[-1].things == (way.reached,)
        place = {name: (number, at) for number, group in enumerate(way.groups) for at, name in enumerate(group.things)}
        assert opened.graph is not None
        for edge in opened.graph.edges():
            if edge.outer in place and edge.inner in place:
                assert place[edge.outer] < place[edge.inner]
