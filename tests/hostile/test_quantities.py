"""Quantities that are none, or none of their kind, or beyond every machine."""

# ruff: noqa: E501  # a row of a table is one line

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.telling import Row, Table, bad_rows, good_rows

TABLES = {
    "mass": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {mass: "@@"}
""",
        (
            ("0", '"0"', "bare-number: '0' has no unit"),
            ("1.5", '"1.5"', "bare-number: '1.5' has no unit"),
            ("-", '"-"', "bad-quantity: '-' is not a quantity: a number and then a unit are expected"),
            ("kg", '"kg"', "bad-quantity: 'kg' is not a quantity: a number and then a unit are expected"),
            ("kg 5", '"kg 5"', "bad-quantity: 'kg 5' is not a quantity: a number and then a unit are expected"),
            ("-1 kg", '"-1 kg"', "bad-quantity: '-1 kg' is a negative mass"),
            ("1 kg 1", '"1 kg 1"', "bare-number: '1 kg 1' has no unit"),
            ("1 kg ..", '"1 kg .."', "bad-quantity: '1 kg ..' has one end of a range"),
            ("1 kg..", '"1 kg.."', "bad-quantity: '1 kg..' has one end of a range"),
            ("1 kg -", '"1 kg -"', "bad-quantity: '1 kg -' has one end of a range"),
            ("1 kg –", '"1 kg –"', "bad-quantity: '1 kg –' has one end of a range"),
            ("1 kg to", '"1 kg to"', "bad-quantity: '1 kg to' has one end of a range"),
            (".. 1 kg", '".. 1 kg"', "bad-quantity: '.. 1 kg' has one end of a range"),
            ("– 1 kg", '"– 1 kg"', "bad-quantity: '– 1 kg' has one end of a range"),
            ("to 1 kg", '"to 1 kg"', "bad-quantity: 'to 1 kg' has one end of a range"),
            (
                "2 kg .. 1 kg",
                '"2 kg .. 1 kg"',
                "bad-quantity: '2 kg .. 1 kg' is not a range: its first end must be the smaller",
            ),
            (
                "1 kg .. 1 kg",
                '"1 kg .. 1 kg"',
                "bad-quantity: '1 kg .. 1 kg' is not a range: its first end must be the smaller",
            ),
            ("1 kg .. 2 lb", '"1 kg .. 2 lb"', "bad-quantity: '1 kg .. 2 lb' has its two ends in different units"),
            ("1 m", '"1 m"', "bad-quantity: '1 m' is a length, but a mass is expected"),
            ("1 bar", '"1 bar"', "bad-quantity: '1 bar' is a pressure, but a mass is expected"),
            ("1 Kg", '"1 Kg"', "bad-quantity: '1 Kg' has the unknown unit of mass 'Kg'"),
            ("1 xyz", '"1 xyz"', "bad-quantity: '1 xyz' has the unknown unit of mass 'xyz'"),
            ("1,234 kg", '"1,234 kg"', "bad-quantity: '1,234 kg' is ambiguous: '1,234' can be 1234 or 1.234"),
            (
                "1.234,5 kg",
                '"1.234,5 kg"',
                "bad-quantity: '1.234,5 kg' has the number '1.234,5', which has more than one decimal sign",
            ),
            (
                "1.2.3 kg",
                '"1.2.3 kg"',
                "bad-quantity: '1.2.3 kg' has the number '1.2.3', which has more than one decimal sign",
            ),
            ("1 00 kg", '"1 00 kg"', "bad-quantity: '1 00 kg' has the unknown unit of mass '00 kg'"),
            ("1e3 kg", '"1e3 kg"', "bad-quantity: '1e3 kg' has the unknown unit of mass 'e3 kg'"),
            ("0x10 kg", '"0x10 kg"', "bad-quantity: '0x10 kg' has the unknown unit of mass 'x10 kg'"),
            ("1_000 kg", '"1_000 kg"', "bad-quantity: '1_000 kg' has the unknown unit of mass '_000 kg'"),
            ("½", '"½"', "bare-number: '½' has no unit"),
            ("1/0 kg", '"1/0 kg"', "bad-quantity: '1/0 kg' has the fraction '1/0'"),
            ("1/1 kg", '"1/1 kg"', "bad-quantity: '1/1 kg' has the fraction '1/1'"),
            ("1/200 kg", '"1/200 kg"', "bad-quantity: '1/200 kg' has the fraction '1/200'"),
            ("5 1/2", '"5 1/2"', "bare-number: '5 1/2' has no unit"),
            (
                "12345678901234567890123456789 kg",
                '"12345678901234567890123456789 kg"',
                "bad-quantity: '12345678901234567890123456789 kg' has a number with 29 digits",
            ),
            ("1 kg ± 2 kg", '"1 kg ± 2 kg"', "bad-quantity: '1 kg ± 2 kg' reaches below zero"),
            ("1 kg ± 0 kg", '"1 kg ± 0 kg"', "bad-quantity: '1 kg ± 0 kg' has no margin after the '±'"),
            ("1 kg ± 0 %", '"1 kg ± 0 %"', "bad-quantity: '1 kg ± 0 %' has no margin after the '±'"),
            ("1 kg ± 200 %", '"1 kg ± 200 %"', "bad-quantity: '1 kg ± 200 %' reaches below zero"),
            ("1 kg ± 1 lb", '"1 kg ± 1 lb"', "bad-quantity: '1 kg ± 1 lb' has its margin in another unit"),
            ("± 1 kg", '"± 1 kg"', "bad-quantity: '± 1 kg' is not a quantity: a number and then a unit are expected"),
            ("1 kg (1 m)", '"1 kg (1 m)"', "bad-quantity: '1 m' is a length, but a mass is expected"),
            ("1 kg (1)", '"1 kg (1)"', "bare-number: '1' has no unit"),
            ("1 kg (1 kg)", '"1 kg (1 kg)"', "bad-quantity: '1 kg (1 kg)' gives kg twice"),
            (
                "1 kg ((1 lb))",
                '"1 kg ((1 lb))"',
                "bad-quantity: '1 kg ((1 lb))' has the unknown unit of mass 'kg ((1 lb))'",
            ),
            (
                "1 kg (1 lb) (2 lb)",
                '"1 kg (1 lb) (2 lb)"',
                "bad-quantity: '1 kg (1 lb) (2 lb)' gives lb twice",
            ),
            ("(1 kg)", '"(1 kg)"', "bad-quantity: '(1 kg)' is not a quantity: a number and then a unit are expected"),
            ("> kg", '"> kg"', "bad-quantity: '> kg' is not a quantity: a number and then a unit are expected"),
            (">= 1", '">= 1"', "bare-number: '>= 1' has no unit"),
            (">= -1 kg", '">= -1 kg"', "bad-quantity: '>= -1 kg' is a negative mass"),
            (
                ">> 1 kg",
                '">> 1 kg"',
                "bad-quantity: '>> 1 kg' is not a quantity: a number and then a unit are expected",
            ),
            (
                "at least",
                '"at least"',
                "bad-quantity: 'at least' is not a quantity: a number and then a unit are expected",
            ),
            ("at least 1", '"at least 1"', "bare-number: 'at least 1' has no unit"),
            ("less than 0 kg", '"less than 0 kg"', "bad-quantity: 'less than 0 kg' leaves no smaller mass"),
            ("< 0 kg", '"< 0 kg"', "bad-quantity: '< 0 kg' leaves no smaller mass"),
            ("1 kg 500 g", '"1 kg 500 g"', "bad-quantity: '1 kg 500 g' does not run from larger units to smaller ones"),
            ("1 lb 1 kg", '"1 lb 1 kg"', "bad-quantity: '1 lb 1 kg' does not run from larger units to smaller ones"),
            ("nan kg", '"nan kg"', "bad-quantity: 'nan kg' is not a quantity: a number and then a unit are expected"),
            ("inf kg", '"inf kg"', "bad-quantity: 'inf kg' is not a quantity: a number and then a unit are expected"),
            ("∞ kg", '"∞ kg"', "bad-quantity: '∞ kg' is not a quantity: a number and then a unit are expected"),
            ("٣ kg", '"٣ kg"', "bad-quantity: '٣ kg' is not a quantity: a number and then a unit are expected"),
            ("１ kg", '"１ kg"', "bad-quantity: '１ kg' is not a quantity: a number and then a unit are expected"),
            ("1 ㎏", '"1 ㎏"', "bad-quantity: '1 ㎏' has the unknown unit of mass '㎏'"),
            ("1 kg kg", '"1 kg kg"', "bad-quantity: '1 kg kg' has the unknown unit of mass 'kg kg'"),
            ("1 kg/m", '"1 kg/m"', "bad-quantity: '1 kg/m' has the unknown unit of mass 'kg/m'"),
            ("1 kg·m", '"1 kg·m"', "bad-quantity: '1 kg·m' is a torque, but a mass is expected"),
            ("1 kg!", '"1 kg!"', "bad-quantity: '1 kg!' has the unknown unit of mass 'kg!'"),
            ("1 kg,", '"1 kg,"', "bad-quantity: '1 kg,' has the unknown unit of mass 'kg,'"),
            ("1 kg;", '"1 kg;"', "bad-quantity: '1 kg;' has the unknown unit of mass 'kg;'"),
            ("1 to 2", '"1 to 2"', "bare-number: '1 to 2' has no unit"),
            ("1-2-3 kg", '"1-2-3 kg"', "bad-quantity: '1-2-3 kg' has the unknown unit of mass '-3 kg'"),
            ("1..2..3 kg", '"1..2..3 kg"', "bad-quantity: '1..2..3 kg' has the unknown unit of mass '..3 kg'"),
            ("one kg", '"one kg"', "bad-quantity: 'one kg' is not a quantity: a number and then a unit are expected"),
            (
                "kg 1 kg",
                '"kg 1 kg"',
                "bad-quantity: 'kg 1 kg' is not a quantity: a number and then a unit are expected",
            ),
            ("--1 kg", '"--1 kg"', "bad-quantity: '--1 kg' is not a quantity: a number and then a unit are expected"),
            (
                "1 kgxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx",
                '"1 kgxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"',
                "bad-quantity: the text is too long for a quantity (304 characters)",
            ),
            ("M6", '"M6"', "bad-quantity: 'M6' is not a quantity: a number and then a unit are expected"),
            ("90 %", '"90 %"', "bad-quantity: '90 %' is a percentage, but a mass is expected"),
            ("1 % kg", '"1 % kg"', "bad-quantity: '1 % kg' has the unknown unit of mass '% kg'"),
            ("#1 kg", '"#1 kg"', "bad-quantity: '#1 kg' is not a quantity: a number and then a unit are expected"),
            ("1;2 kg", '"1;2 kg"', "bad-quantity: '1;2 kg' has the unknown unit of mass ';2 kg'"),
            ("[1 kg]", '"[1 kg]"', "bad-quantity: '[1 kg]' is not a quantity: a number and then a unit are expected"),
            (
                "1 kg or 2 kg",
                '"1 kg or 2 kg"',
                "bad-quantity: '1 kg or 2 kg' has the unknown unit of mass 'kg or 2 kg'",
            ),
            (
                "about 1 kg",
                '"about 1 kg"',
                "bad-quantity: 'about 1 kg' is not a quantity: a number and then a unit are expected",
            ),
            ("~1 kg", '"~1 kg"', "bad-quantity: '~1 kg' is not a quantity: a number and then a unit are expected"),
            ("1 kg min kg", '"1 kg min kg"', "bad-quantity: '1 kg min kg' has the unknown unit of mass 'kg min kg'"),
            ("max 1", '"max 1"', "bare-number: 'max 1' has no unit"),
            ("1 ton", '"1 ton"', "bad-quantity: '1 ton' has the unknown unit of mass 'ton'"),
            ("1 stone", '"1 stone"', "bad-quantity: '1 stone' has the unknown unit of mass 'stone'"),
            ("1 µg", '"1 µg"', "bad-quantity: '1 µg' has the unknown unit of mass 'µg'"),
            ("1 kg\\n2", '"1 kg\\n2"', "bare-number: '1 kg 2' has no unit"),
        ),
        (
            "1 000 kg",
            "½ kg",
            "1 kg ± 1",
            "1 kg (2 lb)",
            "1 lb 4 oz",
            "1\u200bkg",
            "1\xa0kg",
            "1 kg.",
            "1 - 2 kg",
            "+1 kg",
            "0.0000000000000000000000000000000000000000000000000000000000001 kg",
            "min 1 kg",
            "1 t",
            "1 kg\\n",
            "1\\tkg",
        ),
    ),
    "torque": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, torque: @@}
""",
        (
            ("0 N·m", "0 N·m", "bad-fastener: '0 N·m' is not a torque that a fastener can have"),
            (
                "0 N·m .. 5 N·m",
                "0 N·m .. 5 N·m",
                "bad-fastener: '0 N·m .. 5 N·m' is not a torque that a fastener can have",
            ),
            ("-5 N·m", "-5 N·m", "bad-quantity: '-5 N·m' is a negative torque"),
            ("18", "18", "bare-number: '18' has no unit"),
            ("18 nm", "18 nm", "bad-quantity: '18 nm' has the unknown unit of torque 'nm'"),
            ("18 NM", "18 NM", "bad-quantity: '18 NM' has the unknown unit of torque 'NM'"),
            ("18 lbs", "18 lbs", "bad-quantity: '18 lbs' is a mass, but a torque is expected"),
            ("18 kg", "18 kg", "bad-quantity: '18 kg' is a mass, but a torque is expected"),
            ("18 mN", "18 mN", "bad-quantity: '18 mN' has the unknown unit of torque 'mN'"),
            ("18 N·m (13)", "18 N·m (13)", "bare-number: '13' has no unit"),
            ("18 N·m (18 N·m)", "18 N·m (18 N·m)", "bad-quantity: '18 N·m (18 N·m)' gives N·m twice"),
            ("18 N·m (13 kg)", "18 N·m (13 kg)", "bad-quantity: '13 kg' is a mass, but a torque is expected"),
            (
                "18 N·m (18 kgf·m)",
                "18 N·m (18 kgf·m)",
                "units-disagree: the two stated units disagree: 18 N·m is 1.8 kgf·m, but 18 kgf·m is stated (+880.7 %)",
            ),
            ("1e3 N·m", "1e3 N·m", "bad-quantity: '1e3 N·m' has the unknown unit of torque 'e3 N·m'"),
            ('"18 N·m +"', '"18 N·m +"', "bad-quantity: '18 N·m +' has the unknown unit of torque 'N·m +'"),
            ('"< 0 N·m"', '"< 0 N·m"', "bad-quantity: '< 0 N·m' leaves no smaller torque"),
            ("90°", "90°", "bad-quantity: '90°' is an angle, but a torque is expected"),
            ("50 %", "50 %", "bad-quantity: '50 %' is a percentage, but a torque is expected"),
            ("snug", "snug", "bad-quantity: 'snug' is not a quantity: a number and then a unit are expected"),
            ("[18 N·m]", "[18 N·m]", "wrong-shape: 'torque' must be a quantity with its unit, not a list"),
            ("{a: 18 N·m}", "{a: 18 N·m}", "wrong-shape: 'torque' must be a quantity with its unit, not a mapping"),
            ("true", "true", "wrong-shape: 'torque' must be a quantity with its unit, not true"),
            ("null", "torque", "wrong-shape: 'torque' has no value"),
            ("", "torque", "wrong-shape: 'torque' has no value"),
            ('""', '""', "wrong-shape: 'torque' is empty"),
            (
                "18 N·m ± 18 N·m",
                "18 N·m ± 18 N·m",
                "bad-fastener: '18 N·m ± 18 N·m' is not a torque that a fastener can have",
            ),
            ("M8", "M8", "bad-quantity: 'M8' is not a quantity: a number and then a unit are expected"),
        ),
        (
            "18 N*m",
            "18 N m",
            "0.0000001 N·m",
            "4000000 N·m",
        ),
    ),
    "engagement in a material": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {material: aluminium}
