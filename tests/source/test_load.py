"""Reading: what is refused, with whole messages, and the places of what is read."""

from __future__ import annotations

import codecs
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.source.load import Listing, Loaded, Mapping, Node, Text, load, load_text

QUOTE = "check the indentation, and quote values that contain ': ' or start with a symbol"
WRITE_OUT = "write it out in full; what is shared is reused by name"


def said(loaded: Loaded) -> list[tuple[str, str, str, str | None]]:
    return [(fault.check, str(fault.span), fault.message, fault.hint) for fault in loaded.faults]


COLON = "a ':' with a space after it is expected after this"
SPACE = "write a space after it"

UNREADABLE = [
    ("a:\n\t- b", "2:1", "a tab is used to indent", "indent with spaces, two per level"),
    ("a:\n  \tb: c", "2:3", "a tab is used to indent", "indent with spaces, two per level"),
    ("a: \x07", "1:4", "there is a control character (U+0007 bell)", "remove it"),
    ("a: b\nc: \ud800", "2:4", "there is half of a character (U+D800)", "remove it"),
    ("a: b\u2028c: d", "1:5", "there is a hidden line separator (U+2028 line separator)", "remove it"),
    ("a: b\x85c: d", "1:5", "there is a hidden line separator (U+0085 next line)", "remove it"),
    ("- a\nb: c", "2:1", "a '-' is expected here, as before the other items of this list", QUOTE),
    ("a: b: c", "1:5", "there is a colon where no key can be", QUOTE),
    (
        "limit: >= 6.4 mm\nb: c",
        "1:8",
        "a value cannot start with '>' unless it is in quotes",
        'write it in quotes: ">= 6.4 mm"',
    ),
    (
        "- a: @b",
        "1:6",
        "a value cannot start with '@' unless it is in quotes",
        'write it in quotes: "@b"',
    ),
    ('a: @"', "1:4", "a value cannot start with '@' unless it is in quotes", "write it in quotes"),
    ("a: [x\n", "1:4", "the list that '[' opens here is not closed", "close it"),
    ("a: {x: y\nb: c", "1:4", "the mapping that '{' opens here is not closed", "close it"),
    ("a: 'x\nb: c\n", "1:4", "a quotation mark is opened here and never closed", "close it"),
    ("a: b\nc d\ne: f", "2:1", COLON, "write it as 'c: d'"),
    ("a: b\nc:d\ne: f", "2:1", COLON, "write it as 'c: d'"),
    ("a:\n  b\n  c: d", "2:3", COLON, "write it as 'b:'"),
    ("a b\nc: d", "1:1", COLON, "write it as 'a: b'"),
    ("a:\n  - b: c\n    d e\nf: g", "3:5", COLON, "write it as 'd: e'"),
    ("a: b\n  goes on\n  c: d", "3:4", "there is a colon where no key can be", QUOTE),
    ("- a: b\n-c: d\n- e: f", "2:1", "a '-' is expected here, as before the other items of this list", SPACE),
    ("- a: b\n  -c: d\n   e: f", "2:3", "a '-' with a space after it is expected here", SPACE),
    ('a: "b\nc: "d"\n', "1:4", "a quotation mark is opened here and closed only on line 2", "close it"),
    ("a: 'don't'\n", "1:9", "a key is expected here", QUOTE),
    ("a: |\n  b\n c: d", "3:2", "a key is expected here", QUOTE),
    ("[" * 5000, "1:51", "the file is nested more than 50 levels deep", "use far fewer levels"),
    ("a: " + "{a: " * 400, "1:200", "the file is nested more than 50 levels deep", "use far fewer levels"),
    ("- " * 51 + "x", "1:101", "the file is nested more than 50 levels deep", "use far fewer levels"),
]


@pytest.mark.parametrize(("text", "place", "message", "hint"), UNREADABLE)
def test_what_cannot_be_read(text: str, place: str, message: str, hint: str) -> None:
    loaded = load_text(text, "f.yaml")
    assert said(loaded) == [("not-yaml", f"f.yaml:{place}", message, hint)]
    assert loaded.unreadable
    assert loaded.root is None


@pytest.mark.parametrize("text", ["", "\n\n", "# only a comment\n", "---\n", "\ufeff"])
def test_an_empty_file(text: str) -> None:
    loaded = load_text(text, "f.yaml")
    assert said(loaded) == [("not-yaml", "f.yaml:1:1", "the file is empty", None)]
    assert not loaded.unreadable


