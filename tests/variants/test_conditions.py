"""Conditions from sets of variants, and joined."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.model.machine import Machine
from putback.model.terms import Clause, Ref, When
from putback.source.span import top_of
from putback.variants import NONE, VariantSet
from putback.variants.conditions import NOWHERE, ManyCasesError, condition, joined
from putback.variants.graph import Graph

OPTIONS = {"drive": ("belt", "gear", "chain"), "shaft": ("short", "long"), "tab": ("none", "fitted")}
VARIANTS = [dict(zip(OPTIONS, values, strict=True)) for values in product(*OPTIONS.values())]


def when(*cases: dict[str, str]) -> When:
    clauses = [
        tuple(
            Clause(Ref(name, NOWHERE), tuple(Ref(each, NOWHERE) for each in value.split()))
            for name, value in case.items()
        )
        for case in cases
    ]
    return When(tuple(clauses), NOWHERE)


def said(limit: When | None) -> list[dict[str, str]] | None:
    if limit is None:
        return None
    return [{name.name: " ".join(each.name for each in choices) for name, choices in case} for case in limit.cases]


def graph(*never: When) -> Graph:
    machine = Machine(path="machine.yaml", span=top_of("machine.yaml"), name="Trial", options=OPTIONS, exclude=never)
    return Graph(machine)


def any_of(graph: Graph, *variants: dict[str, str]) -> VariantSet:
    found = NONE
    for variant in variants:
        found = graph.space.either(found, graph.space.cube(tuple(variant.items())))
    return found


@pytest.mark.parametrize(
    ("cases", "wanted"),
    [
        ([{}], None),
        ([{"drive": "belt"}], [{"drive": "belt"}]),
        ([{"drive": "gear chain"}], [{"drive": "gear chain"}]),
        ([{"drive": "belt"}, {"drive": "gear"}, {"drive": "chain"}], None),
        ([{"drive": "belt", "shaft": "long"}], [{"drive": "belt", "shaft": "long"}]),
        ([{"shaft": "short"}, {"tab": "fitted"}], [{"tab": "fitted"}, {"shaft": "short"}]),
        ([{"shaft": "long", "tab": "none"}, {"shaft": "long", "tab": "fitted"}], [{"shaft": "long"}]),
    ],
)
def test_a_condition_is_as_short_as_a_person_would_write_it(
    cases: list[dict[str, str]], wanted: list[dict[str, str]] | None
) -> None:
    here = graph()
    found = said(condition(here, here.meaning(when(*cases))))
    assert sorted(map(str, found or [])) == sorted(map(str, wanted or []))
    assert (found is None) == (wanted is None)


def test_what_was_never_built_goes_without_saying() -> None:
    here = graph(when({"drive": "belt", "shaft": "long"}))
    belt = here.space.both(here.meaning(when({"drive": "belt"})), here.space.built)
    assert said(condition(here, belt)) == [{"drive": "belt"}]
    short = here.meaning(when({"shaft": "short"}))
    assert said(condition(here, short, belt)) is None


@given(st.sets(st.sampled_from(range(len(VARIANTS))), min_size=1), st.sets(st.sampled_from(range(len(VARIANTS)))))
def test_a_condition_means_its_set(wanted: set[int], never: set[int]) -> None:
    never -= {min(wanted)}
    here = graph(*(when(VARIANTS[number]) for number in never))
    chosen = any_of(here, *(VARIANTS[number] for number in wanted))
    built = here.space.both(chosen, here.space.built)
    found = condition(here, chosen)
    assert here.space.both(here.meaning(found), here.space.built) == built
    assert (found is None) == (built == here.space.built)


@given(
    st.sets(st.sampled_from(range(len(VARIANTS))), min_size=1),
    st.sets(st.sampled_from(range(len(VARIANTS))), min_size=1),
)
def test_joined_conditions_mean_both(one: set[int], other: set[int]) -> None:
    here = graph()
    first, second = (condition(here, any_of(here, *(VARIANTS[n] for n in numbers))) for numbers in (one, other))
    both = here.space.both(here.meaning(first), here.meaning(second))
    assert here.meaning(joined(here, first, second)) == both


def test_what_the_other_implies_is_left_out() -> None:
    here = graph()
    narrow, wide = when({"drive": "belt", "shaft": "long"}), when({"drive": "belt gear"})
    assert joined(here, narrow, wide) is narrow
    assert joined(here, wide, narrow) is narrow
    assert joined(here, None, wide) is wide
    assert said(joined(here, wide, when({"tab": "none"}))) == [{"drive": "belt gear", "tab": "none"}]


def test_more_cases_than_can_be_read_are_none() -> None:
    options = {f"o{n}": ("a", "b") for n in range(6)}
    machine = Machine(path="machine.yaml", span=top_of("machine.yaml"), name="Trial", options=options)
    here = Graph(machine)
    odd = [dict(zip(options, values, strict=True)) for values in product("ab", repeat=6) if values.count("a") % 2]
    with pytest.raises(ManyCasesError):
        condition(here, any_of(here, *odd))
    found = condition(here, any_of(here, *odd), most=32)
    assert found is not None
    assert len(found.cases) == 32


def test_a_case_takes_in_all_that_it_can() -> None:
    machine = Machine(
        path="machine.yaml",
        span=top_of("machine.yaml"),
        name="Trial",
        options={"drive": ("belt", "gear", "chain"), "fuel": ("petrol", "diesel", "gas")},
    )
    here = Graph(machine)
    wanted = when({"drive": "belt gear", "fuel": "petrol"}, {"drive": "chain", "fuel": "diesel gas"})
    assert sorted(map(str, said(condition(here, here.meaning(wanted))) or [])) == sorted(map(str, said(wanted) or []))
    three = when({"drive": "belt", "fuel": "petrol"}, {"drive": "gear", "fuel": "petrol diesel"}, {"drive": "chain"})
    found = condition(here, here.meaning(three))
    assert found is not None
    assert len(found.cases) == 3
    assert here.meaning(found) == here.meaning(three)


def many() -> tuple[Graph, When, When]:
    """Return two conditions of fifteen cases each, as somebody may write them, who never counts choices together."""
    numbers = [f"n{n}" for n in range(16)]
    options = {"first": tuple(numbers), "second": tuple(numbers), "seal": ("soft", "hard")}
    machine = Machine(path="machine.yaml", span=top_of("machine.yaml"), name="Trial", options=options)
    one, other = (when(*({name: number} for number in numbers[:-1])) for name in ("first", "second"))
    return Graph(machine), one, other


def test_joined_conditions_of_too_many_cases_are_written_anew() -> None:
    here, one, other = many()
    found = joined(here, one, other)
    assert found is not None
    assert here.meaning(found) == here.space.both(here.meaning(one), here.meaning(other))
    assert len(found.cases) == 1


def test_joined_conditions_of_few_cases_stay_as_they_were_written() -> None:
    here, one, _ = many()
    some = when(*({"second": f"n{n}"} for n in range(13)))
    for second, cases in ((when({"seal": "soft"}), 15), (some, 15 * 13)):
        for found in (joined(here, one, second), joined(here, second, one)):
            assert found is not None
            assert len(found.cases) == cases


def test_a_single_case_is_added_to_each_of_many() -> None:
    numbers = [f"n{n}" for n in range(16)]
    options = {"first": tuple(numbers), "second": tuple(numbers), "seal": ("soft", "hard")}
    machine = Machine(path="machine.yaml", span=top_of("machine.yaml"), name="Trial", options=options)
    here = Graph(machine)
    pairs = when(*({"first": one, "second": other} for one, other in product(numbers[:-1], repeat=2)))
    found = joined(here, pairs, when({"seal": "soft"}))
    assert found is not None
    assert len(found.cases) == 15 * 15
