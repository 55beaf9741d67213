"""Characters that nobody sees as what they are: refused at their place, as they stand or as an escape."""

from __future__ import annotations

import unicodedata
from pathlib import Path

import pytest

from putback.source.characters import is_blank, refused, visible
from putback.source.load import load_text
from tests.hostile.telling import tell

REFUSED = {
    "\0": "there is a control character (U+0000 NUL)",
    "\x01": "there is a control character (U+0001)",
    "\x07": "there is a control character (U+0007 bell)",
    "\x08": "there is a control character (U+0008 backspace)",
    "\x0b": "there is a control character (U+000B vertical tab)",
    "\x0c": "there is a control character (U+000C form feed)",
    "\x1b": "there is a control character (U+001B escape)",
    "\x1f": "there is a control character (U+001F)",
    "\x7f": "there is a control character (U+007F delete)",
    "\x80": "there is a control character (U+0080)",
    "\x85": "there is a hidden line separator (U+0085 next line)",
    "\x9b": "there is a control character (U+009B)",
    "\u2028": "there is a hidden line separator (U+2028 line separator)",
    "\u2029": "there is a hidden line separator (U+2029 paragraph separator)",
    "\u202a": "there is a character that reverses the direction of reading (U+202A left-to-right embedding)",
    "\u202b": "there is a character that reverses the direction of reading (U+202B right-to-left embedding)",
    "\u202c": "there is a character that reverses the direction of reading (U+202C pop directional formatting)",
    "\u202d": "there is a character that reverses the direction of reading (U+202D left-to-right override)",
    "\u202e": "there is a character that reverses the direction of reading (U+202E right-to-left override)",
    "\u2066": "there is a character that reverses the direction of reading (U+2066 left-to-right isolate)",
    "\u2067": "there is a character that reverses the direction of reading (U+2067 right-to-left isolate)",
    "\u2068": "there is a character that reverses the direction of reading (U+2068 first strong isolate)",
    "\u2069": "there is a character that reverses the direction of reading (U+2069 pop directional isolate)",
    "\u200e": "there is an invisible mark for right-to-left writing (U+200E left-to-right mark)",
    "\u200f": "there is an invisible mark for right-to-left writing (U+200F right-to-left mark)",
    "\u061c": "there is an invisible mark for right-to-left writing (U+061C arabic letter mark)",
    "\u206a": "there is an invisible character (U+206A inhibit symmetric swapping)",
    "\ufeff": "there is an invisible character (U+FEFF zero width no-break space)",
    "\ufff9": "there is an invisible character (U+FFF9 interlinear annotation anchor)",
    "\U000e0041": "there is an invisible character (U+E0041 tag latin capital letter a)",
    "\ufdd0": "there is a code that is not a character (U+FDD0)",
    "\ufffe": "there is a code that is not a character (U+FFFE)",
    "\uffff": "there is a code that is not a character (U+FFFF)",
    "\U0001ffff": "there is a code that is not a character (U+1FFFF)",
    "\U0010ffff": "there is a code that is not a character (U+10FFFF)",
}
HARMLESS = {
    "no-break space": "\u00a0",
    "narrow no-break space": "\u202f",
    "thin space": "\u2009",
    "soft hyphen": "\u00ad",
    "zero width space": "\u200b",
    "zero width non-joiner": "\u200c",
    "zero width joiner": "\u200d",
    "word joiner": "\u2060",
    "variation selector": "\u26a0\ufe0f",
    "combining accent": "e\u0301",
    "family": "👨\u200d👩\u200d👧",
    "replacement character": "\ufffd",
    "private use": "\ue000",
    "tab": "\t",
}
PLACES = {
    "title": ("guide.yaml", "title: Tri@al\n"),
    "name": ("machine.yaml", "machine: Trial\nparts:\n  lid: {name: the l@id}\n"),
    "plain key": ("machine.yaml", "machine: Trial\nparts:\n  li@d: {}\n  lid: {}\n"),
    "note": ("jobs/job.yaml", "job: Look\nsteps:\n  - inspect: lid\n    note: >-\n      look\n      sec@ond\n"),
    "comment": ("jobs/job.yaml", "job: Look\nsteps:\n  - inspect: lid # of @\n    note: Look for cracks.\n"),
    "library": ("tools.yaml", "spanner: {name: spa@nner}\n"),
}


@pytest.mark.parametrize("place", PLACES)
@pytest.mark.parametrize("character", REFUSED, ids=lambda character: f"U+{ord(character):04X}")
def test_it_is_refused_wherever_it_stands(character: str, place: str, tmp_path: Path) -> None:
    name, text = PLACES[place]
    assert tell(tmp_path, {name: text.replace("@", character)}) == [(character, f"not-yaml: {REFUSED[character]}")]


def escapes(character: str) -> list[str]:
    """Return the ways in which YAML can write a character between double quotes."""
    number = ord(character)
    short = {0: "0", 7: "a", 8: "b", 11: "v", 12: "f", 27: "e", 0x85: "N", 0x2028: "L", 0x2029: "P"}.get(number)
    ways = [f"\\{short}"] if short else []
    ways += [f"\\x{number:02x}"] if number < 0x100 else []
    ways += [f"\\u{number:04X}"] if number < 0x10000 else []
    return [*ways, f"\\U{number:08x}"]


