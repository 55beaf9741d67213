"""The prose of pages and of YAML texts: what is read, and where each word stands."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.guide.reading import read_guide
from putback.guide.stamps import stamp_of
from putback.lint.run import check_guide
from putback.model.reading import Reader
from putback.prose.markdown import DEEPEST, page_may_state, read_page
from putback.prose.pages import passage_of, plain
from putback.source.decoding import decode
from putback.source.finding import Finding
from putback.source.load import Mapping, Text, load_text
from tests.conftest import GUIDE, MACHINE, Write


def words(text: str) -> list[str]:
    return [" ".join(passage.text.split()) for passage in read_page("a.md", text).passages]


def rows(text: str) -> list[list[str]]:
    return [[" ".join(cell.text.split()) for cell in row.cells] for row in read_page("a.md", text).rows]


PAGE = """\
---
title: left out
---
# A heading

A paragraph
on two lines.
- an item
  that goes on

      left out: code in an item
1. a numbered one

Plain again.

    left out: code

> A quotation.

Under
=====

```
left out
:::{note}
```
::::{note}
:class: left-out
In a note.
:::{tip} First line
Nested.
:::
::::
```{figure} left-out.svg
---
alt: left out
---
The caption.
```
```{putback-torques}
left out
```
~~~text
left out
```
~~~
<!-- left
out -->
% left out
(left-out)=
::: note
A division.
:::
The end.
"""


def test_what_is_read_of_a_page() -> None:
    assert words(PAGE) == [
        "A heading", "A paragraph on two lines.", "an item that goes on", "a numbered one",
        "Plain again.", "A quotation.", "Under", "In a note.", "First line", "Nested.",
        "The caption.", "A division.", "The end.",
    ]  # fmt: skip


def test_every_word_is_found_at_its_place() -> None:
    for passage in read_page("a.md", PAGE).passages:
        start = 0
        for word in passage.text.split():
            start = passage.text.index(word, start)
            span = passage.span(start, start + len(word))
            assert span.cut(PAGE) == word
            start += len(word)


def test_a_place_over_two_lines() -> None:
    (passage,) = read_page("a.md", "  one two\nthree four\n").passages
    start = passage.text.index("two")
    assert passage.span(start, start + len("two three")) == ("a.md", 1, 7, 2, 6)


def test_tables() -> None:
    text = """\
Before.
| Fastener | Torque |
|:---|---:|
| a \\| b | **9** N·m |
| short |

| c
"""
    page = read_page("a.md", text)
    assert rows(text) == [["a | b", "9 N·m"], ["short"]]
    assert [" ".join(head.split()) for head in page.rows[0].heads] == ["Fastener", "Torque"]
    assert words(text) == ["Before.", "| c"]
    cell = page.rows[0].cells[1]
    assert cell.span(cell.text.index("9"), len(cell.text)).cut(text) == "9** N·m"


def test_places_in_lists_quotations_and_directives_in_each_other() -> None:
    text = """\
> - one
>   two
>
>   > three

1. four

   :::{note} five six
   seven
   > eight
   :::

   | nine | ten |
   |---|---|
   | eleven \\| twelve | 13 |
Term
: fourteen

  fifteen

[^1]: sixteen

    seventeen

## eighteen ##
<div>
nineteen <b>twenty</b>
</div>

- [ ] twenty-one
\tlazy
"""
    page = read_page("a.md", text)
    told = [*page.passages, *(cell for row in page.rows for cell in row.cells)]
    found = [word for passage in told for word in passage.text.split()]
    assert found == [
        "one", "two", "three", "four", "five", "six", "seven", "eight", "Term", "fourteen", "fifteen", "sixteen",
        "seventeen", "eighteen", "nineteen", "twenty", "[", "]", "twenty-one", "lazy", "eleven", "|", "twelve", "13",
    ]  # fmt: skip
    for passage in told:
        for word in passage.text.split():
            start = passage.text.index(word)
            assert passage.span(start, start + len(word)).cut(text) == word


def test_directives_deep_in_one_another_are_read_to_a_depth() -> None:
    text = "".join(f"{':' * (40 - depth)}{{note}}\nlevel {depth}\n" for depth in range(1, 30))
    assert words(text) == [f"level {depth}" for depth in range(1, DEEPEST + 1)]


@pytest.mark.parametrize(
    ("page", "may"),
    [
        ("Tighten to 9 N·m.", True),
        ("Tighten to 9\n> N·m.", True),
        ("**9** N·m", True),
        ("nine newton metres", True),
        ("| Bolt | N·m |\n|---|---|\n| lid | 9 |", True),
        ("In N·m first and lbf·ft second.", False),
        ("Nothing.", False),
    ],
)
def test_which_pages_are_looked_at(page: str, may: bool) -> None:
    assert page_may_state(page) is may


def test_a_table_without_strokes_at_its_ends_and_one_in_a_quotation() -> None:
    assert rows("a | b\n--- | ---\nc | 9 N·m\n") == [["c", "9 N·m"]]
    assert rows("> | a | b |\n> | --- | --- |\n> | c | 9 N·m |\n") == [["c", "9 N·m"]]


def test_a_table_written_as_a_list() -> None:
    text = "```{list-table} Torques\n:header-rows: 1\n* - a\n  - b\n* - guard\n    bolts\n  - 9 N·m\n```\n"
    assert rows(text) == [["a", "b"], ["guard bolts", "9 N·m"]]


def test_roles_and_marks_become_spaces() -> None:
    text = (
        "{putback:torque}`a-b` {putback:fastener}`guard-bolts` {putback:fastener}`two bolts <b>` "
        "**9**&nbsp;N&middot;m N*m _x_ \\*"
    )
    assert len(plain(text)) == len(text)
    assert plain(text).split() == ["guard", "bolts", "two", "bolts", "9", "N·", "m", "N*m", "x"]


def test_a_page_is_decoded() -> None:
    assert decode(b"\xef\xbb\xbfa\r\nb\rc", "a.md") == "a\nb\nc"
    found = decode(b"ab\r\nc\xff", "a.md")
    assert isinstance(found, Finding)
    assert (found.check, found.message) == ("unread-file", "the file is not UTF-8 text (byte 0xff)")
    assert found.span == ("a.md", 2, 2, 2, 3)


def place(yaml: str, word: str) -> str:
    """Return what stands at the place of a word in the first value of a YAML text."""
    loaded = load_text(yaml, "a.yaml")
    assert isinstance(loaded.root, Mapping)
    node = next(iter(loaded.root.entries.values())).value
    assert isinstance(node, Text)
    said = Reader().text(node)
    assert said is not None
    passage = passage_of(said)
    start = passage.text.index(word)
    return passage.span(start, start + len(word)).cut(loaded.text)


@pytest.mark.parametrize(
    ("yaml", "cut"),
    [
        ("a: one 9 N·m two\n", "9 N·m"),
        ("a: one\n  9\n\n  N·m two\n", "9\n\n  N·m"),
        ("a: 'it''s 9 N·m'\n", "9 N·m"),
        ('a: "one 9 N·m"\n', "9 N·m"),
        ('a: "\\"one\\" 9 N·m"\n', '"\\"one\\" 9 N·m"'),  # escapes: the whole value
        ("a: >-\n  one 9\n  N·m two\n", "9\n  N·m"),
        ("a: | # 9 N·m\n  one\n\n   9 N·m\n", "9 N·m"),
        ("a:\n  one 9 N·m\n", "9 N·m"),
    ],
)
def test_a_word_of_a_yaml_text_is_found_at_its_place(yaml: str, cut: str) -> None:
    assert place(yaml, "9 N·m") == cut


HOSTILE = {
    "strokes": "|" * 50_000 + "\n|-|\n" + "|" * 50_000,
    "spaces": " " * 100_000 + "x",
    "quotations": "> " * 50_000 + "x",
    "fences": "```\n" * 30_001,
    "notes": ":::{note}\n" * 30_000,
    "roles": "{a}`" * 30_000,
    "brackets": "{" * 100_000,
    "comments": "<!--\n" * 30_000,
    "front matter": "---\n" + "a: b\n" * 30_000,
    "one line": "9 N·m " * 20_000,
    "items": "1. x\n" * 20_000,
    "quotations in lists": "> - " * 30_000 + "x",
    "links": "[a]: b 'c\n" * 20_000,
    "footnotes": "[^a]: b\n" * 10_000,
    "terms": "a\n: b\n\n" * 10_000,
    "tables": "|a|b|\n|-|-|\n" * 10_000,
    "tables as lists": "```{list-table}\n" + "* - a\n  - b\n" * 10_000,
    "HTML": "<a " * 30_000 + "<div>\n" * 20_000,
    "longer and longer": "".join(":" * (3 + number % 300) + "{note}\n" for number in range(3_000)),
    "spaces in names": ("screw" + " " * 50_000) * 2 + "4 N·m",
}


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE)
def test_hostile_pages_are_read_in_one_go(write_guide: Write, text: str) -> None:
    # A cost that grows with the square of the length would take minutes here.
    page = f"The screw has 4 N·m.\n\n{text}\n"
    folder = write_guide({"pump/guide.yaml": GUIDE, "pump/machine.yaml": MACHINE, "pump/notes.md": page})
    assert [finding for finding in check_guide(folder)[1] if finding.check != "no-final-test"] == []


