"""Text on its way into Typst."""

from __future__ import annotations

import random
import sys

import pytest
from docutils import nodes
from hypothesis import given
from hypothesis import strategies as st

from putback.typstpdf.compile import read_diagnostic
from putback.typstpdf.escape import (
    LONGEST,
    breakable,
    by_name,
    clean,
    clusters,
    drawable,
    literal,
    one_line,
    printed,
    unusual,
)
from putback.typstpdf.pictures import length

from .conftest import Build


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ('a "b" \\ c', '"a \\"b\\" \\\\ c"'),
        ("a\nb\tc\rd", '"a\\nb\\tc\\rd"'),
        ("\\u{41} #x $y$", '"\\\\u{41} #x $y$"'),
        ("", '""'),
    ],
)
def test_literal(text: str, expected: str) -> None:
    assert literal(text) == expected


@given(st.text())
def test_a_literal_is_one_string_that_reads_back(text: str) -> None:
    code = literal(clean(text))
    inner = code[1:-1]
    assert "\n" not in code
    back, at = "", 0
    while at < len(inner):
        assert inner[at] != '"'
        if inner[at] == "\\":
            back += {"n": "\n", "t": "\t", "r": "\r", '"': '"', "\\": "\\"}[inner[at + 1]]
            at += 1
        else:
            back += inner[at]
        at += 1
    assert back == clean(text)


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("e\u0301", "\u00e9"),
        ("a\x00b\x1bc", "a b c"),
        ("a\u202eb\ufeffc\u200d", "abc"),
        ("soft\u00adhy\u200bphen", "soft\u00adhy\u200bphen"),
        ("half \ud83d", "half \ufffd"),
        ("\u26a0\ufe0f", "\u26a0"),
        ("a\n\tb", "a\n\tb"),
    ],
)
def test_clean(text: str, expected: str) -> None:
    assert clean(text) == expected


@given(st.text())
def test_places_to_break_change_no_letter(text: str) -> None:
    text = text.replace("\u200b", "")
    broken = breakable(text)
    assert broken.replace("\u200b", "") == text
    assert all(len(run) <= LONGEST or not run.isalnum() for run in broken.replace("\u200b", " ").split())


def test_short_words_and_addresses_break_where_a_reader_expects() -> None:
    assert breakable("a torque wrench") == "a torque wrench"
    assert breakable("https://example.org/first/second") == "https://\u200bexample.\u200borg/\u200bfirst/\u200bsecond"


def test_one_line_keeps_a_no_break_space() -> None:
    assert one_line("a \n  b\u00a0c") == "a b\u00a0c"


def test_unprintable_letters_are_written_by_name() -> None:
    assert unusual(["plain", "\u2610 \U0001f525", "\U0001f525"]) == ["\u2610", "\U0001f525"]
    assert by_name("\U0001f525") == "[fire]"
    assert by_name("\u0378") == "[u+0378]"
    assert printed("a\U0001f525b", {"\U0001f525"}) == "a[fire]b"
    assert unusual(["x\u0304 x"]) == ["x\u0304"]
    assert printed("x\u0304y", {"y\u0304"}) == "x\u0304y"
    assert printed("x\u0304y", {"x\u0304"}) == "x[combining macron]y"
    assert printed("\u0304 \u21d1\u0304", set()) == "[combining macron] \u21d1[combining macron]"
    assert printed("\U0001f525\u0304", {"\U0001f525"}) == "[fire][combining macron]"


LETTERS = st.text("aZ 1\n\u0301\u0308\u00e9\u2126\u26a0\ufe0f\u200b\u0905\u093f\U0001f525", max_size=12)


@given(LETTERS, LETTERS)
def test_a_text_is_printed_letter_by_letter(text: str, missing: str) -> None:
    letters, unprintable = clusters(clean(text)), set(unusual([missing]))
    assert printed(text, unprintable) == "".join(printed(letter, unprintable) for letter in letters)
    assert drawable(clean(text), unprintable) == "".join(drawable(letter, unprintable) for letter in letters)
    assert set(unusual([text])) == {letter for whole in letters for letter in unusual([whole])}


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("40%", "40%"), ("96px", "72pt"), ("96", "72pt"), ("12 mm", "12mm"), ("2pc", "24pt"), ("1.5em", "1.5em"),
        ("wide", ""), ("", ""), ("-3mm", ""), ('1mm"', ""),
    ],
)  # fmt: skip
def test_length(text: str, expected: str) -> None:
    assert length(text) == expected


def test_a_diagnostic_is_read_at_the_line_of_the_caller() -> None:
    said = (
        "error: it broke\n  ┌─ manual.typ:3:9\n  │\n3 │   x\n  │   ^\n  │\n  = hint: mend it\n\n"
        "help: error occurred in this call of function `p`\n  ┌─ a.main.typ:31:4\n\n"
        "error: elsewhere\n  ┌─ manual.typ:8:1\n"
        "error: no drawing\n  ┌─ /there/pictures/a b.svg:1:0\n"
    )
    assert read_diagnostic(said, "/there/a.main.typ") == [
        {"message": "it broke", "line": 31, "hint": "mend it", "picture": ""},
        {"message": "elsewhere", "line": 0, "hint": "", "picture": ""},
        {"message": "no drawing", "line": 0, "hint": "", "picture": "a b.svg"},
    ]


def test_any_letters_at_all_print(manual: Build) -> None:
    chance = random.Random(20261125)
    letters = [chr(at) for at in range(sys.maxunicode + 1) if not 0xD800 <= at <= 0xDFFF]
    texts = ["".join(chance.choices(letters[:0x3000], k=40)) for _ in range(60)]
    texts += ["".join(chance.choices(letters, k=20)) for _ in range(20)]

    def made() -> list[nodes.Node]:
        return [
            block
            for text in texts
            for block in (
                nodes.paragraph("", text),
                nodes.literal_block("", text),
                nodes.rubric("", "", nodes.emphasis("", text)),
            )
        ]

    book = manual({"index.rst": "Start\n=====\n\n.. made:: it\n"}, {"it": made})
    assert "ERROR" not in book.warnings
    assert book.status == 0
