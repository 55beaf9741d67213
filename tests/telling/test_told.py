"""What says messages, numbers and lists in a language: fields, plurals, figures."""

from __future__ import annotations

from decimal import Decimal

import pytest
from babel.messages.catalog import Catalog

from putback.telling import Message, Teller, fields_of, filled, in_parts, told_in
from putback.telling.catalogue import Read, Untranslated
from putback.telling.figures import locale_of, unit_messages
from putback.units import System, parse, parse_any
from putback.units.kinds import Kind

GERMAN = {
    ("order", "{thing}: go on"): "{thing}: weiter",
    ("quantity", "{low} to {high}"): "{low} bis {high}",
    ("quantity", "{quantity} at {condition}"): "{quantity} bei {condition}",
    ("unit", "rpm"): "1/min",
    ("list", "{others} and {last}"): "{others} und {last}",
    ("list", "{others} or {last}"): "{others} oder {last}",
    ("quotes", "“{text}”"): "„{text}“",
    ("lost", "{thing}, {count}"): "{thing}",
}


@pytest.fixture(scope="module")
def german() -> Teller:
    catalog = Catalog("de")
    for (context, text), told in GERMAN.items():
        catalog.add(text, told, context=context)
    catalog.add(("{count} piece", "{count} pieces"), ("{count} Teil", "{count} Teile"), context="pieces")
    catalog.add(("tooth", "teeth"), ("Zahn", "Zähne"), context="unit.counted")
    catalog.add("open", "offen", context="fuzzy", flags={"fuzzy"})
    return Teller("de", Read(catalog))


@pytest.fixture(scope="module")
def english() -> Teller:
    return Teller("en", Untranslated())


def test_a_message_is_told_in_the_language(german: Teller) -> None:
    assert german.say("order", "{thing}: go on", thing="Impeller {0}") == "Impeller {0}: weiter"
    assert german.told(Message("order", "{thing}: go on"), thing="x") == "x: weiter"


def test_the_context_tells_messages_apart(german: Teller) -> None:
    assert german.say("elsewhere", "{thing}: go on", thing="x") == "x: go on"


def test_what_is_counted_has_the_plural_of_the_language(german: Teller) -> None:
    told = [german.say_count("pieces", "{count} piece", "{count} pieces", count) for count in (1, 2, 12)]
    assert told == ["1 Teil", "2 Teile", "12 Teile"]


def test_a_translation_that_loses_a_field_is_not_used(german: Teller) -> None:
    assert german.say("lost", "{thing}, {count}", thing="x", count="4") == "x, 4"


def test_a_fuzzy_translation_is_not_used(german: Teller) -> None:
    assert german.say("fuzzy", "open") == "open"


def test_a_field_that_is_not_given_is_a_fault_of_the_code(german: Teller) -> None:
    with pytest.raises(KeyError, match="thing"):
        german.say("order", "{thing}: go on")


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("8.5 N·m", "8,5 N·m"),
        ("22-28 lbf·ft", "22–28 lbf·ft"),
        ("-3 to 4.5 °C", "−3 bis 4,5 °C"),
        (">= 6.4 mm", "≥ 6,4 mm"),
        ("445 +/- 22.5 N", "445 ± 22,5 N"),
        ("10.5 mm at 30 N", "10,5 mm bei 30 N"),
        ("900 rpm", "900 1/min"),
        ("1 tooth", "1 Zahn"),
        ("3 teeth", "3 Zähne"),
        ("1 1/2 in", "1 1/2 in"),
        ("0.4 mm (0.016 in)", "0,4 mm (0,016 in)"),
    ],
)
def test_a_quantity_has_the_figures_of_the_language(german: Teller, written: str, told: str) -> None:
    assert german.in_own_unit(parse_any(written)).replace("\u00a0", " ") == told


def test_a_quantity_is_converted_as_in_english(german: Teller, english: Teller) -> None:
    torque = parse("8.5 N·m", Kind.TORQUE)
    assert english.quantity(torque, System.METRIC, System.US).replace("\u00a0", " ") == "8.5 N·m (6.3 lbf·ft)"
    assert german.quantity(torque, System.METRIC, System.US).replace("\u00a0", " ") == "8,5 N·m (6,3 lbf·ft)"
    step = parse("0.05 mm", Kind.LENGTH)
    assert german.like(step, step, System.METRIC).replace("\u00a0", " ") == "0,05 mm"


def test_numbers_have_the_decimal_sign_of_the_language(german: Teller, english: Teller) -> None:
    assert [german.number(each) for each in (1000, 0.25, Decimal("8.0"))] == ["1000", "0,25", "8"]
    assert english.number(0.25) == "0.25"
    assert Teller("es-MX", Untranslated()).number(0.25) == "0.25"
    assert Teller("es", Untranslated()).number(0.25) == "0,25"


def test_lists_and_quotation_marks_are_messages(german: Teller, english: Teller) -> None:
    assert german.listed(["a", "b", "c"]) == "a, b und c"
    assert german.either(["a", "b"]) == "a oder b"
    assert english.listed(["a", "b", "c"]) == "a, b and c"
    assert german.listed(["a"]) == "a"
    assert german.listed([]) == ""
    assert german.quoted("x") == "„x“"


def test_spanish_has_another_word_before_the_same_sound() -> None:
    catalog = Catalog("es")
    for context, text, told in (
        ("list", "{others} and {last}", "{others} y {last}"),
        ("list.before-i", "{others} and {last}", "{others} e {last}"),
        ("list", "{others} or {last}", "{others} o {last}"),
        ("list.before-o", "{others} or {last}", "{others} u {last}"),
    ):
        catalog.add(text, told, context=context)
    spanish = Teller("es", Read(catalog))
    assert spanish.listed(["bomba", "impulsor"]) == "bomba e impulsor"
    assert spanish.listed(["agua", "hielo"]) == "agua y hielo"
    assert spanish.either(["cerrado", "oculto"]) == "cerrado u oculto"
    assert spanish.either(["uno", "dos"]) == "uno o dos"


def test_a_day_is_written_as_the_language_does(german: Teller, english: Teller) -> None:
    assert german.date("2026-05-03") == "3. Mai 2026"
    assert Teller("es", Untranslated()).date("2026-05-03") == "3 de mayo de 2026"
    assert english.date("2026-05-03") == "2026-05-03"
    assert german.date("spring 2026") == "spring 2026"


def test_a_language_that_nobody_knows_is_told_in_english() -> None:
    told = told_in("qaa")
    assert told.say("order", "{thing}: go on", thing="x") == "x: go on"
    assert told.number(0.25) == "0.25"
    assert locale_of("de-Latn-CH-x-old") is not None
    assert locale_of("tlh") is None


def test_braces_of_other_kinds_are_words() -> None:
    assert fields_of("{a} {B} {0} {} {a_b} {a}") == {"a", "a_b"}
    assert list(in_parts("{a}: b")) == [(True, "a"), (False, ": b")]
    assert filled("{a}{b}", {"a": "{b}", "b": "1"}) == "{b}1"


def test_units_that_are_words_are_messages() -> None:
    wanted = {each.message for each in unit_messages()}
    assert Message("unit", "rpm") in wanted
    assert Message("unit.counted", "tooth", "teeth") in wanted
    assert not any(each.text == "mm" for each in wanted)
