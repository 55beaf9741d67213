"""Readings and outcomes as they are printed."""

from __future__ import annotations

import re

import pytest

from putback.model.readings import readings_of
from putback.model.verbs.asking import Measure
from putback.words import as_text
from tests.sheet.test_variants import sheet

OUTCOMES = """\
  - measure: gap
    name: gap
    limit: 0.20 mm .. 0.30 mm
    outcomes:
      - found: "> 0.30 mm"
        steps:
          - {remove: cover, tool: press}
          - install: cover
          - back-to: gap
      - found: "< 0.20 mm"
        steps: [{replace: ring, tool: press}]
"""


def lines(steps: str) -> list[str]:
    """Return what leads to each outcome, and the numbers of its steps."""
    found, words = sheet(steps)
    [top] = [step for step in found.walk() if step.outcomes]
    return [
        f"{words.outcome(top.step, each.found)} {' '.join(step.number for step in each.steps)}".replace("\xa0", " ")
        for each in top.outcomes
    ]


def test_the_numbers_of_outcomes_go_on() -> None:
    assert lines(OUTCOMES) == [
        "If the value is more than 0.30 mm (0.0118 in): 1a 1b 1c",
        "If the value is less than 0.20 mm (0.0079 in): 1d",
    ]


def test_rows_say_which_outcome_asks() -> None:
    found, words = sheet(OUTCOMES)
    said = [words.row(row.thing.key, row.when, row.only_if).replace("\xa0", " ") for row in found.count_back]
    assert said == [
        "cover (only if step 1 finds > 0.30 mm)",
        "ring (only if step 1 finds < 0.20 mm)",
    ]
    assert [words.row(row.what, row.when, row.only_if) for row in found.set_up.tools] == [
        "press (only if step 1 asks for it)"
    ]


def test_a_follow_up_says_which_outcome_led_to_it() -> None:
    found, words = sheet("""\
  - measure: gap
    limit: 1 mm .. 2 mm
    outcomes:
      - found: "> 2 mm"
        steps: [{remove: bolts}, {install: bolts}, {tighten: bolts}]
      - found: "< 1 mm"
        steps: [{stop: x}]
""")
    [due] = found.follow_ups
    assert words.if_led(due.only_if).replace("\xa0", " ") == ("Only if the steps under step 1 (> 2 mm) were done.")


@pytest.mark.parametrize(
    ("outcomes", "said"),
    [
        ("limit: '<= 0.1 mm'|0.1 mm .. 0.2 mm|> 0.2 mm", "0.1–0.2 mm, but not 0.1 mm"),
        ("limit: '<= 0.1 mm', readings: 2, judge: difference|> 0.1 mm", "If the difference is more than 0.1 mm"),
        ("limit: '<= 0.1 mm', readings: 2|> 0.1 mm", "If a reading is more than 0.1 mm"),
        ("limit: '<= 0.1 mm', readings: 2, judge: largest|> 0.1 mm", "If the largest is more than 0.1 mm"),
        ("limit: 98 N .. 116 N at 46.2 mm|> 116 N|< 98 N", "If the value is more than 116 N"),
    ],
)
def test_what_leads_to_an_outcome(outcomes: str, said: str) -> None:
    keys, *found = outcomes.split("|")
    listed = ", ".join(f"{{found: '{each}', steps: [{{stop: x}}]}}" for each in found)
    assert said in metric(lines(f"  - {{measure: gap, {keys}, outcomes: [{listed}]}}\n")[0])


def metric(words: str) -> str:
    """Return words without their second units."""
    return re.sub(r" \([^)]* (in|lbf)\)", "", words.replace("\xa0", " "))


@pytest.mark.parametrize(
    ("keys", "sentence", "blanks", "otherwise"),
    [
        ("measure: gap, limit: 1 mm .. 2 mm", "Measure the gap: it must be 1–2 mm.", [""], "If the value is outside"),
        ("measure: gap, limit: <= 2 mm, readings: 2",
         "Measure the gap: each reading must be no more than 2 mm.", ["Reading 1", "Reading 2"],
         "If a reading is more than 2 mm"),
        ("measure: gap, limit: <= 2 mm, readings: [left side, right side], judge: largest",
         "Measure the gap: the largest must be no more than 2 mm.", ["Left side", "Right side", "Largest"],
         "If the largest is more than 2 mm"),
        ("measure: gap, limit: <= 2 mm, readings: 2, difference: <= 1 mm",
         "Measure the gap: each reading must be no more than 2 mm, and the difference must be no more than 1 mm.",
         ["Reading 1", "Reading 2", "Difference: largest minus smallest"],
         "If a reading is more than 2 mm, or the difference is more than 1 mm"),
        ("measure: gap, readings: 2, difference: <= 1 mm", "Measure the gap: the difference must be no more than 1 mm.",
         ["Reading 1", "Reading 2", "Difference: largest minus smallest"],
         "If the difference is more than 1 mm"),
        ("measure: gap, readings: 2, judge: smallest, limit: '>= 2 mm'",
         "Measure the gap: the smallest must be at least 2 mm.",
         ["Reading 1", "Reading 2", "Smallest"], "If the smallest is less than 2 mm"),
        ("measure: gap, readings: 2, judge: average, limit: '>= 2 mm'",
         "Measure the gap: the average must be at least 2 mm.",
         ["Reading 1", "Reading 2", "Average: all added up, divided by their number"],
         "If the average is less than 2 mm"),
        ("measure: places, limit: <= 20 mm",
         "Measure the two nuts: each reading must be no more than 20 mm.", ["Left", "Right"],
         "If a reading is more than 20 mm"),
        ("measure: spring, limit: 98 N .. 116 N at 46.2 mm", "98–116 N at 46.2 mm.", [""],
         "If the value is outside 98–116 N"),
    ],
)  # fmt: skip
def test_each_reading_has_a_line(keys: str, sentence: str, blanks: list[str], otherwise: str) -> None:
    found, words = sheet(f"  - {{{keys.replace('<= ', '≤ ')}, otherwise: [{{stop: x}}]}}\n")
    step = next(found.walk()).step
    assert isinstance(step.action, Measure)
    assert sentence in metric(as_text(words.step(step)))
    names = readings_of(step.action, words.things)
    told = [*(words.reading(name) if name else "" for name in names), *words.worked_out(step.action)]
    assert told == blanks
    assert otherwise in metric(words.otherwise(step))


def test_a_text_of_the_author_leaves_no_limit_out() -> None:
    found, words = sheet(
        "  - {measure: gap, limit: 1 mm .. 2 mm, readings: 2, difference: 0.1 mm .. 0.2 mm, text: Measure it.}\n"
    )
    said = as_text(words.step(next(found.walk()).step)).replace("\xa0", " ")
    assert said.startswith("Measure it. Limit: 1–2 mm")
    assert "difference of the readings: 0.1–0.2 mm" in said
