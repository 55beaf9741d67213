"""The catalogues have each message of the code, translated, with its fields; and the tool that keeps them so."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from babel.messages.catalog import Catalog

from putback.telling import Message, Translatable, catalogue_for, fields_of, in_parts, tags
from tests.guard import assert_none
from tests.telling.catalogues import tool

TOOL: Any = tool()
MESSAGES = list(TOOL.wanted())
PATHS = TOOL.paths()


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_a_catalogue_is_complete_and_has_nothing_else(path: Path) -> None:
    assert_none(list(TOOL.faults(TOOL.read(path), MESSAGES)), "run '.ci/catalogues.py update', and translate these")


@pytest.mark.parametrize("path", PATHS, ids=lambda path: path.stem)
def test_a_catalogue_is_as_the_tool_writes_it(path: Path) -> None:
    again = TOOL.written(TOOL.updated(TOOL.read(path), MESSAGES))
    assert path.read_text(encoding="utf-8") == again, "run '.ci/catalogues.py update'"


def test_every_catalogue_is_a_language_that_can_be_chosen() -> None:
    assert list(tags()) == sorted(path.stem.replace("_", "-") for path in PATHS)


def test_messages_of_labels_units_and_code_are_found() -> None:
    found = {each.message: each for each in MESSAGES}
    label = found[Message("label.job.count_back", "Count back")]
    assert label == (Message("label.job.count_back", "Count back"), "Heading of the table that is counted.",
                     "src/putback/words/labels.py")  # fmt: skip
    assert found[Message("list", "{others} and {last}")].place == "src/putback/telling/told.py"
    assert found[Message("list.before-i", "{others} and {last}")].note.startswith("only Spanish")
    assert Message("unit.counted", "tooth", "teeth") in found


def test_no_message_has_two_plurals_and_all_fields_are_named() -> None:
    first: dict[tuple[str, str], Message] = {}
    for each in MESSAGES:
        context, text, many = each.message
        assert first.setdefault((context, text), each.message) == each.message
        assert many == "" or fields_of(text) <= fields_of(many)
        assert text.count("{") == text.count("}") == sum(is_field for is_field, _ in in_parts(text)), text


def module(tmp_path: Path, text: str, monkeypatch: pytest.MonkeyPatch) -> list[Translatable]:
    path = tmp_path / "src" / "putback" / "words" / "plain" / "some.py"
    path.parent.mkdir(parents=True)
    path.write_text(text, encoding="utf-8")
    monkeypatch.setattr(TOOL, "ROOT", tmp_path)
    monkeypatch.setattr(TOOL, "SRC", tmp_path / "src" / "putback")
    return list(TOOL.messages_in(path))


def test_messages_are_read_from_the_code_with_their_comments(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    text = """
FILMS = {
    # Translators: the state of a thread.
    1: Message("film", "oiled"),
}
def f(telling):
    # Some other remark.
    # Translators: what comes off,
    # by its name.
    return telling.say_phrase(
        "verb.remove",
        "Remove: {thing}. "
        "Take care.",
        thing="x",
    )
def g(self):
    return self.telling.say_count("pieces", "{count} piece", "{count} pieces", 3)
"""
    place = "src/putback/words/plain/some.py"
    assert module(tmp_path, text, monkeypatch) == [
        (Message("film", "oiled"), "the state of a thread.", place),
        (Message("verb.remove", "Remove: {thing}. Take care."), "what comes off, by its name.", place),
        (Message("pieces", "{count} piece", "{count} pieces"), "", place),
    ]


@pytest.mark.parametrize("call", ['say("a", f"b {x}")', 'say(context, "b")', 'say("a", b)', 'say_count("a", "b", 3)'])
def test_a_message_that_is_not_written_out_is_refused(
    call: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    with pytest.raises(TOOL.NotWrittenOutError, match=r"some.py:1: write"):
        module(tmp_path, f"telling.{call}\n", monkeypatch)


def catalog(*messages: tuple[str, str, str]) -> Catalog:
    found = Catalog("de")
    for context, text, told in messages:
        found.add(text, told, context=context)
    return found


def wanted(*messages: tuple[str, str]) -> list[Translatable]:
    return [Translatable(Message(context, text)) for context, text in messages]


def test_a_changed_text_keeps_its_translation_as_fuzzy_with_the_text_it_was_made_of() -> None:
    now = wanted(("label.job.tools", "All tools"), ("label.job.parts", "Parts"), ("new", "New"))
    old = catalog(("label.job.tools", "Tools", "Werkzeuge"), ("label.job.parts", "Parts", "Teile"), ("gone", "x", "y"))
    text = TOOL.written(TOOL.updated(old, now))
    assert '#, fuzzy\n#| msgid "Tools"\nmsgctxt "label.job.tools"\nmsgid "All tools"\nmsgstr "Werkzeuge"\n' in text
    assert 'msgctxt "label.job.parts"\nmsgid "Parts"\nmsgstr "Teile"\n' in text
    assert 'msgctxt "new"\nmsgid "New"\nmsgstr ""\n' in text
    assert "gone" not in text
    assert "Date" not in text


def test_the_same_messages_give_the_same_file_again(tmp_path: Path) -> None:
    path = tmp_path / "de.po"
    path.write_text(TOOL.written(TOOL.updated(Catalog("de"), MESSAGES)), encoding="utf-8")
    assert TOOL.written(TOOL.updated(TOOL.read(path), MESSAGES)) == path.read_text(encoding="utf-8")


def test_faults_of_a_catalogue_are_told() -> None:
    old = catalog(("a", "{x} on", "{y} an"), ("b", "off", "ab"), ("c", "in", "ein"), ("d", "up", ""))
    old.get("in", "c").flags.add("fuzzy")  # type: ignore[union-attr]
    assert list(TOOL.faults(old, wanted(("a", "{x} on"), ("c", "in"), ("d", "up")))) == [
        "other fields: [a] {x} on",
        "fuzzy: [c] in",
        "not translated: [d] up",
        "no message any more: [b] off",
    ]


def test_a_language_without_a_catalogue_has_the_english_texts() -> None:
    assert catalogue_for("qaa").one("a", "b") == "b"
    assert catalogue_for("qaa").counted("a", "b", "c", 2) == "c"
