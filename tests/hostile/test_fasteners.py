"""Threads, classes, conditions, layouts, orders, counts and lengths that no fastener has."""

# ruff: noqa: E501  # a row of a table is one line

from __future__ import annotations

from pathlib import Path

import pytest

from tests.hostile.telling import Row, Table, bad_rows, good_rows

TABLES = {
    "thread": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, torque: 9 N·m, class: 8.8, count: 4, order: crosswise, @@}
""",
        (
            ("thread: M0", "M0", "bad-fastener: M0 is not a thread of ISO 261 from M1 to M64"),
            ("thread: M-6", "M-6", "bad-fastener: 'M-6' is not a known thread"),
            ("thread: M6.5", "M6.5", "bad-fastener: M6.5 is not a thread of ISO 261 from M1 to M64"),
            ("thread: M1000", "M1000", "bad-fastener: 'M1000' is not a known thread"),
            ("thread: M6 x 0", "M6 x 0", "bad-fastener: M6 has no pitch 0"),
            ("thread: M6 x 9", "M6 x 9", "bad-fastener: 'M6 x 9' gives a length"),
            ("thread: M6 x 1.0 x 30", "M6 x 1.0 x 30", "bad-fastener: 'M6 x 1.0 x 30' gives a length"),
            ("thread: M", "M", "bad-fastener: 'M' is not a known thread"),
            ("thread: 6", "6", "bad-fastener: '6' does not say how many threads per inch"),
            ('thread: "6"', '"6"', "bad-fastener: '6' does not say how many threads per inch"),
            (
                "thread: M6 fine",
                "M6 fine",
                "bad-fastener: 'M6 fine' needs its pitch: M6 may have more than one fine pitch",
            ),
            (
                "thread: M8 fine",
                "M8 fine",
                "bad-fastener: 'M8 fine' needs its pitch: M8 may have more than one fine pitch",
            ),
            ("thread: 1/4", "1/4", "bad-fastener: '1/4' does not say how many threads per inch"),
            ("thread: 1/4-21 UNC", "1/4-21 UNC", "bad-fastener: 1/4 in has no 21 threads per inch"),
            ('thread: "#99-32"', '"#99-32"', "bad-fastener: '#99-32' has no size of the Unified threads"),
            ("thread: 9/16-12 UNF", "9/16-12 UNF", "bad-fastener: 9/16-12 is UNC, not UNF"),
            ("thread: 99/16-12 UNC", "99/16-12 UNC", "bad-fastener: '99/16-12 UNC' has no size of the Unified threads"),
            ("thread: 1/0-20 UNC", "1/0-20 UNC", "bad-fastener: '1/0-20 UNC' has no size of the Unified threads"),
            ("thread: G", "G", "bad-fastener: 'G' is not a known thread"),
            ("thread: G 1/7", "G 1/7", "bad-fastener: G has no size 1/7"),
            ("thread: G 99", "G 99", "bad-fastener: G has no size 99"),
            ("thread: 1/4 NPT BSP", "1/4 NPT BSP", "bad-fastener: '1/4 NPT BSP' is not a known thread"),
            ("thread: NPT", "NPT", "bad-fastener: 'NPT' is not a known thread"),
            ("thread: M6 left", "M6 left", "bad-fastener: 'M6 left' is not a known thread"),
            ("thread: M6 LH x 1", "M6 LH x 1", "bad-fastener: 'M6 LH x 1' is not a known thread"),
            ('thread: "M6\\u200b"', '"M6\\u200b"', "bad-fastener: 'M6<U+200B>' is not a known thread"),
            ("thread: [M6]", "[M6]", "wrong-shape: 'thread' must be a thread size, not a list"),
            ("thread: true", "true", "wrong-shape: 'thread' must be a thread size, not true"),
            ('thread: ""', '""', "wrong-shape: 'thread' is empty"),
            ("thread: M6 x 1,0", "0", "wrong-shape: unknown key '0'"),
            ("thread: Μ6", "Μ6", "bad-fastener: 'Μ6' is not a known thread"),
            ("thread: M６", "M６", "bad-fastener: 'M６' is not a known thread"),
        ),
        (
            "thread: M6x1",
            "thread: m6",
            "thread: 1/4-20",
            "thread: Tr 10 x 2",
            "thread: BSW 1/4",
            "thread: M6×1",
            "thread: M 6",
            "thread: M6 - 1.0",
        ),
    ),
    "class": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, torque: 20 N·m, count: 4, order: crosswise, @@}
""",
        (
            ("class: 8,8", "8", "wrong-shape: unknown key '8'"),
            ("class: 8.8.8", "8.8.8", "bad-fastener: '8.8.8' is not a known property class or grade"),
            ('class: "0"', '"0"', "bad-fastener: '0' is not a property class of ISO 898-1"),
            ("class: 99.9", "99.9", "bad-fastener: '99.9' is not a known property class or grade"),
            ("class: A9-70", "A9-70", "bad-fastener: 'A9-70' is not a stainless steel of ISO 3506-1"),
            ("class: A4", "A4", "bad-fastener: 'A4' names a stainless steel but not its strength"),
            ("class: A4-71", "A4-71", "bad-fastener: A4 has no class 71"),
            ("class: grade", "grade", "bad-fastener: 'grade' is not a known property class or grade"),
            ("class: grade 99", "grade 99", "bad-fastener: 'grade 99' is not a known property class or grade"),
            ("class: strong", "strong", "bad-fastener: 'strong' is not a known property class or grade"),
            ("class: [8.8]", "[8.8]", "wrong-shape: 'class' must be text, not a list"),
            ('class: "10"', '"10"', "bad-fastener: '10' is not a known property class or grade"),
            ("class: 8", "8", "bad-fastener: '8' is not a property class of ISO 898-1"),
            ("class: -8.8", "-8.8", "bad-fastener: '-8.8' is not a known property class or grade"),
        ),
        ('class: "8.8 "',),
    ),
    "condition": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, torque: 20 N·m, count: 4, order: crosswise, @@}
