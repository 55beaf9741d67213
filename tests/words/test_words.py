"""How things are called in a sentence."""

from __future__ import annotations

import pytest

from putback.model.called import counted, named, verb_s
from putback.model.machine import AnyThing, Fastener
from putback.model.screwed import PlainPart
from putback.source.grammar import counted_word, listed, number, plural
from putback.source.span import top_of

HERE = top_of("machine.yaml")


def screws(count: int, several: str | None = None) -> Fastener:
    return Fastener(key="screws", span=HERE, name="cover screw", plural=several, count=count)


LID = PlainPart(key="lid", span=HERE, name="lid")


@pytest.mark.parametrize(
    ("count", "word"), [(0, "no"), (1, "one"), (2, "two"), (12, "twelve"), (13, "13"), (100, "100"), (-1, "-1")]
)
def test_counts(count: int, word: str) -> None:
    assert number(count) == word


@pytest.mark.parametrize(
    ("one", "several"),
    [
        ("cover screw", "cover screws"),
        ("bush", "bushes"),
        ("washer", "washers"),
        ("key", "keys"),
        ("assembly", "assemblies"),
        ("latch", "latches"),
        ("box", "boxes"),
        ("truss", "trusses"),
        ("relay", "relays"),
        ("rubber foot", "rubber feet"),
        ("knife of the deck", "knives of the deck"),
    ],
)
def test_plurals(one: str, several: str) -> None:
    assert plural(one) == several


@pytest.mark.parametrize(
    ("thing", "count", "name", "with_count", "verb"),
    [
        (screws(6), None, "cover screws", "six cover screws", "come"),
        (screws(6), 1, "cover screw", "one cover screw", "comes"),
        (screws(6), 2, "cover screws", "two cover screws", "come"),
        (screws(1), None, "cover screw", "cover screw", "comes"),
        (screws(20), None, "cover screws", "20 cover screws", "come"),
        (screws(4, "screws of the cover"), None, "screws of the cover", "four screws of the cover", "come"),
        (LID, None, "lid", "lid", "comes"),
        (LID, 1, "lid", "lid", "comes"),
    ],
)
def test_a_thing_in_a_sentence(thing: AnyThing, count: int | None, name: str, with_count: str, verb: str) -> None:
    assert named(thing, count) == name
    assert counted(thing, count) == with_count
    assert verb_s(thing, "comes", "come", count) == verb


@pytest.mark.parametrize(
    ("words", "sentence"),
    [([], ""), (["a"], "a"), (["a", "b"], "a and b"), (["a", "b", "c"], "a, b and c")],
)
def test_lists(words: list[str], sentence: str) -> None:
    assert listed(words) == sentence


def test_lists_of_choices() -> None:
    assert listed(["a", "b", "c"], "or") == "a, b or c"


@pytest.mark.parametrize(
    ("count", "word", "text"), [(1, "job", "1 job"), (0, "job", "0 jobs"), (2, "step", "2 steps"), (3, "key", "3 keys")]
)
def test_words_with_a_number(count: int, word: str, text: str) -> None:
    assert counted_word(count, word) == text
