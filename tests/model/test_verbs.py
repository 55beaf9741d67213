"""What is said of the verbs in several places: the records and the schema agree."""

from __future__ import annotations

import copy
from collections import Counter
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from putback.model.verb import AnyVerb
from putback.model.verbs import OTHER_WORDS, VERBS, verb_of
from putback.model.verbs.pieces import REMOVE, Remove
from putback.source.schema import document
from tests.guard import assert_none


def schema() -> dict[str, Any]:
    found: dict[str, Any] = document("words.schema.json")["$defs"]
    return found


def disagreements(verbs: dict[str, AnyVerb], defs: dict[str, Any]) -> Iterator[str]:
    """Yield what one place says of a verb and another does not."""
    ordinary = {name for name, verb in verbs.items() if not verb.only_otherwise}
    common = set(defs["step-keys"]["properties"])
    either = [entry["required"][0] for entry in defs["has-verb"]["anyOf"]]
    told = [case["if"]["required"][0] for case in defs["step"]["allOf"]]
    for place, names, wanted in (
        ("the enum of verbs", set(defs["verb"]["enum"]), ordinary),
        ("the keys of a step", set(defs["step"]["properties"]), ordinary - {"note"}),
        ("'has-verb'", set(either), ordinary - {"note"}),
        ("the cases of a step", set(told), ordinary),
    ):
        yield from (f"{name}: not in {place}" for name in sorted(wanted - names))
        yield from (f"{name}: in {place}, and no verb" for name in sorted(names - wanted))
    for name, verb in verbs.items():
        own = set(verb.keys)
        if name in defs:
            keys = set(defs[name]["properties"]) - common - {name}
            yield from (f"{name}: its key '{key}' is not in the schema" for key in sorted(own - keys))
            yield from (f"{name}: '{key}' is in the schema, and not in its record" for key in sorted(keys - own))
        else:
            yield f"{name}: the schema has no keys for it"


def test_records_and_schema_agree() -> None:
    assert_none(disagreements(VERBS, schema()), "say the same in model/verbs/ and in schema/words.schema.json")


def without(name: str) -> list[str]:
    verbs = {key: verb for key, verb in VERBS.items() if key != name}
    return list(disagreements(verbs, schema()))


def cut(*path: str | int) -> list[str]:
    """Return what is said when the schema lacks one of its entries."""
    holder: Any = copy.deepcopy(schema())
    defs = holder
    for step in path[:-1]:
        holder = holder[step]
    del holder[path[-1]]
    return list(disagreements(VERBS, defs))


SLIPS: list[tuple[Callable[..., list[str]], tuple[str | int, ...], str]] = [
    (without, ("turn",), "turn: in the enum of verbs, and no verb"),
    (without, ("drain",), "drain: in the cases of a step, and no verb"),
    (cut, ("turn", "properties", "by"), "turn: its key 'by' is not in the schema"),
    (cut, ("take-away",), "take-away: the schema has no keys for it"),
    (cut, ("step", "properties", "mark"), "mark: not in the keys of a step"),
    (cut, ("verb", "enum", 1), "install: not in the enum of verbs"),
    (cut, ("has-verb", "anyOf", 0), "remove: not in 'has-verb'"),
    (cut, ("step", "allOf", 1), "install: not in the cases of a step"),
]


@pytest.mark.parametrize(("slip", "where", "told"), SLIPS, ids=[told for _, _, told in SLIPS])
def test_a_verb_that_one_place_lacks_is_named(
    slip: Callable[..., list[str]], where: tuple[str | int, ...], told: str
) -> None:
    assert told in slip(*where)


# The records themselves


@pytest.mark.parametrize("verb", VERBS.values(), ids=lambda verb: verb.name)
def test_a_record_is_whole(verb: AnyVerb) -> None:
    assert verb.arguments.__doc__, f"say in the docstring of {verb.arguments.__name__} what the verb does"
    assert verb_of(verb.arguments(*[()] * len(verb.arguments._fields))) is verb
    assert verb.reaches or not (verb.releases or verb.assembles), "who opens, moves, wets or assembles reaches in"
    assert not (verb.back and verb.one_way), "it has a way back, and says that it has none"
    assert verb.back or verb.one_way or not verb.changes, (
        "what changes the machine has a way back, or says that it has none"
    )
    assert verb.effect or not verb.lets_out, "what lets a fluid out has an effect on what it opens"


def test_verbs_are_found_by_their_file() -> None:
    assert VERBS["remove"] is REMOVE
    assert verb_of(Remove(())) is REMOVE
    families = {path.stem for path in (Path(__file__).parents[2] / "src/putback/model/verbs").glob("[a-z]*.py")}
    assert {verb.arguments.__module__.rpartition(".")[2] for verb in VERBS.values()} == families


def test_a_word_of_the_trade_stands_for_one_verb() -> None:
    words = [word for verb in VERBS.values() for word in verb.other_words]
    assert_none([f"{word}: {n}" for word, n in Counter(words).items() if n > 1], "leave each word to one verb")
    assert sorted(words) == sorted(OTHER_WORDS)
    keys = {key for verb in VERBS.values() for key in verb.keys} | set(schema()["step-keys"]["properties"])
    known = sorted(set(words) & (set(VERBS) | keys))
    assert_none(known, "take these out of `other_words`: each is a verb or a key, and is never looked up")