""",
        (
            ("condition: wet", "wet", "bad-fastener: 'wet' is not a known thread condition"),
            (
                "condition: dry and oiled",
                "dry and oiled",
                "bad-fastener: 'dry and oiled' names two thread conditions: dry and oiled",
            ),
            (
                "condition: oiled greased",
                "oiled greased",
                "bad-fastener: 'oiled greased' names two thread conditions: greased and oiled",
            ),
            ('condition: ""', '""', "wrong-shape: 'condition' is empty"),
            ("condition: [dry]", "[dry]", "wrong-shape: 'condition' must be text, not a list"),
            ("condition: no", "no", "bad-fastener: 'no' is not a known thread condition"),
        ),
        (
            'condition: "dry, dry"',
            "condition: DRY",
        ),
    ),
    "layout": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, torque: 20 N·m, count: 4, order: crosswise, @@}
""",
        (
            ("front: up", "front", "bad-fastener: 'front' says which way round the layout is, but there is no layout"),
            ("top: up", "top", "bad-fastener: 'top' says which way round the layout is, but there is no layout"),
            (
                "seen-from: above",
                "seen-from",
                "bad-fastener: 'seen-from' says from where the layout is seen, but there is no layout",
            ),
            (
                "layout: circle 46 mm, front: up, top: up",
                "up",
                "bad-fastener: the top of the layout is its front as well, up",
            ),
            (
                "layout: circle 46 mm, front: forward",
                "forward",
                "wrong-shape: 'front' must be one of up, right, down, left, not 'forward'",
            ),
            (
                "layout: circle 46 mm, seen-from: from above",
                "from above",
                "wrong-shape: 'from above' is printed after 'seen from'",
            ),
            (
                "layout: circle 46 mm, seen-from: Seen from above",
                "Seen from above",
                "wrong-shape: 'Seen from above' is printed after 'seen from'",
            ),
            ("tightened-after: bolt", "bolt", "bad-fastener: bolts cannot be tightened after themselves"),
            ("tightened-after: lid", "lid", "unknown-name: 'lid' is a part; 'tightened-after' takes a fastener"),
            ("tightened-after: bolts", "bolts", "unknown-name: no fastener is called 'bolts'"),
            (
                "head: flange",
                "flange",
                "wrong-shape: 'head' must be hex, hex flange, square, socket cap, cheese, pan, button, countersunk or none, not 'flange'",
            ),
            (
                "length: 30 mm, thread-length: 40 mm",
                "40 mm",
                "bad-fastener: a thread of 40 mm is longer than the fastener, 30 mm",
            ),
            ("thread-length: -1 mm", "-1 mm", "bad-quantity: '-1 mm' is a negative length"),
            ("layout: circle", "circle", "bad-fastener: 'circle' is not how a circle is written"),
            ("layout: circle 0 mm", "circle 0 mm", "bad-fastener: the diameter is '0 mm'"),
            ("layout: circle -46 mm", "circle -46 mm", "bad-fastener: '-46 mm' is a negative length"),
            ("layout: circle 46", "circle 46", "bad-fastener: '46' has no unit"),
            ("layout: circle 46 kg", "circle 46 kg", "bad-fastener: '46 kg' is a mass, but a length is expected"),
            ("layout: square 4 mm", "square 4 mm", "bad-fastener: 'square 4 mm' is not a known layout"),
            (
                "layout: rectangle 60 mm",
                "rectangle 60 mm",
                "bad-fastener: 'rectangle 60 mm' is not how a rectangle is written",
            ),
            ("layout: rectangle 60 mm x 0 mm", "rectangle 60 mm x 0 mm", "bad-fastener: the height is '0 mm'"),
            ("layout: rows", "rows", "bad-fastener: 'rows' is not how a layout of rows is written"),
            ("layout: rows 2 x 5", "rows 2 x 5", "bad-fastener: 2 x 5 are 10 places for a count of 4"),
            ("layout: rows 0 x 5, 1 mm x 1 mm", "1 mm x 1 mm", "wrong-shape: unknown key '1 mm x 1 mm'"),
            ("layout: []", "[]", "wrong-shape: 'layout' is empty"),
            ("layout: [[0, 0]]", "[[0, 0]]", "bad-fastener: 1 position for a count of 4"),
            (
                "layout: [[0, 0], [0, 0], [1, 1], [2, 2]]",
                "[0, 0]",
                "bad-fastener: positions 1 and 2 are alike, both at 0, 0",
            ),
            (
                "layout: [[0, 0], [10, 0], [0, 10], [10, 10, 10]]",
                "[10, 10, 10]",
                "wrong-shape: item 4 of 'layout' must be a position [x, y], but has 3 items",
            ),
            (
                "layout: [[0, 0], [10, 0], [0, 10], a]",
                "[[0, 0], [10, 0], [0, 10], a]",
                "bad-fastener: a position is a list of two numbers, x and y",
            ),
            (
                "layout: [[0, 0], [10, 0], [0, 10], [a, b]]",
                "[a, b]",
                "bad-fastener: 'a' is not a quantity: a number and then a unit are expected",
            ),
            (
                "layout: [[0, 0], [10, 0], [0, 10], [1e300, 0]]",
                "[1e300, 0]",
                "bad-fastener: '1e300' has the unknown unit of length 'e300'",
            ),
            (
                "layout: [[0, 0], [10, 0], [0, 10], [99999999999, 0]]",
                "[99999999999, 0]",
                "bad-fastener: position 4 has the number 99999999999",
            ),
            ("layout: circle 46 mm from 30", "circle 46 mm from 30", "bad-fastener: '30' has no unit"),
            (
                "layout: circle 99999999 mm",
                "circle 99999999 mm",
                "bad-fastener: '99999999 mm' is longer than any joint",
            ),
            ("layout: circle 0.0001 mm", "circle 0.0001 mm", "bad-fastener: the diameter is '0.0001 mm'"),
            ("layout: {a: b}", "{a: b}", "wrong-shape: 'layout' must be text or a list of positions, not a mapping"),
        ),
        (
            "layout: rectangle 60 x 40 mm",
            'layout: "rows 2 x 2, 160 mm x 84 mm"',
            "layout: circle 46 mm from 30°",
        ),
    ),
    "order": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, torque: 20 N·m, count: 4, layout: circle 46 mm, order: @@}
