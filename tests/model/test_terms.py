"""Conditions that are joined."""

from __future__ import annotations

from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from putback.model.terms import Clause, Ref, When, both
from putback.source.span import top_of

WHERE = top_of("f.yaml")
OPTIONS = {"drive": ("belt", "gear", "chain"), "seal": ("soft", "metal")}


@st.composite
def whens(draw: st.DrawFn) -> When:
    def clause(option: str) -> Clause:
        choices = draw(st.lists(st.sampled_from(OPTIONS[option]), min_size=1, unique=True))
        return Clause(Ref(option, WHERE), tuple(Ref(choice, WHERE) for choice in choices))

    def case() -> tuple[Clause, ...]:
        return tuple(clause(name) for name in sorted(draw(st.sets(st.sampled_from(sorted(OPTIONS)), min_size=1))))

    return When(tuple(case() for _ in range(draw(st.integers(1, 2)))), WHERE)


def meets(when: When | None, variant: dict[str, str]) -> bool:
    return when is None or any(
        all(variant[clause.option.name] in {choice.name for choice in clause.choices} for clause in case)
        for case in when.cases
    )


@given(st.none() | whens(), st.none() | whens())
def test_both_hold_where_each_holds(one: When | None, other: When | None) -> None:
    joined = both(one, other)
    for chosen in product(*OPTIONS.values()):
        variant = dict(zip(OPTIONS, chosen, strict=True))
        assert meets(joined, variant) == (meets(one, variant) and meets(other, variant))


def test_no_condition_is_none() -> None:
    assert both(None, None) is None