@pytest.mark.parametrize("character", REFUSED, ids=lambda character: f"U+{ord(character):04X}")
def test_it_is_refused_as_an_escape(character: str) -> None:
    for escape in escapes(character):
        for text in (f'a: "{escape}"', f'a:\n  - "one\n    two \\\\ {escape} three"', f'"b{escape}": c'):
            (fault,) = load_text(text, "f.yaml").faults
            assert (fault.check, fault.span.cut(text), fault.message) == ("not-plain", escape, REFUSED[character])


@pytest.mark.parametrize("written", ["'\\0'", "\\0", '"\\\\0"', '"\\\\u202E"', "|\n  \\x1b"])
def test_what_is_no_escape_is_none(written: str) -> None:
    assert load_text(f"a: {written}", "f.yaml").faults == []


@pytest.mark.parametrize("character", HARMLESS.values(), ids=HARMLESS)
def test_what_does_no_harm_passes(character: str, tmp_path: Path) -> None:
    name, text = PLACES["note"]
    assert tell(tmp_path, {name: text.replace("@", character)}) == []


@pytest.mark.parametrize("mark", ["\u200e", "\u200f", "\u061c"])
@pytest.mark.parametrize("words", ["חזק את הבורג", "شد البرغي"])
def test_the_marks_of_right_to_left_writing_pass_where_it_is(words: str, mark: str) -> None:
    for text in (f"a: {words}{mark} 20 mm", f'a: {words}\nb: "\\u{ord(mark):04x} (M6)"'):
        assert load_text(text, "f.yaml").faults == []


def test_how_many_there_are_is_said_at_the_first() -> None:
    loaded = load_text("a: b\nc: \u202e\u2066\0\n", "f.yaml")
    (fault,) = loaded.faults
    assert fault.message.endswith("(U+202E right-to-left override); 2 more like it in this file")
    assert (fault.span.line, fault.span.column) == (2, 4)


def test_a_carriage_return_is_a_line_end_and_as_an_escape_none() -> None:
    assert load_text("a: b\rc: d\r\n", "f.yaml").faults == []
    (fault,) = load_text('a: "b\\rc"', "f.yaml").faults
    assert fault.message == "there is a control character (U+000D carriage return)"


def test_every_other_character_is_read_as_it_is_or_told_at_its_place() -> None:
    """What the parser refuses by itself would be told at 1:1."""
    points = [*range(0x3100), *range(0xD700, 0x10100), *range(0x1FFFE, 0x20002), *range(0xE0000, 0xE0200)]
    for point in points:
        character = chr(point)
        if character in '"\\\n\r':
            continue
        loaded = load_text(f'a:\n  - "x{character}y"', "f.yaml")
        if loaded.faults:
            assert loaded.faults[0].span[1:] == (2, 7, 2, 8), hex(point)
            assert f"U+{point:04X}" in loaded.faults[0].message
        else:
            assert loaded.root is not None
            assert loaded.root.plain() == {"a": [f"x{character}y"]}


def test_no_character_of_a_script_is_refused() -> None:
    kinds = {unicodedata.category(chr(point)) for point in range(0x110000) if refused(chr(point))}
    assert kinds <= {"Cc", "Cf", "Cn", "Cs", "Zl", "Zp"}


@pytest.mark.parametrize(
    "text", ["", " ", "\t", "\u00a0", "\u2003", "\u200b", "\u200d\u2060", "\u3164", "\u00ad \ufe0f"]
)
def test_a_text_of_which_nothing_is_seen_is_no_text(text: str, tmp_path: Path) -> None:
    assert is_blank(text)
    written = "".join(f"\\u{ord(character):04x}" for character in text)
    ((place, said),) = tell(
        tmp_path, {"jobs/job.yaml": f'job: "{written}"\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n'}
    )
    assert place == f'"{written}"'
    assert said in ("wrong-shape: 'job' is empty", "wrong-shape: 'job' is blank")


@pytest.mark.parametrize("text", [".", "0", "é", "日", "⚠\ufe0f"])
def test_a_text_of_which_something_is_seen_is_not(text: str) -> None:
    assert not is_blank(text)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("lid", "lid"),
        ("Lücke", "Lücke"),
        ("lid\u200b", "lid<U+200B>"),
        ("a\u00adb", "a<U+00AD>b"),
        ("\x1b", "<U+001B>"),
    ],
)
def test_a_message_shows_what_cannot_be_seen(text: str, shown: str) -> None:
    assert visible(text) == shown


@pytest.mark.parametrize("character", ["\u200b", "\u200d", "\u00ad", "\u2060"])
def test_a_name_that_looks_right_is_shown_as_it_is(character: str, tmp_path: Path) -> None:
    step = f"job: Look\nsteps:\n  - inspect: lid\n    note: Look for cracks.\n    tool: span{character}ner\n"
    ((_, said),) = tell(tmp_path, {"jobs/job.yaml": step, "tools.yaml": "spanner: {}\n"})
    assert said == f"unknown-tool: no tool is called 'span<U+{ord(character):04X}>ner'"