""",
        (
            ('""', '""', "wrong-shape: 'order' is empty"),
            ("[1, 2]", "[1, 2]", "bad-fastener: the order leaves out 3, 4"),
            ("[1, 2, 3, 5]", "5", "bad-fastener: the order names piece 5, but there are only 4"),
            ("[1, 1, 2, 3]", "1", "bad-fastener: the order names piece 1 twice"),
            ("[0, 1, 2, 3]", "0", "wrong-shape: item 1 of 'order' must be a whole number of at least 1, not 0"),
            ("[-1, 1, 2, 3]", "-1", "wrong-shape: item 1 of 'order' must be a whole number of at least 1, not -1"),
            (
                "[1.5, 1, 2, 3]",
                "1.5",
                "wrong-shape: item 1 of 'order' must be a whole number of at least 1, not 1.5",
            ),
            ("[]", "[]", "wrong-shape: 'order' is empty"),
            ("{a: b}", "{a: b}", "wrong-shape: 'order' must be text or a list of whole numbers, not a mapping"),
            ("7", "7", "wrong-shape: 'order' must be text or a list of whole numbers, not 7"),
        ),
        (
            "crosswise",
            "random",
            "[4, 3, 2, 1]",
        ),
    ),
    "count": Table(
        "machine.yaml",
        """\
