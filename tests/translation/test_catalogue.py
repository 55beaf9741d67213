"""Tests of catalogues: what is read of a file, and what is said of one that is none."""

from __future__ import annotations

import io
import random

import pytest
from babel.messages.pofile import read_po

from putback.translation.catalogue import LONGEST, read_catalogue, tag_of
from putback.translation.wording import TextKey

GOOD = """\
# by hand
msgid ""
msgstr "Content-Type: text/plain; charset=UTF-8\\n"

# look at it again
# and again
#. a remark after a sentence
#: jobs/brake.yaml:17 jobs/line.yaml:3
#, fuzzy
#| msgid "Turn it "
#| "back."
msgctxt "jobs.brake.note"
msgid ""
"Turn it "
"\\"off\\"."
msgstr "„Ab\\"drehen\\\\"

#~ msgctxt "jobs.old.title"
#~ msgid "Old"
#~ msgstr ""
#~ "A"
#~ "lt"
"""


def test_an_entry_is_read_with_all_that_belongs_to_it() -> None:
    file = read_catalogue("g/translations/pt_BR.po", GOOD)
    assert not file.faults
    assert file.tag == "pt-BR"
    entry = file.entries[TextKey("jobs.brake.note", 'Turn it "off".')]
    assert (entry.told, entry.fuzzy, entry.previous) == ('„Ab"drehen\\', True, "Turn it back.")
    assert entry.remarks == ["look at it again", "and again"]
    assert (entry.told_span.line, entry.told_span.column) == (16, 8)
    (old,) = file.unused
    assert (old.context, old.text, old.told) == ("jobs.old.title", "Old", "Alt")


@pytest.mark.parametrize(
    ("text", "place", "message"),
    [
        ('msgid "a', (1, 7), "this text has no quote at its end"),
        ('msgid "a"\nmsgstr "b\\q"', (2, 10), "'\\q' is no escape of a catalogue"),
        ('msgid "a"\n\nmsgid "b"\nmsgstr ""', (2, 1), "an entry is not finished: it has no msgstr"),
        ('msgid "a"\n', (2, 1), "an entry is not finished: it has no msgstr"),
        ('msgstr "a"', (1, 1), "'msgstr' is not expected here"),
        ('"a"', (1, 1), "this text belongs to nothing"),
        ('msgid "a"\nmsgctxt "b"\nmsgstr ""', (2, 1), "'msgctxt' is not expected here: it comes before 'msgid'"),
        ('msgid "a"\nmsgid_plural "b"\nmsgstr[0] ""', (2, 1), "an entry with plural forms; a guide has a text of its"),
        ('msgid "a"\nmsgstr "b"\nmsgstr "c"', (3, 1), "'msgstr' is not expected here"),
        ("<html>", (1, 1), "this is no line of a catalogue"),
        ('msgid "a"\nmsgstr "b "c" d"', (2, 11), "the text ends here, but its line goes on"),
        ('msgid "a"\nmsgstr „b“', (2, 8), "a text stands between straight quotes"),
        ('msgid "a"\nmsgstr"b"', (2, 7), "there is no blank after msgstr"),
        ('msgid "a"\n<<<<<<< HEAD\nmsgstr "b"', (2, 1), "here are two versions that a merge left"),
        (f'msgid "{"a" * (LONGEST + 1)}"\nmsgstr ""', (1, 7), "a text is longer than 10,000 characters"),
        (f'#| msgid "{"a" * (LONGEST + 1)}"\nmsgid "a"\nmsgstr ""', (1, 1), "a text is longer than 10,000 characters"),
        ('msgid ""\nmsgstr "Content-Type: text/plain; charset=latin-1\\n"', (2, 8), "it says that its characters are"),
        ('msgid "a"\nmsgstr "b"\n\nmsgid "a"\nmsgstr "c"', (4, 7), "this text is here a second time; the first is on"),
    ],
)
def test_a_fault_has_its_place(text: str, place: tuple[int, int], message: str) -> None:
    (fault,) = read_catalogue("de.po", text).faults
    assert (fault.span.line, fault.span.column) == place
    assert fault.message.startswith(message)


@pytest.mark.parametrize(
    ("path", "language", "faults"),
    [
        ("g/translations/de.po", "es", 1),
        ("g/translations/de.po", "de_AT", 0),
        ("g/translations/pt_BR.po", "pt", 0),
        ("g/translations/de.po", "", 0),
        ("sent.po", "es", 0),
    ],
)
def test_a_catalogue_under_the_name_of_another_language_is_told(path: str, language: str, faults: int) -> None:
    found = read_catalogue(path, f'msgid ""\nmsgstr "Language: {language}\\n"\n').faults
    assert len(found) == faults
    assert all(fault.message == "it says that its language is es, and its name that it is de" for fault in found)


def test_whatever_is_in_a_file_nothing_is_raised() -> None:
    pieces = [
        *GOOD,
        "msgid",
        "msgctxt",
        "msgstr",
        "[0]",
        '"',
        "\\",
        "\n",
        "#",
        "#~ ",
        "#| ",
        "#,",
        " ",
        "fuzzy",
        "\t",
        "{",
        "\u20ac",
    ]
    found = 0
    for seed in range(3000):
        chance = random.Random(seed)
        cut = chance.randrange(len(GOOD))
        some = "".join(chance.choice(pieces) for _ in range(chance.randrange(12)))
        file = read_catalogue(f"{seed}.po", GOOD[:cut] + some + GOOD[cut + chance.randrange(9) :])
        found += bool(file.faults)
        for fault in file.faults:
            assert fault.span.line >= 1
            assert fault.span.column >= 1
    assert found > 1000


def test_babel_reads_the_same() -> None:
    found = {(each.context or "", each.id): each.string for each in read_po(io.BytesIO(GOOD.encode())) if each.id}
    ours = read_catalogue("de.po", GOOD)
    assert {(entry.context, entry.text): entry.told for entry in ours.entries.values()} == found


@pytest.mark.parametrize(("path", "tag"), [("translations/de.po", "de"), ("a.b/pt_BR.po", "pt-BR")])
def test_a_file_is_called_by_its_language(path: str, tag: str) -> None:
    assert tag_of(path) == tag
