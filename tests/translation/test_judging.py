"""Tests of what a translation must keep of a text."""

from __future__ import annotations

import pytest

from putback.model.terms import Signal
from putback.source.span import Span
from putback.translation.judging import lost_in
from putback.translation.wording import GuideText


def lost(text: str, told: str, *, context: str = "jobs.a.note", signal: Signal | None = None) -> list[str]:
    return [*lost_in(GuideText(context, text, (Span("a.yaml", 1, 1, 1, 2),), "", signal), told, "de")]


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("Let 1.5 l run out.", "1,5 l ablassen."),
        ("At 1,500 rpm.", "Bei 1.500 1/min."),
        ("At 1500 rpm.", "Bei 1500 1/min."),
        ("Tighten to 18 N·m.", "Mit 18 N·m anziehen."),
        ("Tighten to 18 Nm.", "Mit 18 N·m anziehen."),
        ("Turn it twice, by two turns.", "Zweimal um 2 Umdrehungen drehen."),
        ("After 2 hours.", "Nach 2 Stunden."),
        ("Oil SAE 10W-30, part AG-1103.", "Öl SAE 10W-30, Teil AG-1103."),
        ("A rope of 7 x 19, 6 mm thick.", "Ein Drahtseil 7 x 19, 6 mm dick."),
        ("Do {job line}, then {step drain of oil}.", "{step drain of oil}, zuvor {job line}."),
        ("It holds 3 litres.", "Er fasst 3 Liter."),
    ],
)
def test_what_says_the_same_is_right(text: str, told: str) -> None:
    assert lost(text, told) == []


@pytest.mark.parametrize(
    ("text", "told", "message"),
    [
        ("Let 1.5 l run out.", "15 l ablassen.", "the text says '1.5 l', but the translation '15 l'"),
        ("Tighten to 18 N·m.", "Fest anziehen.", "the translation does not say '18 N·m'"),
        ("Tighten it.", "Mit 18 N·m anziehen.", "the translation says '18 N·m', but the text does not"),
        ("Push with 5 N.", "Mit 5 kN drücken.", "the text says '5 N', but the translation '5 kN'"),
        ("Renew AG-1103.", "AG-1130 erneuern.", "the translation does not say 'AG-1103'"),
        ("Do {job line}.", "Erst {job brake}.", "the text says '{job line}', but the translation '{job brake}'"),
        ("Do {job line}.", "Gurt erneuern.", "the translation does not say '{job line}'"),
    ],
)
def test_what_says_something_else_is_told_once(text: str, told: str, message: str) -> None:
    assert lost(text, told) == [message]


@pytest.mark.parametrize(
    ("told", "message"),
    [
        ("Siehe [hier](b.md).", "the text says '(a.md)', but the translation '(b.md)'"),
        ("Siehe hier.", "the translation does not say '(a.md)'"),
        ("Siehe [hier](a.md). <script>x</script>", "the translation says '<script>', but the text does not"),
        ("Siehe [hier](a.md). ![](x.png)", "the translation says '!(x.png)', but the text does not"),
        ("Siehe [hier](a.md){.note}.", "the translation says '{.note}', but the text does not"),
        ("Siehe [hier](a.md), {raw}`x`.", "the translation says '{raw}`x`', but the text does not"),
    ],
)
def test_on_a_page_a_translation_brings_nothing_that_the_text_has_not(told: str, message: str) -> None:
    assert message in lost("See [here](a.md).", told, context="pages.index")


def test_words_beside_a_target_may_be_translated() -> None:
    assert lost("{putback:step}`the drain <drain>`", "{putback:step}`Ablassen <drain>`", context="pages.index") == []


def test_another_signal_word_is_told() -> None:
    assert lost("Belts turn.", "DANGER: Riemen laufen.", signal=Signal.CAUTION) == [
        "the translation says 'DANGER', but the signal word is caution"
    ]
    assert lost("Belts turn.", "Caution: Riemen laufen.", signal=Signal.CAUTION) == []