NOT_PLAIN = [
    ("a: &b c\nd: *b", [("1:4", "'&b' is an anchor", WRITE_OUT), ("2:4", "'*b' is an alias", WRITE_OUT)]),
    ("a: &b [c]", [("1:4", "'&b' is an anchor", WRITE_OUT)]),
    ("a: {<<: b}", [("1:5", "'<<' is a merge key", WRITE_OUT)]),
    ("a: !b c", [("1:4", "'!b' is a tag", "write the value without a tag")]),
    ("--- !!map\na: b", [("1:5", "'!!map' is a tag", "write the value without a tag")]),
    (
        "a: b\nc: d\na: e\na: f",
        [
            ("3:1", "the key 'a' is here a second time; the first is on line 1", "keep one of them"),
            ("4:1", "the key 'a' is here a second time; the first is on line 1", "keep one of them"),
        ],
    ),
    ("? [a]\n: b", [("1:3", "a key must be a plain name, not a list or a mapping", None)]),
    ("a: b\n---\nc: d", [("2:1", "a second document starts here", "keep one document per file")]),
]


@pytest.mark.parametrize(("text", "expected"), NOT_PLAIN)
def test_what_plain_yaml_does_not_have(text: str, expected: list[tuple[str, str, str | None]]) -> None:
    loaded = load_text(text, "f.yaml")
    assert said(loaded) == [("not-plain", f"f.yaml:{place}", message, hint) for place, message, hint in expected]
    assert not loaded.unreadable
    assert isinstance(loaded.root, Mapping)


@pytest.mark.parametrize(
    ("data", "place", "byte"),
    [
        (b"a: b\nc: \xff", "2:4", "ff"),
        (codecs.BOM_UTF8 + b"a: b\nc: \xe9t\xe9", "2:4", "e9"),
        (b"a: \xc3\xa9\r\nb: \xc3\xa9\xe9\r\n", "2:5", "e9"),
        ("a: b".encode("utf-16"), "1:1", "ff"),
    ],
)
def test_what_is_not_utf_8(tmp_path: Path, data: bytes, place: str, byte: str) -> None:
    path = tmp_path / "f.yaml"
    path.write_bytes(data)
    message = f"the file is not UTF-8 text (byte 0x{byte})"
    assert said(load(path, "f.yaml")) == [("not-yaml", f"f.yaml:{place}", message, "save it with the encoding UTF-8")]


def test_what_cannot_be_opened(tmp_path: Path) -> None:
    assert said(load(tmp_path / "none.yaml", "none.yaml")) == [
        ("unread-file", "none.yaml:1:1", "the file cannot be read: no such file or directory", None)
    ]
    assert said(load(tmp_path, "here"))[0][2] == "the file cannot be read: it is a folder"
    assert load(tmp_path / "none.yaml").path == str(tmp_path / "none.yaml")


@pytest.mark.parametrize("end", ["\n", "\r\n", "\r"])
@pytest.mark.parametrize("mark", [b"", codecs.BOM_UTF8])
def test_line_ends_and_byte_order_marks_move_nothing(tmp_path: Path, end: str, mark: bytes) -> None:
    path = tmp_path / "f.yaml"
    path.write_bytes(mark + f"a: é{end}b:{end}  - c d{end}".encode())
    loaded = load(path, "f.yaml")
    assert loaded.faults == []
    assert loaded.root is not None
    assert loaded.root.plain() == {"a": "é", "b": ["c d"]}
    assert [(str(text.span), text.span.cut(loaded.text)) for text in scalars(loaded.root)] == [
        ("f.yaml:1:1", "a"),
        ("f.yaml:1:4", "é"),
        ("f.yaml:2:1", "b"),
        ("f.yaml:3:5", "c d"),
    ]


@pytest.mark.parametrize(
    ("written", "plain"),
    [
        ("on", "on"), ("off", "off"), ("yes", "yes"), ("True", "True"), ("true", True), ("false", False),
        ("null", None), ("~", None), ("", None), ("''", ""), ("'true'", "true"), ("'3'", "3"),
        ("3107", 3107), ("+5", 5), ("-2", -2), ("0", 0), ("007", "007"), ("1_000", "1_000"), ("0x1f", "0x1f"),
        ("1.10", 1.1), ("6.0", 6), ("-6.00", -6), ("100.0", 100), (".5", ".5"), ("5.", "5."), ("1e3", "1e3"),
        ("1e999", "1e999"), (".inf", ".inf"), (".nan", ".nan"), ("2026-11-25", "2026-11-25"),
        ("9" * 20, 99999999999999999999), ("9" * 5000, "9" * 5000), ("9" * 400 + ".5", "9" * 400 + ".5"),
        ("|\n  3\n", "3\n"), ("18 N·m", "18 N·m"),
    ],
)  # fmt: skip
def test_plain_values(written: str, plain: object) -> None:
    loaded = load_text(f"a: {written}", "f.yaml")
    assert loaded.faults == []
    assert loaded.root is not None
    value = loaded.root.plain()
    assert value == {"a": plain}
    assert isinstance(value, dict)
    assert type(value["a"]) is type(plain)


def test_a_key_is_text_whatever_it_looks_like() -> None:
    loaded = load_text("1: a\ntrue: b\n'odd \"key\"': c\n~: d", "f.yaml")
    assert isinstance(loaded.root, Mapping)
    assert list(loaded.root.entries) == ["1", "true", 'odd "key"', "~"]
    assert loaded.root.get("none") is None
    assert loaded.root.get("1") == loaded.root.entries["1"].value