machine: Trial
options: {deck: [narrow, wide]}
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, count: @@}
""",
        (
            (
                "0",
                "0",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not 0",
            ),
            (
                "-1",
                "-1",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not -1",
            ),
            (
                "1.5",
                "1.5",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not 1.5",
            ),
            ("10000", "10000", "wrong-shape: 'count' must be at most 9999, not 10000"),
            (
                "two",
                "two",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not 'two'",
            ),
            (
                '"2"',
                '"2"',
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not '2'",
            ),
            (
                "1e2",
                "1e2",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not '1e2'",
            ),
            (
                "[2]",
                "[2]",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not a list",
            ),
            (
                "true",
                "true",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not true",
            ),
            ("", "count", "wrong-shape: 'count' has no value"),
            (
                "99999999999999999999",
                "99999999999999999999",
                "wrong-shape: 'count' must be at most 9999, not 99999999999999999999",
            ),
            (
                "0x2",
                "0x2",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not '0x2'",
            ),
            (
                "02",
                "02",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not '02'",
            ),
            ("2 # two", "{", "not-yaml: the mapping that '{' opens here is not closed"),
            (
                "½",
                "½",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not '½'",
            ),
            ("{}", "{}", "wrong-shape: 'count' is empty"),
            ("{deck: 2}", "2", "wrong-shape: 'deck' must be a mapping from choices to numbers, not 2"),
            ("{deck: {}}", "{}", "wrong-shape: 'deck' is empty"),
            ("{deck: {narrow: 2}}", "deck", "bad-fastener: bolt has no count with deck: wide"),
            ("{deck: {narrow: 2, wide: 3, high: 4}}", "high", "unknown-name: option deck has no choice 'high'"),
            ("{dek: {narrow: 2, wide: 3}}", "dek", "unknown-name: no option is called 'dek'"),
            (
                "Not counted",
                "Not counted",
                "wrong-shape: 'count' must be a whole number of at least 1, 'not counted', or a mapping from one option to numbers, not 'Not counted'",
            ),
        ),
        (
            "2.0",
            "+2",
        ),
    ),
    "positions": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, count: 2, positions: @@}
""",
        (
            ("[a]", "[a]", "bad-fastener: 1 position for a count of 2"),
            ("[a, b, c]", "[a, b, c]", "bad-fastener: 3 positions for a count of 2"),
            ("[a, a]", "a", "bad-fastener: the position 'a' is listed twice"),
            ("[]", "[]", "wrong-shape: 'positions' is empty"),
            ("a", "a", "wrong-shape: 'positions' must be a list of names, not 'a'"),
            ("[A, b]", "A", "wrong-shape: 'A' is not a valid name; use lower-case letters, digits and hyphens: 'a'"),
            ('[a, ""]', '""', "wrong-shape: '' is not a valid name; use lower-case letters, digits and hyphens"),
            (
                "[[a], b]",
                "[a]",
                "wrong-shape: item 1 of 'positions' must be a name of lower-case letters, digits and hyphens, not a list",
            ),
            ("{a: b}", "{a: b}", "wrong-shape: 'positions' must be a list of names, not a mapping"),
        ),
        ("[1, 2]",),
    ),
    "length": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, count: 2, positions: [a, b], length: @@}
