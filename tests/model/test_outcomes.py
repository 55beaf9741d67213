"""Which value leads to which outcome: held against trying every value."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from putback.model.job import Outcome
from putback.model.outcomes import Border, ValueSpan, comparable, left_out, overlap, reach_of, shared_ends
from putback.model.said import Limit, Said
from putback.source.span import top_of
from putback.units import Kind, parse_any, show


def limit(text: str) -> Limit:
    return Limit(Said(text, top_of("f.yaml")), parse_any(text))


SPANS = st.one_of(
    st.tuples(st.integers(0, 4), st.integers(1, 3)).map(lambda ends: f"{ends[0]} mm .. {ends[0] + ends[1]} mm"),
    st.tuples(st.sampled_from(["<", "<=", ">", ">="]), st.integers(1, 6)).map(lambda end: f"{end[0]} {end[1]} mm"),
)
TRIED = [Decimal(value) / 4 for value in range(33)]


def holds(reach: ValueSpan, value: Decimal) -> bool:
    return reach.low <= Border(value, 0) <= reach.high


@settings(max_examples=300, deadline=None)
@given(st.lists(SPANS, min_size=1, max_size=4))
def test_what_is_left_out_is_what_lies_in_no_span(texts: list[str]) -> None:
    reaches = [reach_of(parse_any(text), "mm") for text in texts]
    gaps = left_out(reaches, Kind.LENGTH)
    for value in TRIED:
        missed = any(gap.low <= Border(value, 0) < gap.high for gap in gaps)
        assert missed != any(holds(reach, value) for reach in reaches)
    for one in reaches:
        for other in reaches:
            both = overlap(one, other)
            for value in TRIED:
                assert (both is not None and holds(both, value)) == (holds(one, value) and holds(other, value))


@pytest.mark.parametrize(
    ("kind", "texts", "missed"),
    [
        (Kind.LENGTH, ["0 mm .. 2 mm", "> 2 mm"], 0),
        (Kind.LENGTH, ["0.1 in .. 0.2 in", "> 5.08 mm", "< 2.54 mm"], 0),
        (Kind.LENGTH, ["0.1 in .. 0.2 in", "> 5.1 mm", "< 2.5 mm"], 2),
        (Kind.TEMPERATURE, ["0 °C .. 80 °C", "> 80 °C"], 1),
        (Kind.SHARE, ["75 % .. 100 %", "< 75 %"], 0),
        (Kind.SHARE, ["75 % .. 90 %", "< 75 %"], 1),
    ],
)
def test_values_that_nothing_is_said_for(kind: Kind, texts: list[str], missed: int) -> None:
    unit = parse_any(texts[0]).unit
    assert len(left_out([reach_of(parse_any(text), unit) for text in texts], kind)) == missed


def test_what_does_not_convert_is_not_compared() -> None:
    assert comparable(parse_any("1 mm .. 2 mm"), parse_any("> 0.1 in"))
    assert not comparable(parse_any("1 mm .. 2 mm"), parse_any("> 1 N"))
    assert not comparable(parse_any("600 rpm .. 700 rpm"), parse_any("> 700 km/h"))


@pytest.mark.parametrize(
    ("good", "outcomes", "shared"),
    [
        ("<= 9 mm", ["9 mm .. 10 mm", "> 10 mm"], [["9 mm"], []]),
        (">= 9 mm", ["8 mm .. 9 mm", "7 mm .. 8 mm", "< 7 mm"], [["9 mm"], ["8 mm"], []]),
        ("> 9 mm", ["8 mm .. 9 mm", "< 8 mm"], [[], []]),
        (">= 1 cm", ["8 mm .. 10 mm", "< 8 mm"], [["10 mm"], []]),
    ],
)
def test_an_end_that_two_share_belongs_to_the_first(good: str, outcomes: list[str], shared: list[list[str]]) -> None:
    listed = [Outcome(limit(text), (), top_of("f.yaml")) for text in outcomes]
    found = [shared_ends(each.found, limit(good), listed) for each in listed]
    assert [[show(end).replace("\xa0", " ") for end in ends] for ends in found] == shared