@pytest.mark.parametrize("character", ["\0", "\x1b", "\x7f", "\u202e", "\u2028", "\uffff"])
def test_a_character_that_no_page_may_hold_is_told_at_its_place(write_guide: Write, character: str) -> None:
    page = f"# Notes\n\nThe screw\n  has {character}4 N·m.\n"
    folder = write_guide({"pump/guide.yaml": GUIDE, "pump/machine.yaml": MACHINE, "pump/notes.md": page})
    guide, found, _ = check_guide(folder)
    (finding,) = (finding for finding in found if finding.check != "no-final-test")
    assert (finding.check, finding.span[1:]) == ("unread-file", (4, 7, 4, 8))
    assert f"U+{ord(character):04X}" in finding.message
    assert guide.unreadable


@given(st.lists(st.sampled_from(["|", "-", "\n", "`", "```", ":::", "{note}", "{a}", "9 N·m", " ", "> ",
                                 "*", "<!--", "-->", "%", "---", "\\", "x", "* ", "{list-table}"]),
                max_size=60).map("".join))  # fmt: skip
def test_law_every_word_of_any_page_has_its_place(text: str) -> None:
    page = read_page("a.md", text)
    for passage in [*page.passages, *(cell for row in page.rows for cell in row.cells)]:
        for start, character in enumerate(passage.text):
            if character in "9xNm":
                assert passage.span(start, start + 1).cut(text) == character


