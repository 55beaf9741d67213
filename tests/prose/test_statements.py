"""Torques in texts: which words are one, where it stands, and whether it says how tight something gets."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.prose.aims import is_aim, is_limit, sentences
from putback.prose.statements import may_state, number_with, torques, unit_in
from putback.units import Kind, parse


@pytest.mark.parametrize(
    ("text", "same_as"),
    [
        ("18 N·m", "18 N·m"),
        ("18Nm", "18 N·m"),
        ("18 nm", "18 N·m"),
        ("1.8\u00a0N⋅m", "1.8 N·m"),
        ("20 N\u2009m", "20 N·m"),
        ("500 N.mm", "500 N·mm"),
        ("3 kNm", "3 kN·m"),
        ("2.5 kg·m", "2.5 kgf·m"),
        ("3 m·kgf", "3 kgf·m"),
        ("40 kgf-cm", "40 kgf·cm"),
        ("1½ ft. lbs", "1 1/2 lbf·ft"),
        ("13 lb-ft", "13 lbf·ft"),
        ("5 ft lbf", "5 lbf·ft"),
        ("80 inch-pounds", "80 lbf·in"),
        ("12 oz-in", "12 ozf·in"),
        ("18 N·m (13 lbf·ft)", "18 N·m (13 lbf·ft)"),
        ("9 N·m [80 lbf·in]", "9 N·m (80 lbf·in)"),
        ("22–28 lb-ft / 30–38 N·m", "22–28 lbf·ft (30–38 N·m)"),
        ("20 N·m ± 10 %", "20 N·m ± 10 %"),
        ("20 ± 2 N·m", "20 N·m ± 2 N·m"),
        ("20 N·m ± 2 N·m (15 lbf·ft)", "20 N·m ± 2 N·m (15 lbf·ft)"),
        ("1.8 N·m (± 0.2 N·m)", "1.8 N·m ± 0.2 N·m"),
        ("18 N·m to 20 N·m", "18 N·m to 20 N·m"),
        ("eighteen newton metres", "18 N·m"),
        ("Thirteen foot-pounds", "13 lbf·ft"),
        ("ten inch pounds", "10 lbf·in"),
        ("twenty-five Nm", "25 N·m"),
        ("one hundred and twenty inch-pounds", "120 lbf·in"),
        ("a hundred pound-force feet", "100 lbf·ft"),
        ("two thousand three hundred newton metres", "2300 N·m"),
        ("two and a half newton metres", "2.5 N·m"),
        ("half a newton metre", "0.5 N·m"),
        ("one point eight newton-meters", "1.8 N·m"),
        ("eighteen newton metres (thirteen foot pounds)", "18 N·m (13 lbf·ft)"),
    ],
)
def test_a_whole_text_is_a_torque(text: str, same_as: str) -> None:
    (found,) = torques(text)
    assert found.quantity == parse(same_as, Kind.TORQUE)
    assert (found.start, found.end, found.words) == (0, len(text), " ".join(text.replace("⋅", "·").split()))
    assert may_state(text)


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("between 22 and 28 N·m", ["22 and 28 N·m"]),
        ("between twenty and thirty newton metres", ["twenty and thirty newton metres"]),
        ("Tighten bolts 1 to 8 to 20 N·m.", ["20 N·m"]),
        ("all six to 9 N·m", ["9 N·m"]),
        ("all 6 to 9 N·m", ["9 N·m"]),
        ("M6 x 1.0 – 20 N·m", ["20 N·m"]),
        ("20 N·m, 40 N·m and 62 N·m", ["20 N·m", "40 N·m", "62 N·m"]),
        ("9 N·m (12 N·m when cold)", ["9 N·m", "12 N·m"]),
        ("guard bolts 9 N·m - drain plug 12 N·m", ["9 N·m", "12 N·m"]),
        ("20 lb in.", ["20 lb in"]),
    ],
)
def test_torques_among_other_words(text: str, words: list[str]) -> None:
    assert [found.words for found in torques(text)] == words


@pytest.mark.parametrize(
    "text",
    [
        "pulled with 40 N (9 lbf). In the middle",
        "pull with 9 lbf in the middle",
        "20 pounds in each hand",
        "in N·m first and in lbf·ft second",
        "1,234 N·m",  # 1.234 or 1234
        "six nine newton metres",
        "two point thirty newton metres",
        "28 to 22 N·m",
        "40 mm",
        "0.5 m",
        "part N-m7",
        "9 N m2",
        "",
    ],
)
def test_no_torque(text: str) -> None:
    assert torques(text) == []


@pytest.mark.parametrize(
    "text",
    [
        "do not exceed 20 N·m",
        "20 N·m must not be exceeded",
        "never above 20 N·m",
        "no more than 20 N·m",
        "at most 20 N·m",
        "20 N·m at most",
        "20 N·m, at most",
        "max. 20 N·m",
        "up to 20 N·m",
        "> 20 N·m",
        "a 20 N·m wrench",
        "it strips at 20 N·m",
        "the breakaway torque is 20 N·m",
        "it breaks loose at 20 N·m",
        "a drag of 20 N·m",
        "9 then, not 20 N·m",
        "in earlier motors 20 N·m",
        "by 20 N·m",
    ],
)
def test_a_limit_or_another_torque_is_no_aim(text: str) -> None:
    (found,) = torques(text)
    assert not is_aim(text, found.start, found.end)


@pytest.mark.parametrize(
    ("text", "aims"),
    [
        ("Tighten to 9 N·m.", [True]),
        ("Tighten the bolt under the lid to 9 N·m.", [True]),
        ("Set the torque wrench to 9 N·m.", [True]),
        ("Tighten to 9 N·m, never to more than 12 N·m.", [True, False]),
        ("9 N·m (never more than 12 N·m), and 9 N·m again", [True, False, True]),
        ("9 N·m; do not exceed it", [True]),
        ("Tighten to 9 N·m and never exceed 12 N·m", [True, False]),
    ],
)
def test_a_limit_reaches_as_far_as_its_clause(text: str, aims: list[bool]) -> None:
    assert [is_aim(text, found.start, found.end) for found in torques(text)] == aims


def test_sentences() -> None:
    text = "Tighten it. Then, e.g. Twice (approx. 9 N·m). 9 N·m! no stop. Is it tight? (Yes.) End"
    assert [text[start:end].strip() for start, end in sentences(text)] == [
        "Tighten it.", "Then, e.g. Twice (approx. 9 N·m).", "9 N·m! no stop.", "Is it tight?", "(Yes.)", "End",
    ]  # fmt: skip


def test_the_head_of_a_column() -> None:
    assert [unit_in(head) for head in ("Torque (lbf·ft)", "N·m", "N·m (lbf·ft)", "Torque")] == [
        "lbf·ft", "N·m", None, None,
    ]  # fmt: skip
    assert [is_limit(head) for head in ("Torque (N·m)", "at most, N·m", "Breaks at (N·m)")] == [False, True, True]


@pytest.mark.parametrize(("text", "same_as"), [("18", "18 N·m"), ("22–28", "22–28 N·m"), ("twenty-one", "21 N·m")])
def test_a_number_under_the_unit_of_its_column(text: str, same_as: str) -> None:
    assert number_with(text, "N·m") == parse(same_as, Kind.TORQUE)


@pytest.mark.parametrize("text", ["", "M6", "18 turns", "see 4", "22 and 28", "1" * 200])
def test_a_cell_that_is_no_number(text: str) -> None:
    assert number_with(text, "N·m") is None


WORDS = [
    "9",
    "18 ",
    " N·m",
    "lbf·ft",
    " to ",
    "–",
    "±",
    "(",
    ")",
    "/",
    "twenty",
    "-",
    "half",
    " in",
    ".",
    " ",
    "½",
    "\n",
]


@given(st.lists(st.sampled_from(WORDS), max_size=30).map("".join))
def test_law_places_are_in_order_and_cut_out_the_words(text: str) -> None:
    last = 0
    for found in torques(text):
        assert last <= found.start < found.end <= len(text)
        assert found.words == " ".join(text[found.start : found.end].split())
        last = found.end
    assert "".join(text[start:end] for start, end in sentences(text)) == text


@given(st.text(max_size=200))
def test_law_no_text_breaks_it(text: str) -> None:
    for found in torques(text):
        is_aim(text, found.start, found.end)


@pytest.mark.parametrize(
    "piece", ["1", "1 ", "18 N·m (", "twenty ", "lb in ", "– ", "12 N·m, ", "kg", " ", "N", "9 N·m ± ", "a. B", "½"]
)
def test_a_long_text_costs_no_more_than_its_length(piece: str) -> None:
    # A cost that grows with the square of the length would take minutes here.
    text = piece * (100_000 // len(piece))
    assert len(torques(text)) <= len(text)
    assert sum(end - start for start, end in sentences(text)) == len(text)
