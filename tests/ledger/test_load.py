"""What a part weighs with all that hangs on it, against every variant weighed by itself."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.ledger.load import Burden, Hanging, burden
from putback.variants import ALL, NONE, Space
from tests.ledger.trial import book_of

masses = st.lists(st.sampled_from([0.1, 0.2, 0.3, 0.7, 1.0, 2.5]), max_size=6)


def burden_of(own: float, parts: list[float]) -> tuple[Space, Burden]:
    """Return a part on which each of some masses hangs in the variants with an option of its own."""
    space = Space({f"o{n}": ["without", "with"] for n in range(len(parts))})
    hanging = tuple(Hanging(f"p{n}", mass, space.chosen(f"o{n}", ["with"])) for n, mass in enumerate(parts))
    return space, Burden(space, "engine", own, ALL, hanging)


@given(st.sampled_from([0.0, 0.3, 5.0]), masses, st.sampled_from([0.0, 0.3, 0.6, 1.0, 2.2, 5.0, 7.5]), st.booleans())
def test_the_variants_over_a_limit_are_those_that_weigh_more(
    own: float, parts: list[float], limit: float, or_equal: bool
) -> None:
    space, burden = burden_of(own, parts)
    over = burden.over(limit, or_equal=or_equal)
    for chosen in product((False, True), repeat=len(parts)):
        choice = tuple((f"o{n}", "with" if here else "without") for n, here in enumerate(chosen))
        mass = round(own + sum(part for part, here in zip(parts, chosen, strict=True) if here), 6)
        expected = mass >= limit if or_equal else mass > limit
        assert (space.both(over, space.cube(choice)) != NONE) == expected


@given(masses)
def test_the_lightest_load_is_that_of_a_variant(parts: list[float]) -> None:
    space, burden = burden_of(1.0, parts)
    over = burden.over(2.0)
    if over == NONE:
        return
    load = burden.lightest(over)
    assert load.mass > 2.0
    assert load.mass == pytest.approx(1.0 + sum(parts[int(name[1:])] for name in load.parts[1:]))
    assert load.least == (
        space.without(over, space.cube(tuple((f"o{name[1:]}", "with") for name in load.parts[1:]))) != NONE
        or len(load.parts) - 1 < len(parts)
    )


def test_three_hundred_parts_of_one_mass_are_a_few_rows_each() -> None:
    space, burden = burden_of(5.0, [1.0] * 300)
    before = len(space._rows)
    over = burden.over(12.0)
    assert len(space._rows) - before < 300 * 3 * 10
    assert len(space.smallest(over)) == 8


@pytest.mark.parametrize("surely", [False, True])
def test_masses_that_never_sum_alike_are_rounded_to_the_safe_side(surely: bool) -> None:
    own = [0.5 + 2**-n for n in range(1, 19)] * 4
    space, burden = burden_of(0.0, own)
    over = burden.over(20.0, surely=surely)
    for few in range(72):
        choice = tuple((f"o{n}", "with" if n <= few else "without") for n in range(72))
        mass = sum(own[: few + 1])
        if few in (0, 71):
            assert (space.both(over, space.cube(choice)) != NONE) == (mass > 20)
        elif (space.both(over, space.cube(choice)) != NONE) != (mass > 20):
            assert (mass > 20) == surely


def test_three_hundred_parts_that_are_always_there_are_one_sum() -> None:
    space = Space()
    hanging = tuple(Hanging(f"p{n}", 1 + 1 / (n + 3), ALL) for n in range(300))
    burden = Burden(space, "engine", 5.0, ALL, hanging)
    assert burden.over(300.0) == ALL
    assert burden.over(400.0) == NONE


MACHINE = """
machine: Trial engine
options: {size: [small, large]}
parts:
  frame: {}
  gearcase: {mass: 9 kg}
  pump: {mass: 2.5 kg}
  rotor: {mass: 1.4 kg .. 1.5 kg}
  guard: {}
  starter: {mass: 3 kg, when: {size: large}}
  lamp: {mass: 1 kg}
  unit: {mass: 20 kg, assembly: [drum, belt]}
  drum: {mass: 12 kg}
  belt: {mass: 0.5 kg}
