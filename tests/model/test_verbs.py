"""What is said of the verbs in several places: the records, the schema, the language page and the languages agree."""

from __future__ import annotations

import copy
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

from putback.model.verb import AnyVerb
from putback.model.verbs import OTHER_WORDS, VERBS, verb_of
from putback.model.verbs.pieces import REMOVE, Remove
from putback.source.schema import document

PAGE = Path(__file__).parents[2] / "docs" / "reference" / "language.md"
KINDS = ("part", "fastener", "line", "fluid", "control", "setting", "equipment", "consumable", "block", "caution")
EVERYTHING = ("part", "fastener", "line", "fluid", "control")


def schema() -> dict[str, Any]:
    found: dict[str, Any] = document("words.schema.json")["$defs"]
    return found


def page() -> str:
    return PAGE.read_text(encoding="utf-8")


def rows(text: str) -> dict[str, tuple[str, str]]:
    """Return the rows of the table of steps: what a verb is on, and its keys."""
    table = text.partition("| verb | on | more keys |")[2].partition("\n\n")[0]
    found = {}
    for line in table.splitlines()[2:]:
        names, takes, keys = (cell.strip() for cell in line.strip("|").split("|"))
        for name in re.findall(r"`([a-z-]+)`", names):
            found[name] = takes, keys
    return found


def kinds_said(takes: str) -> tuple[str, ...]:
    """Return the kinds of things in words such as `parts, fasteners` or `things, or text`."""
    everything = EVERYTHING if re.search(r"\bthings?\b", takes) else ()
    return tuple(kind for kind in KINDS if kind in everything or re.search(rf"\b{kind}s?\b", takes))


def disagreements(verbs: dict[str, AnyVerb], defs: dict[str, Any], text: str) -> Iterator[str]:
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
        ("the table of the language page", set(rows(text)), set(verbs)),
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
        takes, keys_said = rows(text).get(name, ("", ""))
        keys = set(re.findall(r"`([a-z-]+)`", keys_said))
        yield from (f"{name}: its key '{key}' is not on the page" for key in sorted(own - keys))
        yield from (f"{name}: '{key}' is on the page, and not in its record" for key in sorted(keys - own))
        if takes and not verb.only_otherwise and kinds_said(takes) != tuple(k for k in KINDS if k in verb.takes):
            yield f"{name}: it takes {', '.join(verb.takes) or 'words'}, and the page says {takes}"


def test_records_schema_and_page_agree() -> None:
    assert list(disagreements(VERBS, schema(), page())) == []


def without(name: str) -> list[str]:
    verbs = {key: verb for key, verb in VERBS.items() if key != name}
    return list(disagreements(verbs, schema(), page()))


def cut(*path: str | int) -> list[str]:
    """Return what is said when the schema lacks one of its entries."""
    holder: Any = copy.deepcopy(schema())
    defs = holder
    for step in path[:-1]:
        holder = holder[step]
    del holder[path[-1]]
    return list(disagreements(VERBS, defs, page()))


def rewritten(old: str, new: str) -> list[str]:
    assert old in page()
    return list(disagreements(VERBS, schema(), page().replace(old, new)))


SLIPS: list[tuple[Callable[..., list[str]], tuple[str | int, ...], str]] = [
    (without, ("turn",), "turn: in the table of the language page, and no verb"),
    (without, ("drain",), "drain: in the cases of a step, and no verb"),
    (cut, ("turn", "properties", "by"), "turn: its key 'by' is not in the schema"),
    (cut, ("take-away",), "take-away: the schema has no keys for it"),
    (cut, ("step", "properties", "mark"), "mark: not in the keys of a step"),
    (cut, ("verb", "enum", 1), "install: not in the enum of verbs"),
    (cut, ("has-verb", "anyOf", 0), "remove: not in 'has-verb'"),
    (cut, ("step", "allOf", 1), "install: not in the cases of a step"),
    (rewritten, ("| `run` |", "| `ran` |"), "run: not in the table of the language page"),
    (rewritten, ("| `run` |", "| `ran` |"), "ran: in the table of the language page, and no verb"),
    (rewritten, ("`to`: the position", "the position"), "set: its key 'to' is not on the page"),
    (rewritten, ("| lines | `at`", "| lines | `as`"), "connect: 'as' is on the page, and not in its record"),
    (rewritten, ("| fluids |", "| lines |"), "fill: it takes fluid, and the page says lines"),
]


@pytest.mark.parametrize(("slip", "where", "told"), SLIPS, ids=[told for _, _, told in SLIPS])
def test_a_verb_that_one_place_lacks_is_named(
    slip: Callable[..., list[str]], where: tuple[str | int, ...], told: str
) -> None:
    assert told in slip(*where)


# The records themselves


@pytest.mark.parametrize("verb", VERBS.values(), ids=lambda verb: verb.name)
def test_a_record_is_whole(verb: AnyVerb) -> None:
    assert verb.arguments.__doc__
    assert verb_of(verb.arguments(*[()] * len(verb.arguments._fields))) is verb
    assert verb.reaches or not (verb.releases or verb.assembles), "who opens, moves, wets or assembles reaches in"
    assert not (verb.back and verb.one_way)
    assert verb.back or verb.one_way or not verb.changes, (
        "what changes the machine has a way back, or says that it has none"
    )
    assert verb.effect or not verb.lets_out


def test_verbs_are_found_by_their_file() -> None:
    assert VERBS["remove"] is REMOVE
    assert verb_of(Remove(())) is REMOVE
    families = {path.stem for path in (Path(__file__).parents[2] / "src/putback/model/verbs").glob("[a-z]*.py")}
    assert {verb.arguments.__module__.rpartition(".")[2] for verb in VERBS.values()} == families


def test_a_word_of_the_trade_stands_for_one_verb() -> None:
    words = [word for verb in VERBS.values() for word in verb.other_words]
    assert sorted(words) == sorted(OTHER_WORDS)
    keys = {key for verb in VERBS.values() for key in verb.keys} | set(schema()["step-keys"]["properties"])
    assert set(words) & (set(VERBS) | keys) == set(), "what is a key is not looked up"


def test_the_page_names_the_verbs_that_let_something_out() -> None:
    named = re.search(r"opens, moves or wets it \(`([a-z ]+)`\)", page())
    assert named is not None
    assert set(named[1].split()) == {name for name, verb in VERBS.items() if verb.releases}