fasteners:
  bolt: {thread: M8, class: "8.8", torque: 20 N·m, to: lid, engagement: @@}
""",
        (
            ("0 mm", "0 mm", "bad-fastener: '0 mm' is not a length that a fastener can have"),
            (
                "0 mm .. 12 mm",
                "0 mm .. 12 mm",
                "bad-fastener: '0 mm .. 12 mm' is not a length that a fastener can have",
            ),
            (
                "12 mm .. 0 mm",
                "12 mm .. 0 mm",
                "bad-quantity: '12 mm .. 0 mm' is not a range: its first end must be the smaller",
            ),
            ("-3 mm", "-3 mm", "bad-quantity: '-3 mm' is a negative length"),
            ("3", "3", "bare-number: '3' has no unit"),
            ("3 kg", "3 kg", "bad-quantity: '3 kg' is a mass, but a length is expected"),
            (
                "12 mm ± 12 mm",
                "12 mm ± 12 mm",
                "bad-fastener: '12 mm ± 12 mm' is not a length that a fastener can have",
            ),
            ("12 mm ± 13 mm", "12 mm ± 13 mm", "bad-quantity: '12 mm ± 13 mm' reaches below zero"),
        ),
        (
            "at most 12 mm",
            "1000000 mm",
        ),
    ),
    "stages": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, torque: 20 N·m, stages: @@}
""",
        (
            ("[]", "[]", "wrong-shape: 'stages' is empty"),
            ("snug", "snug", "wrong-shape: 'stages' must be a list of tightening stages, not 'snug'"),
            ("[snug]", "snug", "bad-fastener: the last stage is snug, and the torque is 20 N·m"),
            ("[snug, snug, 20 N·m]", "snug", "bad-fastener: 'snug' comes after a stage that is tighter"),
            ("[50 %]", "50 %", "bad-fastener: the last stage is 50 %, and the torque is 20 N·m"),
            ("[0 %, 100 %]", "0 %", "bad-fastener: '0 %' tightens nothing"),
            ("[200 %]", "200 %", "bad-fastener: the last stage is 200 %, and the torque is 20 N·m"),
            ("[-50 %, 100 %]", "-50 %", "bad-fastener: '-50 %' is a negative percentage"),
            ("[20 N·m, 0°]", "0°", "bad-fastener: '0°' tightens nothing"),
            ("[20 N·m, -90°]", "-90°", "bad-fastener: '-90°' tightens nothing"),
            (
                "[20 N·m, 90° .. 0°]",
                "90° .. 0°",
                "bad-fastener: '90° .. 0°' is not a range: its first end must be the smaller",
            ),
            ("[5 kg]", "5 kg", "bad-fastener: '5 kg' is a mass, not a stage of tightening"),
            ("[5]", "5", "bad-fastener: '5' has no unit"),
            (
                "[[20 N·m]]",
                "[20 N·m]",
                "wrong-shape: item 1 of 'stages' must be a quantity with its unit, not a list",
            ),
            ('[""]', '""', "wrong-shape: item 1 of 'stages' is empty"),
            ("[10 N·m, 20 N·m, 30 N·m]", "30 N·m", "bad-fastener: the last stage is 30 N·m, and the torque is 20 N·m"),
            ("[tight]", "tight", "bad-fastener: 'tight' is not a quantity: a number and then a unit are expected"),
            ("[99999999 %]", "99999999 %", "bad-fastener: the last stage is 99999999 %, and the torque is 20 N·m"),
        ),
        (
            "[50 % .. 60 %, 100 %]",
            "[0.0001 %, 100 %]",
        ),
    ),
    "shares of a very large torque": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, torque: 4000000 N·m, stages: @@}