fasteners:
  feet: {count: 2, secures: gearcase, to: frame}
  pump-bolts: {count: 2, secures: pump, to: gearcase}
  starter-bolts: {count: 2, secures: starter, to: gearcase, when: {size: large}}
  guard-clip: {secures: guard, to: pump}
  lamp-clip: {secures: lamp, to: guard}
lines:
  hose: {joins: [pump, frame]}
stacks:
  - [pump, rotor, hose]
"""


def hanging(steps: str, key: str = "gearcase") -> dict[str, float]:
    """Return what hangs on a part before the last step, each with its mass in kg."""
    book = book_of(f"{steps}  - inspect: frame\n", machine=MACHINE)
    load = burden(book, book.entries[-1], key)
    assert load is not None
    return {load.key: load.mass, **{one.key: one.mass for one in load.hanging}}


@pytest.mark.parametrize(
    ("steps", "expected"),
    [
        ("", {"gearcase": 9.0, "pump": 2.5, "rotor": 1.5, "starter": 3.0, "lamp": 1.0}),
        ("  - remove: pump-bolts\n", {"gearcase": 9.0, "starter": 3.0}),
        (
            "  - remove: pump-bolts\n    count: 1\n",
            {"gearcase": 9.0, "pump": 2.5, "rotor": 1.5, "starter": 3.0, "lamp": 1.0},
        ),
        ("  - remove: pump\n", {"gearcase": 9.0, "starter": 3.0}),
        ("  - remove: rotor\n", {"gearcase": 9.0, "pump": 2.5, "starter": 3.0, "lamp": 1.0}),
        ("  - remove: lamp-clip\n", {"gearcase": 9.0, "pump": 2.5, "rotor": 1.5, "starter": 3.0}),
        ("  - remove: guard\n", {"gearcase": 9.0, "pump": 2.5, "rotor": 1.5, "starter": 3.0}),
        ("  - remove: feet\n", {"gearcase": 9.0, "pump": 2.5, "rotor": 1.5, "starter": 3.0, "lamp": 1.0}),
        (
            "  - remove: pump-bolts\n    when: {size: small}\n",
            {"gearcase": 9.0, "pump": 2.5, "rotor": 1.5, "starter": 3.0, "lamp": 1.0},
        ),
    ],
)  # fmt: skip
def test_what_hangs_on_a_part(steps: str, expected: dict[str, float]) -> None:
    assert hanging(steps) == expected


def test_it_hangs_in_the_variants_in_which_something_holds_it() -> None:
    book = book_of("  - remove: pump-bolts\n    when: {size: small}\n  - inspect: frame\n", machine=MACHINE)
    load = burden(book, book.entries[-1], "gearcase")
    assert load is not None
    large = book.graph.space.chosen("size", ["large"])
    assert {one.key: one.variants for one in load.hanging} == dict.fromkeys(("pump", "rotor", "starter", "lamp"), large)


def test_the_mass_of_an_assembly_is_that_of_all() -> None:
    assert hanging("", "unit") == {"unit": 7.5, "drum": 12.0, "belt": 0.5}
    assert hanging("  - remove: drum\n", "unit") == {"unit": 7.5, "belt": 0.5}
    assert hanging("", "drum") == {"drum": 12.0}


def test_what_is_no_part_weighs_nothing() -> None:
    book = book_of("  - inspect: frame\n", machine=MACHINE)
    assert [burden(book, book.entries[0], key) for key in ("hose", "feet", "nothing")] == [None] * 3


def test_masses_are_rounded_only_when_their_sums_are_too_many(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of five alike, three weigh a little less than the limit; as masses are rounded, they weigh more."""
    for most, three_are_over in ((7, False), (6, True)):
        monkeypatch.setattr("putback.ledger.load.MOST_SUMS", most)
        space, load = burden_of(0.0, [0.1004] * 5)
        three = space.cube(tuple((f"o{n}", "with" if n < 3 else "without") for n in range(5)))
        four = space.cube(tuple((f"o{n}", "with" if n < 4 else "without") for n in range(5)))
        assert [space.within(each, load.over(0.302)) for each in (three, four)] == [three_are_over, True]
