"""What is suggested for a word that nobody knows: what a mechanic may write, and nothing that is far from it."""

from __future__ import annotations

import pytest

from putback.model.verbs import MEANT_WORDS, OTHER_WORDS, VERBS
from putback.source.load import load_text
from putback.source.nearest import meant_key, nearest
from putback.source.schema import FileKind, document, validate
from putback.units.kinds import Kind
from putback.units.quantity import QuantityError
from putback.units.reading import parse

VERB_WORDS = {
    "remove": "unbolt unscrew pull-off lift-out dismantle back-out prise-off take-off Take_Off disassemble",
    "install": "fit refit reinstall mount bolt bolt-on screw-in slide-on seat reassemble push-on",
    "loosen": "undo slacken slack-off back-off crack-off free",
    "tighten": "torque retorque re-torque torque-up snug nip-up do-up retighten",
    "fill": "top-up top top-off refill",
    "drain": "empty drain-off",
    "clean": "wash wipe blow-out scrape degrease",
    "apply": "grease oil lube smear",
    "set": "open close shut turn-on switch-off isolate",
    "act": "tap push heat bleed prime pump",
    "check": "test verify",
    "inspect": "look feel listen",
    "measure": "gauge gage weigh",
    "lift": "jack-up hoist",
    "place": "chock clamp support",
    "wait": "cool let-stand",
    "back-to": "goto redo repeat",
}
"""By a verb, words of the trade that are told to be that verb."""

VERB_SLIPS = {
    "install": "instal istall intsall",
    "remove": "remvoe removve",
    "tighten": "tigthen tighen",
    "loosen": "loose lossen",
    "disconnect": "disconect",
    "inspect": "inspekt inspct",
    "measure": "mesure meassure",
    "adjust": "adust",
    "take-away": "takeaway",
    "turn": "trun",
    "run": "runn rnu",
    "fill": "fil",
}
"""By a verb, what is asked about: was that verb meant?"""

NO_VERB = "kick grout ring park hint-at parts-list spring balance shim space gap thread colour bag sort weld rivet"
"""Words that nothing is suggested for: to park is not to mark."""

KEYS = [
    "torque",
    "no-torque",
    "by-hand",
    "count",
    "secures",
    "socket-10",
    "cover-bolts",
    "inner-race",
    "capacity",
    "to",
]
KEY_WORDS = {
    "retorque": None, "re-torque": None, "torqe": "torque", "troque": "torque", "number": None, "no_torque":
    "no-torque", "quantity": None, "amount": None, "socket-11": None, "soket-10": "socket-10", "socket10":
    "socket-10", "outer-race": None, "cover-blots": "cover-bolts", "covr-bolts": "cover-bolts", "cap": None,
    "capa": "capacity", "sercures": "secures", "fixes": None, "holds": None, "hand": None, "byhand": "by-hand",
    "tp": "to", "coutn": "count", "court": "count", "mount": "count", "drain-bolts": None, "cover-nuts": None,
    "TORQUE": "torque",
}  # fmt: skip
"""By a wrong key or name, the one that is suggested among KEYS."""

OTHER_KEYS = {
    "quantity": "count", "qty": "count", "weight": None, "part-number": "number", "part_no": "number",
    "sequence": "order", "strength": "class", "holds": "secures", "comment": "note", "type": "kind", "spanner": "drive",
    "price": None, "washer": None, "where": None, "size": None, "pitch": None,
}  # fmt: skip
"""By what people call a key of a fastener, that key."""

UNITS = {
    (Kind.TORQUE, "lbf·in"): "inch-pounds; inch pounds; in-lbs; in lbs; inch-pounds-force; lb-in; pound inches",
    (Kind.TORQUE, "lbf·ft"): "ft-lbs; FT-LB; foot pounds; foot-pounds force; pound-feet; pound-force feet; lb.ft",
    (Kind.TORQUE, "ozf·in"): "inch ounces; ounce-inches; oz-in",
    (Kind.TORQUE, "N·m"): "Nm; N m; newton metres; Newton-meters",
    (Kind.TORQUE, "kgf·m"): "kgm; kg-m; kilogram-metres; kilogram-force metres",
    (Kind.TORQUE, "kgf·cm"): "kgcm; kg cm; kilogram-centimetres",
    (Kind.LENGTH, "thou"): "thou",
    (Kind.LENGTH, "µm"): "micron; microns; micrometres",
    (Kind.VOLUME, "ml"): "cc; ccs; mls; mL",
    (Kind.VOLUME, "cm³"): "cubic centimetres; cubic centimeters",
    (Kind.VOLUME, "l"): "litres; Liters; ltr; L",
    (Kind.VOLUME, "imp gal"): "UK gallons; imperial gallons; imp gallons",
    (Kind.PRESSURE, "psi"): "PSI; lbs per square inch; pounds per square inch; lb/sq in",
    (Kind.PRESSURE, "inHg"): "inches of mercury; in. Hg",
    (Kind.TEMPERATURE, "°C"): "deg C; degrees Celsius; Celsius; centigrade",
    (Kind.ANGLE, "°"): "deg; degrees",
    (Kind.ANGLE, "turn"): "turns; revs; revolutions",
    (Kind.SPEED, "rpm"): "RPM; r.p.m.; revolutions per minute",
    (Kind.MASS, "kg"): "kgs; kilos",
    (Kind.CURRENT, "mA"): "milliamps",
    (Kind.RESISTANCE, "kΩ"): "kilohms; kohm",
}
"""By a kind and a unit, how else that unit is written."""