""",
        (("[12 %]", "12 %", "bad-fastener: the last stage is 12 %, and the torque is 4000000 N·m"),),
        (
            "[50 %, 100 %]",
            "[0.0001 %, 100 %]",
            "[33.333 %, 100 %]",
        ),
    ),
    "torques of no size": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, thread: M6, class: 12.9, torque: @@}
""",
        (
            (
                "0.0000001 N·m",
                "0.0000001 N·m",
                "torque-unlikely: 0.0000001 N·m on M6, class 12.9, is only 0.0000003 to 0.0000007 % of its proof load (nut factor 0.12 to 0.30)",
            ),
            (
                "4000000 N·m",
                "4000000 N·m",
                "torque-unlikely: 4000000 N·m on M6, class 12.9, is 113800 to 284600 times its proof load (nut factor 0.12 to 0.30)",
            ),
            (
                "9999999999999999999999999999 N·m",
                "9999999999999999999999999999 N·m",
                "torque-unlikely: 9999999999999999999999999999 N·m on M6, class 12.9, is 284600000000000000000000000 to 711500000000000000000000000 times its proof load (nut factor 0.12 to 0.30)",
            ),
            (
                "0.00000000000000000000000000000000000000001 lbf·in",
                "0.00000000000000000000000000000000000000001 lbf·in",
                "torque-unlikely: 0.00000000000000000000000000000000000000001 lbf·in on M6, class 12.9, is only 0.000000000000000000000000000000000000000003 to 0.000000000000000000000000000000000000000008 % of its proof load (nut factor 0.12 to 0.30)",
            ),
        ),
    ),
    "time": Table(
        "jobs/job.yaml",
        """\
job: Look
time: @@
steps:
  - inspect: lid
    note: Look for cracks.
""",
        (
            ("-5 min", "-5 min", "bad-quantity: '-5 min' is a negative time"),
            ("5", "5", "bare-number: '5' has no unit"),
            ("5 kg", "5 kg", "bad-quantity: '5 kg' is a mass, but a time is expected"),
            ("1 h 90 min", "1 h 90 min", "bad-quantity: '1 h 90 min' does not run from larger units to smaller ones"),
            (
                "1.5.5 h",
                "1.5.5 h",
                "bad-quantity: '1.5.5 h' has the number '1.5.5', which has more than one decimal sign",
            ),
            ("an hour", "an hour", "bad-quantity: 'an hour' is not a quantity: a number and then a unit are expected"),
            (
                "5 min .. 1 min",
                "5 min .. 1 min",
                "bad-quantity: '5 min .. 1 min' is not a range: its first end must be the smaller",
            ),
            ("90 m", "90 m", "bad-quantity: '90 m' is a length, but a time is expected"),
            ("5 min +", "5 min +", "bad-quantity: '5 min +' has the unknown unit of time 'min +'"),
            ("∞ h", "∞ h", "bad-quantity: '∞ h' is not a quantity: a number and then a unit are expected"),
            ("{}", "{}", "wrong-shape: 'time' must be a quantity with its unit, not an empty mapping"),
            ("[5 min]", "[5 min]", "wrong-shape: 'time' must be a quantity with its unit, not a list"),
        ),
        ("5 minutes",),
    ),
    "wait": Table(
        "jobs/job.yaml",
        """\
job: Look
steps:
  - wait: @@
""",
        (
            ("5", "5", "bare-number: '5' has no unit"),
            ("5 kg", "5 kg", "bad-quantity: '5 kg' is a mass, but a time is expected"),
            ("forever", "forever", "bad-quantity: 'forever' is not a quantity: a number and then a unit are expected"),
            ("-1 min", "-1 min", "bad-quantity: '-1 min' is a negative time"),
            ("5 min ± 6 min", "5 min ± 6 min", "bad-quantity: '5 min ± 6 min' reaches below zero"),
            ('""', '""', "wrong-shape: 'wait' is empty"),
        ),
    ),
    "volume": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fluids:
  oil: {volume: @@}