def test_pages_of_a_guide(write_guide: Write) -> None:
    folder = write_guide(
        {
            "pump/guide.yaml": GUIDE,
            "pump/machine.yaml": MACHINE,
            "pump/a.md": "# A\r\n\r\nThe screw has 5 N·m.\r\n",
            "pump/.b.md": "hidden",
            "pump/deep/c.md": "printed as well",
            "pump/build/x.md": "of what was made",
        }
    )
    before = stamp_of(folder)
    (folder / "d.md").write_bytes(b"\xff\xfe\x00")
    (folder / "e.md").mkdir()
    guide = read_guide(folder)
    assert [Path(name).name for name in guide.pages] == ["a.md", "c.md"]
    assert [(fault.check, Path(fault.span.path).name) for fault in guide.faults] == [
        ("unread-file", "d.md"),
        ("unread-file", "e.md"),
    ]
    assert guide.unreadable
    assert stamp_of(folder) != before
    found = [finding for finding in check_guide(folder)[1] if finding.check == "torque-conflict"]
    assert [(Path(f.span.path).name, *f.span[1:], f.message) for f in found] == [
        ("a.md", 3, 15, 3, 20, "5 N·m here, but the machine file says 4 N·m for screws")
    ]
    assert [(also.message, Path(also.span.path).name) for also in found[0].also] == [
        ("the torque of screws", "machine.yaml")
    ]


def test_text_that_an_editor_holds_stands_in_for_a_page(write_guide: Write) -> None:
    folder = write_guide({"pump/guide.yaml": GUIDE, "pump/machine.yaml": MACHINE, "pump/a.md": "A."})
    _, findings, _ = check_guide(folder, {folder.resolve() / "a.md": "The screws have 6 N·m."})
    assert [finding.message for finding in findings] == ["6 N·m here, but the machine file says 4 N·m for screws"]


def test_a_role_over_two_lines_is_one() -> None:
    text = "Fit {putback:fastener}`the long\nbolts <guard-bolts>` to 9 N·m.\n"
    (passage,) = read_page("a.md", text).passages
    assert passage.text == "Fit the long bolts to 9 N·m."
    start = passage.text.index("long")
    assert passage.span(start, start + len("long bolts")).cut(text) == "long\nbolts"


def test_a_torque_between_marks_is_read_as_one(write_guide: Write) -> None:
    page = "The screws have **5** *N·m*.\n\n> The screws have **6**\n> N·m.\n"
    folder = write_guide({"pump/guide.yaml": GUIDE, "pump/machine.yaml": MACHINE, "pump/a.md": page})
    found = [finding for finding in check_guide(folder)[1] if finding.check == "torque-conflict"]
    assert [(finding.span[1:], finding.message.partition(",")[0]) for finding in found] == [
        ((1, 19, 1, 27), "5 N·m here"),
        ((3, 21, 4, 6), "6 N·m here"),
    ]