@pytest.mark.parametrize(
    ("block", "cut"),
    [
        ("|\n  x\n  y\n\nb: 1", "|\n  x\n  y"),
        (">-\n  x\n\n  y\n\n\n", ">-\n  x\n\n  y"),
        ("|\n  x\n  y", "|\n  x\n  y"),
        ("|\n  x\n# a comment\nb: c", "|\n  x"),
        ("|\n\nb: c", "|"),
    ],
)
def test_a_block_ends_with_its_last_line(block: str, cut: str) -> None:
    loaded = load_text(f"a: {block}", "f.yaml")
    assert isinstance(loaded.root, Mapping)
    assert loaded.root.entries["a"].value.span.cut(loaded.text) == cut


def test_the_place_of_a_collection_ends_with_its_last_value() -> None:
    text = "a:\n  - b\n  - {c: d}   # why\n\n# comment\ne: [f]"
    loaded = load_text(text, "f.yaml")
    assert isinstance(loaded.root, Mapping)
    assert loaded.root.span.cut(text) == text
    assert loaded.root.entries["a"].value.span.cut(text) == "- b\n  - {c: d}"
    assert loaded.root.entries["e"].value.span.cut(text) == "[f]"


# Laws


def scalars(node: Node) -> list[Text]:
    """Every key and every scalar, in the order of the file."""
    match node:
        case Text():
            return [node]
        case Listing(items=items):
            return [text for item in items for text in scalars(item)]
        case Mapping(entries=entries):
            return [text for entry in entries.values() for text in (entry.key, *scalars(entry.value))]


WORDS = st.from_regex(r"[a-zé😀][a-z 0-9é😀·]{0,8}[a-z]", fullmatch=True)


@st.composite
def written(draw: st.DrawFn) -> tuple[str, str]:
    """A scalar as it is written, and its value."""
    value = draw(WORDS)
    style = draw(st.sampled_from(["", "'", '"', "|"]))
    if style == "|":
        return f"|-\n      {value}\n\n      {value}", f"{value}\n\n{value}"
    return f"{style}{value}{style}", value


@given(st.lists(st.tuples(st.integers(0, 2), st.lists(written(), min_size=1, max_size=3)), min_size=1, max_size=6))
def test_a_span_cuts_its_own_text_out_of_the_file(rows: list[tuple[int, list[tuple[str, str]]]]) -> None:
    text, expected = "", []
    for number, (gap, items) in enumerate(rows):
        text += f"{'# é' * gap}\nkey-{number}:{' ' * gap}\n"
        expected.append((f"key-{number}", f"key-{number}"))
        for item in items:
            text += f"  -{' ' * (gap + 1)}{item[0]}{'  # why' if not item[0].startswith('|') else ''}\n"
            expected.append(item)
    loaded = load_text(text, "f.yaml")
    assert loaded.faults == []
    assert loaded.root is not None
    assert [(s.span.cut(loaded.text), s.value) for s in scalars(loaded.root)] == expected


@given(st.text())
def test_no_text_breaks_the_loader(text: str) -> None:
    loaded = load_text(text, "f.yaml")
    assert (loaded.root is None) <= bool(loaded.faults)
    lines = loaded.text.split("\n")
    for fault in loaded.faults:
        assert 1 <= fault.span.line <= len(lines)
        assert 1 <= fault.span.column <= len(lines[fault.span.line - 1]) + 1


@given(st.text("ab:-[]{}&*!|>'\"%@#,?\n \t", max_size=40))
def test_no_marks_break_the_loader(text: str) -> None:
    loaded = load_text(text, "f.yaml")
    assert (loaded.root is None) <= bool(loaded.faults)
    if loaded.root is not None:
        loaded.root.plain()
        lines = loaded.text.split("\n")
        for scalar in scalars(loaded.root):
            assert scalar.span.end_line <= len(lines)


@given(data=st.binary())
def test_no_bytes_break_the_loader(tmp_path_factory: pytest.TempPathFactory, data: bytes) -> None:
    path = tmp_path_factory.getbasetemp() / "f.yaml"
    path.write_bytes(data)
    loaded = load(path)
    assert (loaded.root is None) <= bool(loaded.faults)


def test_a_text_keeps_its_characters_where_they_are_others() -> None:
    loaded = load_text("a: 'it''s'\nb: >\n  two\n  lines\n\n# c\nd: plain  words\ne: more\n  lines\n", "a.yaml")
    assert isinstance(loaded.root, Mapping)
    texts = [entry.value for entry in loaded.root.entries.values() if isinstance(entry.value, Text)]
    assert [text.written for text in texts] == ["'it''s'", ">\n  two\n  lines\n\n", None, "more\n  lines"]
    assert [text.value for text in texts] == ["it's", "two lines\n", "plain  words", "more lines"]
