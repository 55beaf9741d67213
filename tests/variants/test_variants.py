"""Sets of variants: the diagrams against every variant written out."""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations, product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.variants import ALL, NONE, Choice, Space, VariantSet
from putback.variants.space import ALLOWANCE, WIDE

Variant = tuple[str, ...]

shapes = st.lists(st.integers(1, 3), min_size=1, max_size=4)
"""How many choices each option has."""


def space_of(shape: list[int]) -> Space:
    return Space({f"o{place}": [f"c{choice}" for choice in range(width)] for place, width in enumerate(shape)})


def variants_of(shape: list[int]) -> list[Variant]:
    return list(product(*([f"c{choice}" for choice in range(width)] for width in shape)))


def written_out(space: Space, variants: VariantSet, shape: list[int]) -> frozenset[Variant]:
    return frozenset(
        variant
        for variant in variants_of(shape)
        if space.both(space.cube(tuple(zip(space.names, variant, strict=True))), variants) != NONE
    )


@st.composite
def spaces_with_sets(
    draw: st.DrawFn, many: int
) -> tuple[list[int], Space, list[tuple[VariantSet, frozenset[Variant]]]]:
    """Draw a space, and sets built up in it step by step, each beside its variants written out."""
    shape = draw(shapes)
    space, every = space_of(shape), frozenset(variants_of(shape))
    built: list[tuple[VariantSet, frozenset[Variant]]] = [(ALL, every), (NONE, frozenset())]
    for _ in range(draw(st.integers(1, 8))):
        place = draw(st.integers(0, len(shape) - 1))
        values = draw(st.sets(st.sampled_from(space.choices[place])))
        one = space.chosen(f"o{place}", values), frozenset(v for v in every if v[place] in values)
        other = draw(st.sampled_from(built))
        operation = draw(st.sampled_from(["both", "either", "without"]))
        match operation:
            case "both":
                built.append((space.both(other[0], one[0]), other[1] & one[1]))
            case "either":
                built.append((space.either(other[0], one[0]), other[1] | one[1]))
            case _:
                built.append((space.without(other[0], one[0]), other[1] - one[1]))
    return shape, space, [draw(st.sampled_from(built)) for _ in range(many)]


@given(spaces_with_sets(2))
def test_algebra_agrees_with_the_variants_written_out(
    drawn: tuple[list[int], Space, list[tuple[VariantSet, frozenset[Variant]]]],
) -> None:
    shape, space, [(a, plain_a), (b, plain_b)] = drawn
    assert written_out(space, a, shape) == plain_a
    assert written_out(space, space.both(a, b), shape) == plain_a & plain_b
    assert written_out(space, space.either(a, b), shape) == plain_a | plain_b
    assert written_out(space, space.without(a, b), shape) == plain_a - plain_b
    assert space.within(a, b) == (plain_a <= plain_b)


@given(spaces_with_sets(2))
def test_equal_sets_are_equal_numbers(
    drawn: tuple[list[int], Space, list[tuple[VariantSet, frozenset[Variant]]]],
) -> None:
    _, _, [(a, plain_a), (b, plain_b)] = drawn
    assert (a == b) == (plain_a == plain_b)


@given(spaces_with_sets(1))
def test_excluded_variants_are_not_built(
    drawn: tuple[list[int], Space, list[tuple[VariantSet, frozenset[Variant]]]],
) -> None:
    shape, space, [(never, plain)] = drawn
    space.exclude(never)
    assert written_out(space, space.built, shape) == frozenset(variants_of(shape)) - plain


def agreeing(space: Space, choice: Choice, variants: frozenset[Variant]) -> frozenset[Variant]:
    wanted = [(space.names.index(option), value) for option, value in choice]
    return frozenset(v for v in variants if all(v[place] == value for place, value in wanted))


def choices_of(space: Space, size: int) -> Iterator[Choice]:
    for places in combinations(range(len(space.names)), size):
        for values in product(*(space.choices[place] for place in places)):
            yield tuple((space.names[place], value) for place, value in zip(places, values, strict=True))


@given(spaces_with_sets(3))
def test_smallest_shows_and_nothing_shorter_does(
    drawn: tuple[list[int], Space, list[tuple[VariantSet, frozenset[Variant]]]],
) -> None:
    shape, space, [(wanted, _), (among, _), (never, _)] = drawn
    space.exclude(never)
    among = space.both(among, space.built)
    wanted = space.both(wanted, among)
    if wanted == NONE:
        with pytest.raises(ValueError, match="the set is empty"):
            space.smallest(wanted, among)
        return
    choice = space.smallest(wanted, among)
    inside, possible = written_out(space, wanted, shape), written_out(space, among, shape)

    def shows(some: Choice) -> bool:
        here = agreeing(space, some, possible)
        return bool(here) and here <= inside

    assert shows(choice)
    for size in range(len(choice)):
        assert not any(shows(shorter) for shorter in choices_of(space, size))


