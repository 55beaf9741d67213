"""The order of options in a diagram: those that meet lie together, and sets stay small."""

from __future__ import annotations

import itertools
from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.variants import ALL, NONE, EntangledError, Space, VariantSet
from putback.variants.arranged import FEW, arranged
from putback.variants.space import ALLOWANCE

Pairs = list[tuple[str, str]]


def far_pairs(many: int) -> Pairs:
    """Each of the first half meets its fellow in the second."""
    return [(f"o{n}", f"o{n + many // 2}") for n in range(many // 2)]


def rows_for(order: Iterable[str], pairs: Pairs) -> int:
    space = Space({name: ["without", "with"] for name in (f"o{n}" for n in range(2 * len(pairs)))}, list(order))
    variants = NONE
    for pair in pairs:
        variants = space.either(variants, space.cube(tuple((name, "with") for name in pair)))
    return len(space._rows)


def test_pairs_that_meet_lie_together() -> None:
    declared = [f"o{n}" for n in range(40)]
    order = arranged(declared, far_pairs(40))
    place = {name: number for number, name in enumerate(order)}
    assert all(abs(place[one] - place[other]) == 1 for one, other in far_pairs(40))


def test_sets_of_far_pairs_grow_in_step_with_them() -> None:
    small, large = (
        rows_for(arranged([f"o{n}" for n in range(many)], far_pairs(many)), far_pairs(many)) for many in (20, 40)
    )
    assert large < 3 * small
    assert rows_for([f"o{n}" for n in range(20)], far_pairs(20)) > 10 * small


def test_few_options_stay_as_they_are() -> None:
    declared = [f"o{n}" for n in range(FEW)]
    assert arranged(declared, far_pairs(FEW)) == declared


def test_the_first_of_a_pair_lies_higher() -> None:
    declared = [f"o{n}" for n in range(20)]
    neighbours = list(itertools.pairwise(declared))
    assert arranged(declared, neighbours, neighbours) == declared[::-1]
    assert arranged(declared, neighbours, [(low, high) for high, low in neighbours]) == declared


def test_of_pairs_that_speak_against_each_other_the_more_count() -> None:
    declared = [f"o{n}" for n in range(20)]
    neighbours = list(itertools.pairwise(declared))
    turned = [(low, high) for high, low in neighbours]
    assert arranged(declared, neighbours, [*neighbours[:3], *turned[:2], ("unknown", "o1")]) == declared[::-1]
    assert arranged(declared, neighbours, [*neighbours[:2], *turned[:3], ("o1", "unknown")]) == declared
    assert arranged(declared, neighbours, [*neighbours[:2], *turned[:2]]) == declared


@given(st.lists(st.sets(st.sampled_from([f"o{n}" for n in range(12)] + ["unknown"]), max_size=4), max_size=12))
def test_every_option_has_one_place_and_always_the_same(meetings: list[set[str]]) -> None:
    declared = [f"o{n}" for n in range(12)]
    order = arranged(declared, meetings)
    assert sorted(order) == sorted(declared)
    assert arranged(declared, meetings[::-1]) == order


def test_an_order_changes_no_answer() -> None:
    options = {f"o{n}": ["a", "b", "c"] for n in range(4)}
    one, other = Space(options), Space(options, ["o2", "o0", "o3", "o1"])
    for space in (one, other):
        wanted = space.both(space.chosen("o0", ["b"]), space.chosen("o3", ["a", "c"]))
        assert space.smallest(space.both(wanted, space.chosen("o3", ["c"]))) == (("o0", "b"), ("o3", "c"))


def all_different(many: int) -> VariantSet:
    """Work out a set that is large in every order: no two options have the same choice."""
    space = Space({f"o{n}": [f"c{m}" for m in range(many)] for n in range(many)})
    variants = ALL
    for n in range(many):
        for m in range(n):
            for choice in space.choices[0]:
                both = space.cube(((space.names[n], choice), (space.names[m], choice)))
                variants = space.without(variants, both)
    return variants


def test_what_cannot_be_followed_ends() -> None:
    assert all_different(4) != NONE
    with pytest.raises(EntangledError):
        all_different(16)


def test_more_can_be_allowed() -> None:
    space = Space({"a": ["x", "y"], "b": ["x", "y"]})
    one, other = space.chosen("a", ["x"]), space.chosen("b", ["x"])
    space.allow(-ALLOWANCE)
    with pytest.raises(EntangledError):
        space.both(one, other)
    space.allow(10)
    assert space.both(one, other) != NONE