UNIT_SLIPS = {
    (Kind.TORQUE, "N·m"): "nm; NM; m N", (Kind.TORQUE, "lbf·ft"): "ft/lbs; foot/pounds", (Kind.TORQUE, "N·cm"): "ncm",
    (Kind.LENGTH, "mm"): "MM; mms; millimetr", (Kind.LENGTH, "in"): "ins; inchs", (Kind.LENGTH, "thou"): "thous",
    (Kind.VOLUME, "l"): "litr", (Kind.PRESSURE, "bar"): "Bar", (Kind.PRESSURE, "kPa"): "KPA",
    (Kind.TEMPERATURE, "°C"): "C; °c", (Kind.TIME, "min"): "minuts", (Kind.MASS, "kg"): "KG", (Kind.POWER, "kW"): "KW",
}  # fmt: skip
"""By a kind and a unit, what is asked about: was that unit meant?"""

NO_UNIT = {
    Kind.TORQUE: "dNm; tight; grunts", Kind.LENGTH: "tenths; hundredths; yard; mu", Kind.VOLUME: "cups; tablespoons",
    Kind.TIME: "weeks; months; years", Kind.MASS: "stone; tons; gr", Kind.PRESSURE: "at", Kind.ANGLE: "quarter turns",
}  # fmt: skip
"""By a kind, units that no other one is near to: a cup is no cubic metre."""


def pairs(table: dict[str, str]) -> list[tuple[str, str]]:
    return [(word, verb) for verb, words in table.items() for word in words.split()]


def units(table: dict[tuple[Kind, str], str]) -> list[tuple[Kind, str, str]]:
    return [(kind, unit, word) for (kind, unit), words in table.items() for word in words.split("; ")]


def told(word: str) -> str:
    job = load_text(f"job: x\nsteps:\n  - {word}: lid\n", "job.yaml")
    return validate(job, FileKind.JOB, MEANT_WORDS)[0].message


@pytest.mark.parametrize(("word", "verb"), pairs(VERB_WORDS))
def test_a_word_of_the_trade_is_told_to_be_a_verb(word: str, verb: str) -> None:
    if verb == "back-to":  # a word for it outside a branch is met as any other
        assert MEANT_WORDS[word] == verb
    else:
        assert told(word) == f"use '{verb}', not '{word}'"


@pytest.mark.parametrize(("word", "verb"), pairs(VERB_SLIPS))
def test_a_slip_is_asked_about(word: str, verb: str) -> None:
    assert told(word) == f"'{word}' is not a verb; did you mean '{verb}'?"


@pytest.mark.parametrize("word", NO_VERB.split())
def test_nothing_is_suggested_for_a_word_that_is_far(word: str) -> None:
    assert told(word) == f"'{word}' is not a verb"


@pytest.mark.parametrize(("word", "likely"), KEY_WORDS.items())
def test_only_a_near_key_or_name_is_suggested(word: str, likely: str | None) -> None:
    assert nearest(word, KEYS) == likely


@pytest.mark.parametrize(("word", "key"), OTHER_KEYS.items())
def test_another_word_for_a_key_is_known(word: str, key: str | None) -> None:
    keys = document("machine.schema.json")["$defs"]["fastener"]["properties"]
    assert meant_key(word, [*keys]) == key


@pytest.mark.parametrize(("kind", "unit", "word"), units(UNITS))
def test_a_unit_is_read_as_it_is_said(kind: Kind, unit: str, word: str) -> None:
    assert parse(f"80 {word}", kind).unit == unit


@pytest.mark.parametrize(("kind", "unit", "word"), units(UNIT_SLIPS))
def test_a_unit_with_a_slip_is_asked_about(kind: Kind, unit: str, word: str) -> None:
    assert hint(f"80 {word}", kind) == f"did you mean '80 {unit}'?"


@pytest.mark.parametrize(("kind", "words"), NO_UNIT.items())
def test_no_unit_of_another_size_is_suggested(kind: Kind, words: str) -> None:
    for word in words.split("; "):
        assert hint(f"80 {word}", kind).startswith("write a unit")


def hint(written: str, kind: Kind) -> str:
    with pytest.raises(QuantityError) as caught:
        parse(written, kind)
    return caught.value.hint or ""


def test_a_loose_word_stands_for_one_verb() -> None:
    loose = [word for verb in VERBS.values() for word in verb.loose_words]
    assert len(loose) == len(set(loose))
    assert set(loose).isdisjoint(OTHER_WORDS)
    keys = {*VERBS, *(key for verb in VERBS.values() for key in verb.keys)}
    assert set(loose) & keys == {"torque"}, "a key is only met as a verb where a name is its value"