def test_smallest_is_exact_beyond_two_choices() -> None:
    """The first way through the diagram has four choices and none of them can go; another has three."""
    space = Space({name: ["off", "on"] for name in "abcdefg"})
    long = space.cube((("a", "off"), ("b", "off"), ("c", "off"), ("d", "off")))
    short = space.cube((("a", "on"), ("e", "on"), ("f", "on")))
    assert space.smallest(space.either(long, short)) == (("a", "on"), ("e", "on"), ("f", "on"))


def test_smallest_prefers_options_to_questions() -> None:
    space = Space({"drive": ["belt", "gear"]})
    worn, _ = space.ask("cam out of limit")
    wanted = space.either(worn, space.chosen("drive", ["gear"]))
    assert space.smallest(wanted) == (("drive", "gear"),)


def test_smallest_beyond_its_patience_cannot_be_shortened(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("putback.variants.fewest.PATIENCE", 1)
    space = Space({f"o{n}": ["a", "b"] for n in range(8)})
    wanted = NONE
    for n in range(0, 8, 4):
        wanted = space.either(wanted, space.cube(tuple((f"o{m}", "b") for m in range(n, n + 4))))
    choice = space.smallest(wanted)
    assert space.within(space.cube(choice), wanted)
    for left_out in choice:
        assert not space.within(space.cube(tuple(other for other in choice if other != left_out)), wanted)


def test_smallest_in_a_set_of_a_thousand_questions() -> None:
    space = Space({"drive": ["belt", "gear"]})
    alive = ALL
    for number in range(1000):
        failed, _ = space.ask(f"check {number}")
        alive = space.without(alive, failed)
    gear = space.both(alive, space.chosen("drive", ["gear"]))
    assert space.smallest(gear, alive) == (("drive", "gear"),)


def test_ask_adds_a_question_with_two_answers() -> None:
    space = Space({"drive": ["belt", "gear"]})
    yes, no = space.ask("cam out of limit")
    assert space.names == ["drive", "cam out of limit"]
    assert space.choices[1] == ("yes", "no")
    assert space.both(yes, no) == NONE
    assert space.either(yes, no) == ALL


def test_ask_tells_equal_questions_apart() -> None:
    space = Space()
    answers = {space.ask("cam out of limit") for _ in range(3)}
    assert space.names == ["cam out of limit", "cam out of limit (2)", "cam out of limit (3)"]
    assert len(answers) == 3


def test_unknown_names_give_no_variant() -> None:
    space = Space({"drive": ["belt", "gear"]})
    assert space.chosen("colour", ["red"]) == NONE
    assert space.chosen("drive", ["chain"]) == NONE
    assert space.chosen("drive", ["chain", "gear"]) == space.chosen("drive", ["gear"])


def test_an_option_with_one_choice_is_none() -> None:
    space = Space({"drive": ["belt"]})
    assert space.chosen("drive", ["belt"]) == ALL


def rows_for(options: int) -> int:
    """Count the rows that a space of independent options needs, each used by one thing."""
    space = Space({f"o{n}": ["a", "b", "c"] for n in range(options)})
    for n in range(options):
        here = space.chosen(f"o{n}", ["b"])
        space.without(space.built, here)
        assert space.smallest(here) == ((f"o{n}", "b"),)
    return len(space._rows)


def test_independent_options_do_not_multiply() -> None:
    assert rows_for(60) - rows_for(50) == rows_for(30) - rows_for(20)
    assert rows_for(60) < 60 * 10


def test_sixty_options_met_in_one_set_grow_by_a_row_each() -> None:
    space = Space({f"o{n}": ["a", "b"] for n in range(60)})
    variants = ALL
    for n in range(60):
        variants = space.both(variants, space.chosen(f"o{n}", ["b"]))
    assert len(space._rows) <= 2 + 2 * 60
    assert len(space.smallest(variants)) == 60


@given(shapes, st.data())
def test_the_variants_of_ways_forget_every_question(shape: list[int], data: st.DataObject) -> None:
    space = space_of(shape)
    pieces = [space.chosen(name, choices[:1]) for name, choices in zip(space.names, space.choices, strict=True)]
    for number in range(data.draw(st.integers(0, 3))):
        pieces += space.ask(f"q{number}", *data.draw(st.lists(st.sampled_from(pieces), max_size=2)))
    variants = ALL
    for _ in range(data.draw(st.integers(1, 6))):
        operation = data.draw(st.sampled_from([space.both, space.either, space.without]))
        variants = operation(variants, data.draw(st.sampled_from(pieces)))
    expected = NONE
    for variant in variants_of(shape):
        cube = space.cube(tuple(zip(space.names, variant, strict=False)))
        if space.both(cube, variants) != NONE:
            expected = space.either(expected, cube)
    assert space.variants_of(variants) == expected


@pytest.mark.parametrize("options", [10, 60])
def test_questions_of_one_option_each_do_not_multiply(options: int) -> None:
    """Each lies beside its option: above all of them, every way through the questions would have rows of its own."""
    space = Space({f"o{n}": ["a", "b"] for n in range(options)})
    alive = ALL
    for n in range(options):
        here = space.chosen(f"o{n}", ["b"])
        failed, _ = space.ask(f"check {n}", here)
        alive = space.without(alive, space.both(here, failed))
    assert len(space._rows) < 20 * options
    assert space.variants_of(alive) == ALL
    assert space.depth(alive) == 2 * options


def test_a_row_of_many_choices_counts_as_several() -> None:
    """What has no end is told in the same time whether options have two choices or hundreds."""

    def pairs(width: int) -> int:
        space = Space({name: [f"c{n}" for n in range(width)] for name in "ab"})
        variants = NONE
        for n in range(2):
            variants = space.either(variants, space.cube((("a", f"c{n}"), ("b", f"c{n}"))))
        return ALLOWANCE - space._left

    assert pairs(10 * WIDE) > 5 * pairs(2)


def test_a_way_is_known_by_the_answers_that_led_there_and_by_no_others() -> None:
    space = Space({"turbo": ["no", "yes"]})
    (worn, _), (loud, quiet), (hot, _) = (space.ask(question) for question in ("worn", "loud", "hot"))
    turbo = space.chosen("turbo", ["yes"])
    way = space.go_on(space.both(space.both(worn, quiet), hot), turbo)
    assert space.both(way, turbo) == way
    assert set(space.smallest(way, ALL)) == {("worn", "yes"), ("hot", "yes")}
    further = space.go_on(space.both(way, loud), turbo)
    assert set(space.smallest(further, ALL)) == {("worn", "yes"), ("hot", "yes"), ("loud", "yes")}


class Counted(Space):
    """Variants that count how often a diagram is opened."""

    opened = 0

    def answers(self, variants: VariantSet, place: int) -> tuple[VariantSet, ...]:
        self.opened += 1
        return super().answers(variants, place)


def opened_for(options: int) -> int:
    """Return how often diagrams are opened to find that nothing shorter shows an odd number of choices."""
    space = Counted({f"o{n}": ["a", "b"] for n in range(options)})
    odd = NONE
    for n in range(options):
        b = space.chosen(f"o{n}", ["b"])
        odd = space.either(space.without(odd, b), space.without(b, odd))
    space.opened = 0
    assert len(space.smallest(odd)) == options
    return space.opened


def test_what_failed_once_is_not_searched_again() -> None:
    """Each of two sets an option, for each length: so it grows with the square, and does not double."""
    assert opened_for(9) < 4 * 9**2
    assert opened_for(12) < 4 * 12**2


def test_a_choice_that_nobody_knows_agrees_with_no_variant() -> None:
    space = Space({"drive": ["belt", "gear"], "seal": ["soft", "hard"]})
    belt = space.chosen("drive", ["belt"])
    assert space.cube((("drive", "belt"),)) == belt
    assert space.cube(()) == ALL
    assert space.cube((("drive", "steam"),)) == space.cube((("fuel", "belt"),)) == NONE
    assert space.cube((("seal", "soft"), ("drive", "steam"))) == NONE
    assert space.possible("drive", "belt")
    assert not space.possible("drive", "steam")
    space.exclude(belt)
    assert not space.possible("drive", "belt")


def test_what_a_set_depends_on() -> None:
    space = Space({"drive": ["belt", "gear"], "seal": ["soft", "hard"], "side": ["left", "right"]})
    belt, soft = space.chosen("drive", ["belt"]), space.chosen("seal", ["soft"])
    assert space.options_of(ALL) == space.options_of(NONE) == set()
    assert space.options_of(space.either(belt, soft)) == {"drive", "seal"}
    assert space.options_of(space.either(belt, space.without(ALL, belt))) == set()
    assert [space.depth(each) for each in (ALL, NONE)] == [0, 0]
    single = [space.chosen(name, [choice]) for name, choice in (("drive", "belt"), ("seal", "soft"), ("side", "left"))]
    assert sorted(space.depth(each) for each in single) == [1, 2, 3]


def test_an_empty_set_has_no_smallest_choice() -> None:
    space = Space({"drive": ["belt", "gear"]})
    with pytest.raises(ValueError, match="empty"):
        space.smallest(NONE)
    space.narrow((("drive", "belt"),))
    with pytest.raises(ValueError, match="empty"):
        space.smallest(space.chosen("drive", ["gear"]))
    assert space.smallest(space.chosen("drive", ["belt"])) == ()