""",
        (
            ("-1 l", "-1 l", "bad-quantity: '-1 l' is a negative volume"),
            ("1", "1", "bare-number: '1' has no unit"),
            ("1 kg", "1 kg", "bad-quantity: '1 kg' is a mass, but a volume is expected"),
        ),
        (
            "1 L",
            "1 litre",
            "1 cc",
        ),
    ),
    "very heavy parts": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {mass: @@}
""",
        (
            (
                "1000 kg",
                "lid",
                "too-heavy: lid weighs 1000 kg; one person should lift 12.3 kg at most (lifting index 81.3)",
            ),
            (
                "1000000 kg",
                "lid",
                "too-heavy: lid weighs 1000000 kg; one person should lift 12.3 kg at most (lifting index 81267.8)",
            ),
            (
                "123456 lb",
                "lid",
                "too-heavy: lid weighs 56000 kg; one person should lift 12.3 kg at most (lifting index 4550.9)",
            ),
        ),
        beside={"jobs/job.yaml": "job: Look\nsteps:\n  - lift: lid\n"},
    ),
}


@pytest.mark.parametrize(("table", "row"), bad_rows(TABLES))
def test_it_is_refused_at_its_place(table: str, row: Row, tmp_path: Path) -> None:
    written, place, said = row
    assert TABLES[table].tell(tmp_path, written) == [(place, said)]


@pytest.mark.parametrize(("table", "written"), good_rows(TABLES))
def test_it_is_good(table: str, written: str, tmp_path: Path) -> None:
    assert TABLES[table].tell(tmp_path, written) == []
