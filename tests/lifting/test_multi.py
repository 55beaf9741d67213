"""The composite lifting index of several tasks."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.lifting import LiftError
from putback.lifting.equation import Hands, LiftTask, recommended
from putback.lifting.multi import composite
from putback.lifting.tables import Coupling, Duration, LiftUnits, frequency_multiplier

PUMP = LiftTask(18, Hands(35, 80), Hands(40, 110), Coupling.FAIR, frequency=1)
LID = LiftTask(6, Hands(30, 80), Hands(30, 80), Coupling.GOOD, frequency=2)


def hands() -> st.SearchStrategy[Hands]:
    return st.builds(Hands, st.floats(0, 66), st.floats(0, 180), st.floats(0, 140))


def jobs() -> st.SearchStrategy[list[LiftTask]]:
    def of(duration: Duration, system: LiftUnits) -> st.SearchStrategy[list[LiftTask]]:
        lift = st.builds(
            LiftTask,
            load=st.floats(0.5, 30),
            origin=hands(),
            destination=hands(),
            coupling=st.sampled_from(Coupling),
            control=st.booleans(),
            frequency=st.floats(0, 5),
            heaviest=st.none() | st.floats(30, 60),
            duration=st.just(duration),
            system=st.just(system),
        )
        return st.lists(lift, min_size=1, max_size=6)

    return st.tuples(st.sampled_from(Duration), st.sampled_from(LiftUnits)).flatmap(lambda pair: of(*pair))


def test_one_task_is_its_own_composite() -> None:
    job = composite([PUMP])
    limit = recommended(PUMP)
    assert job.cli == limit.li
    assert job.increments == (limit.li,)
    (task,) = job.tasks
    assert (task.number, task.lift, task.firwl, task.strwl, task.stli) == (1, PUMP, limit.firwl, limit.rwl, limit.li)
    assert task.strwl == pytest.approx(task.firwl * 0.94)
    assert task.fili == pytest.approx(18 / task.firwl)


def test_the_hardest_comes_first_and_the_others_add_what_they_slow_it_by() -> None:
    job = composite([LID, PUMP])
    assert [task.number for task in job.tasks] == [2, 1]
    lid = 6 / recommended(LID).firwl
    assert job.increments[1] == pytest.approx(lid * (1 / 0.88 - 1 / 0.94))
    assert job.cli == pytest.approx(recommended(PUMP).li + job.increments[1])


def test_the_greatest_load_counts_in_what_is_added_and_the_average_in_the_order() -> None:
    usual, uneven = composite([PUMP, LID]), composite([PUMP, replace(LID, heaviest=12)])
    assert uneven.tasks[1].fili == pytest.approx(2 * usual.tasks[1].fili)
    assert uneven.tasks[1].stli == usual.tasks[1].stli
    assert uneven.increments[1] == pytest.approx(2 * usual.increments[1])


def test_of_equals_the_more_frequent_comes_first_then_the_order_given() -> None:
    # Equal frequencies with one load, and a frequent task whose lighter load gives the same index.
    often = replace(LID, frequency=3, load=6 * 0.88 / 0.91)
    assert [task.number for task in composite([LID, often, LID]).tasks] == [2, 1, 3]


def test_one_task_that_starts_below_the_knuckles_takes_all_to_the_lower_column() -> None:
    high = [replace(LID, frequency=7), replace(LID, frequency=6)]
    low = [high[0], replace(high[1], origin=Hands(30, 74), destination=Hands(30, 74))]
    assert composite(high).cli == pytest.approx(6 / recommended(LID).firwl / 0.34)
    assert composite(low).cli == math.inf


@pytest.mark.parametrize(
    "odd",
    [replace(LID, frequency=16), replace(LID, origin=Hands(64, 80)), replace(LID, frequency=14.5)],
    ids=["too often", "too far", "together too often"],
)
def test_what_should_not_be_lifted_makes_the_job_endless(odd: LiftTask) -> None:
    for order in ([PUMP, odd, LID], [odd, LID, PUMP], [odd, odd]):
        job = composite(order)
        assert job.cli == math.inf
        assert not any(math.isnan(value) for value in job.increments)


@pytest.mark.parametrize(
    ("tasks", "message", "hint"),
    [
        ([], "no lifting tasks, expected one or more", "name the lifts of the job"),
        (
            [PUMP, LID, replace(LID, duration=Duration.LONG)],
            "the duration of task 3 is long, of task 1 short, expected one for all",
            "take the duration of the whole job",
        ),
        (
            [PUMP, replace(LID, system=LiftUnits.US)],
            "the unit system of task 2 is us, of task 1 metric, expected one for all",
            "measure all in the same units",
        ),
    ],
)
def test_tasks_that_do_not_go_together_are_refused(tasks: list[LiftTask], message: str, hint: str) -> None:
    with pytest.raises(LiftError) as caught:
        composite(tasks)
    assert str(caught.value) == message
    assert caught.value.hint == hint


@given(jobs())
def test_together_is_never_easier_than_the_hardest_alone(job: list[LiftTask]) -> None:
    result = composite(job)
    alone = [recommended(lift).li for lift in job]
    assert result.cli >= max(alone)
    assert result.tasks[0].stli == pytest.approx(max(alone))
    assert all(value >= 0 for value in result.increments)
    assert sorted(task.number for task in result.tasks) == list(range(1, len(job) + 1))
    assert math.isinf(result.cli) or result.cli == pytest.approx(sum(result.increments))


@given(jobs())
def test_the_order_given_does_not_matter_unless_tasks_are_equally_hard(job: list[LiftTask]) -> None:
    keys = [(round(recommended(lift).li, 6), lift.frequency) for lift in job]
    if len(set(keys)) == len(keys):
        assert composite(job[::-1]).cli == pytest.approx(composite(job).cli)


@given(st.floats(0, 3), st.floats(0, 3), st.floats(0, 3), st.sampled_from(Duration))
def test_a_task_cut_in_parts_is_as_hard_as_it_was(one: float, two: float, three: float, duration: Duration) -> None:
    parts = [replace(PUMP, frequency=often, duration=duration) for often in (one, two, three)]
    whole = replace(PUMP, frequency=one + two + three, duration=duration)
    assert composite(parts).cli == pytest.approx(composite([whole]).cli)


@given(jobs(), st.floats(0, 5))
def test_lifting_more_often_never_makes_the_hardest_task_easier(job: list[LiftTask], more: float) -> None:
    hardest = composite(job).tasks[0]
    often = replace(hardest.lift, frequency=hardest.lift.frequency + more)
    after = [often if k == hardest.number else lift for k, lift in enumerate(job, 1)]
    assert composite(after).tasks[0].stli >= hardest.stli * (1 - 1e-12)


def test_the_frequencies_add_up_without_the_slips_of_floats() -> None:
    parts = [replace(LID, frequency=1.2, origin=Hands(30, 60), destination=Hands(30, 60))] * 10
    assert sum(part.frequency for part in parts) != 12
    assert frequency_multiplier(12, Duration.SHORT, 60) == pytest.approx(0.37)
    assert composite(parts).cli == pytest.approx(parts[0].load / recommended(parts[0]).firwl / 0.37)
