"""What becomes of the pieces of a group, each from how it stands."""

from __future__ import annotations

from putback.model.groups import put_in, slacken, standing, take_out, tighten
from putback.model.reach import FULL, FULLY, LOOSE, OUT, SNUG, Aim, Reach
from putback.model.states import GroupState, Reached, bare

STAGE = Reach(False, 4.0)
MORE = Reach(True, 12.0)


def test_taking_out_all() -> None:
    assert take_out(GroupState(4, 2), None, 7) == GroupState(0, 0, 6, 6, off_by=7)


def test_taking_out_some_takes_loose_ones_first() -> None:
    assert take_out(GroupState(4, 2), 3, 7) == GroupState(3, 0, 3, 3, off_by=7)


def test_taking_out_more_than_are_in() -> None:
    assert take_out(GroupState(1, 1, 4, 4), 5, 7) == GroupState(0, 0, 6, 6, off_by=7)


def test_taking_out_none_blames_no_step() -> None:
    assert take_out(GroupState(0, 0, 6, 6, off_by=3), None, 7) == GroupState(0, 0, 6, 6, off_by=3)


def test_the_most_out_counts_since_all_were_in() -> None:
    once = put_in(take_out(GroupState(6), 4, 1), 3, 2, finished=True)
    assert once.taken == 4
    assert take_out(once, 1, 3).taken == 4
    assert take_out(take_out(once, 5, 3), None, 4).taken == 6
    again = put_in(once, None, 3, finished=True)
    assert take_out(again, 2, 4).taken == 2


def test_putting_in_leaves_hand_tight_unless_finished_by_it() -> None:
    out = GroupState(0, 0, 6, 6, off_by=1)
    assert put_in(out, None, 2, finished=False) == GroupState(0, 6, 0, 6, 1, 2)
    assert put_in(out, 4, 2, finished=True) == GroupState(4, 0, 2, 6, 1, 2)
    assert put_in(out, 9, 2, finished=True) == GroupState(6, 0, 0, 6, 1, 2)


def test_slackening_and_tightening() -> None:
    loose = slacken(GroupState(6), 2, 1)
    assert (loose.tight, loose.loose, loose.off_by, loose.on_by) == (4, 2, 1, 1)
    assert slacken(GroupState(6), None, 1).loose == 6
    assert tighten(loose, None).tight == 6
    assert tighten(loose, 1) == loose._replace(tight=5, loose=1)
    assert tighten(GroupState(6), None) == GroupState(6)


def test_slackening_keeps_the_step_that_took_some_out() -> None:
    assert slacken(GroupState(4, 0, 2, 2, off_by=1), None, 5).off_by == 1


def test_a_stage_is_loose_and_kept_beside() -> None:
    staged = tighten(slacken(GroupState(6), None, 1), 2, (), Aim(STAGE), 2)
    assert (staged.tight, staged.loose, staged.reached, staged.to_by) == (0, 6, (Reached(STAGE, 2),), 2)
    assert (staged.pressing, staged.staged) == (2, (Reached(STAGE, 2),))
    assert bare(staged) == staged._replace(off_by=-1, on_by=-1, to_by=-1)


def test_the_looser_are_tightened_first() -> None:
    staged = tighten(slacken(GroupState(6), None, 1), 2, (), Aim(STAGE), 2)
    full = tighten(staged, 4)
    assert [(some.level, some.count) for some in standing(full)] == [(STAGE, 2), (FULL, 4)]
    assert tighten(full, None) == GroupState(6, off_by=1, on_by=1)


def test_a_lower_torque_changes_nothing() -> None:
    assert tighten(GroupState(6), None, (), Aim(STAGE), 3) == GroupState(6)
    staged = tighten(GroupState(0, 6), None, (), Aim(STAGE), 2)
    assert tighten(staged, None, (), Aim(SNUG), 3) == staged


def test_a_full_tightening_does_not_take_the_blame_for_a_stage() -> None:
    staged = tighten(GroupState(0, 6), None, (), Aim(STAGE), 2)
    assert tighten(staged, 3, (), FULLY, 3).to_by == 2


def test_more_than_is_due_is_kept_as_well() -> None:
    more = tighten(GroupState(6), 2, (), Aim(MORE), 2)
    assert (more.tight, more.reached, more.to_by) == (6, (Reached(MORE, 2),), -1)
    assert tighten(more, None) == more
    assert slacken(more, 2, 3)._replace(off_by=-1, on_by=-1) == GroupState(4, 2)


def test_the_tightest_are_loosened_first_and_the_loosest_come_out_first() -> None:
    mixed = tighten(tighten(GroupState(0, 6), 4, (), Aim(STAGE), 1), 2)
    assert [(some.level, some.count) for some in standing(mixed)] == [(STAGE, 4), (FULL, 2)]
    assert [(some.level, some.count) for some in standing(slacken(mixed, 3, 2))] == [(LOOSE, 3), (STAGE, 3)]
    assert [(some.level, some.count) for some in standing(take_out(mixed, 5, 2))] == [(OUT, 5), (FULL, 1)]


def test_pieces_with_names() -> None:
    named = GroupState(0, 2, places=("loose", "loose"))
    staged = tighten(named, 1, (1,), Aim(STAGE), 1)
    assert (staged.places, staged.reached) == (("loose", "loose"), (Reached(STAGE, 1, 1),))
    assert tighten(staged, 1, (0,)).places == ("tight", "loose")
    assert tighten(tighten(staged, 1, (0,)), 1, (1,)) == GroupState(2, places=("tight", "tight"))


def test_an_angle_goes_on_from_the_torque() -> None:
    least = Reach(False, 30.0, 179.5)
    once = Aim(further=90.0, least=least)
    ready = tighten(GroupState(0, 2), None, (), Aim(Reach(False, 30.0)), 1)
    half = tighten(ready, None, (), once, 2)
    assert half.reached == (Reached(Reach(False, 30.0, 90.0), 2),)
    assert tighten(half, None, (), once, 3) == GroupState(2)
    assert tighten(GroupState(2), None, (), once, 3) == GroupState(2)