""",
        (
            ("30", "30", "bare-number: '30' has no unit"),
            ("0 mm", "0 mm", "bad-fastener: '0 mm' is not a length that a fastener can have"),
            ("{a: 30 mm}", "{a: 30 mm}", "bad-fastener: the length at b is missing"),
            ("{a: 30 mm, b: 0 mm}", "0 mm", "bad-fastener: '0 mm' is not a length that a fastener can have"),
            ("{a: 30 mm, c: 40 mm}", "c", "bad-fastener: no position is called 'c'"),
            ("{}", "{}", "wrong-shape: 'length' is empty"),
            (
                "[30 mm]",
                "[30 mm]",
                "wrong-shape: 'length' must be a length, or a mapping from positions to lengths, not a list",
            ),
            ("{a: x, b: 3 mm}", "x", "bad-quantity: 'x' is not a quantity: a number and then a unit are expected"),
            ("-1 mm", "-1 mm", "bad-quantity: '-1 mm' is a negative length"),
            ("1 kg", "1 kg", "bad-quantity: '1 kg' is a mass, but a length is expected"),
        ),
        ("{a: 30 mm, b: 40 mm}",),
    ),
    "material": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {material: @@}
""",
        (
            ('""', '""', "wrong-shape: 'material' is empty"),
            ("[steel]", "[steel]", "wrong-shape: 'material' must be text, not a list"),
            ("cast", "cast", "bad-fastener: 'cast' is not a known material"),
        ),
        (
            "gold",
            "aluminium steel",
            "aluminum",
            "STEEL",
            "aluminium and plastic",
        ),
    ),
    "lengths that name the positions": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, count: 2, length: @@}
""",
        (
            ("{a: 30 mm}", "{a: 30 mm}", "bad-fastener: 1 position for a count of 2"),
            ("{a: 30 mm, b: 0 mm}", "0 mm", "bad-fastener: '0 mm' is not a length that a fastener can have"),
            (
                "{a: 30 mm, c: 40 mm, d: 1 mm}",
                "{a: 30 mm, c: 40 mm, d: 1 mm}",
                "bad-fastener: 3 positions for a count of 2",
            ),
        ),
        ("{a: 30 mm, c: 40 mm}",),
    ),
    "very long texts": Table(
        "machine.yaml",
        """\
machine: Trial
parts:
  lid: {}
fasteners:
  bolt: {secures: lid, torque: 20 N·m, count: 4, order: crosswise, @@}
""",
        (
            (
                'thread: "M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 "',
                '"M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 "',
                "bad-fastener: 'M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 M6 …' is too long (239 characters)",
            ),
            (
                'class: "xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"',
                '"xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx"',
                "bad-fastener: 'xxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxxx…' is too long (300 characters)",
            ),
            (
                'condition: "dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry "',
                '"dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry dry "',
                "bad-fastener: 'dry dry dry dry dry dry dry dry dry dry…' is too long (395 characters)",
            ),
            (
                'layout: "circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle "',
                '"circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle circle "',
                "bad-fastener: 'circle circle circle circle circle circ…' is too long (692 characters)",
            ),
        ),
    ),
}


@pytest.mark.parametrize(("table", "row"), bad_rows(TABLES))
def test_it_is_refused_at_its_place(table: str, row: Row, tmp_path: Path) -> None:
    written, place, said = row
    assert TABLES[table].tell(tmp_path, written) == [(place, said)]


@pytest.mark.parametrize(("table", "written"), good_rows(TABLES))
def test_it_is_good(table: str, written: str, tmp_path: Path) -> None:
    assert TABLES[table].tell(tmp_path, written) == []
