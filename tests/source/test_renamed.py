"""Words that have another name now: each is told, at its place, and the file is read as it was meant."""

from __future__ import annotations

import json
from typing import Any

import pytest

from putback.checks import own_checks
from putback.model.verbs import OTHER_WORDS, VERBS
from putback.source.load import load_text
from putback.source.renamed import Rename, all_renames, new_name
from putback.source.schema import FileKind, document, review
from tests.conftest import Putback, Write

RENAMES = all_renames()
KEYS = [rename for rename in RENAMES if rename.where in {*FileKind, "step"}]
VALUES = {
    "wrench-angle": "90°", "torque-confirmed": "by the maker", "releases-when": "loose", "secures": "lid",
    "retighten-after": "10 h", "rotation": "clockwise", "loosen-evenly": "true", "any-at-end": "true",
    "normal": "open", "access-after": "{lid: [guard]}", "results-in": "{run: {tap: open}}", "ends-with": "[lid]",
    "begins-with": "[lid]", "waive": "{left-off: it stays off}", "read-first": "Invented.", "ppe": "[gloves]",
    "safe-when": "{tap: closed}", "signal-at-least": "warning", "rated-load": "60 kg",
}  # fmt: skip
"""A good value of each key that has another name."""
HEADS = {
    "guide": "title: x\n", "machine": "machine: x\n", "job": "job: x\nsteps: [{inspect: lid}]\n",
    "block": "block: x\nsteps: [{inspect: lid}]\n", "cautions": "", "hazards": "", "equipment": "",
}  # fmt: skip
"""What a file needs besides."""
BESIDES = {"controls/*": "positions: [open, closed], normal: open", "fasteners/*": "tool: crowfoot"}
NEEDED = {"cautions": "signal: warning", "hazards": "signal-at-least: warning"}


def file_with(rename: Rename, word: str) -> str:
    """Return a file that has a key, by its old or its new name."""
    value = VALUES[rename.now]
    if rename.where == "step":
        return f"job: x\nsteps: [{{inspect: lid, {word}: {value}}}]\n"
    if not rename.at:
        return f"{HEADS[rename.where]}{word}: {value}\n"
    besides = BESIDES.get(rename.at, NEEDED.get(rename.where, ""))
    pairs = [pair for pair in besides.split(", ") if pair and not pair.startswith(f"{rename.now}:")]
    if rename.at == "controls/*":
        pairs = ["positions: [open, closed]"] + (["normal: open"] if rename.now != "normal" else [])
    inner = ", ".join([*pairs, f"{word}: {value}"])
    top = rename.at.partition("/*")[0] if "/" in rename.at else ""
    return f"{HEADS[rename.where]}" + (f"{top}: {{x: {{{inner}}}}}\n" if top else f"x: {{{inner}}}\n")


def kind_of(rename: Rename) -> FileKind:
    return FileKind.JOB if rename.where == "step" else FileKind(rename.where)


@pytest.mark.parametrize("rename", KEYS, ids=["-".join(rename) for rename in KEYS])
def test_an_old_key_is_told_and_read_as_the_new_one(rename: Rename) -> None:
    old, new = (load_text(file_with(rename, word), "x.yaml") for word in (rename.was, rename.now))
    assert old.root is not None
    assert new.root is not None
    assert review(new, kind_of(rename)).faults == []
    told = review(old, kind_of(rename))
    assert [fault.message for fault in told.faults] == [f"'{rename.was}' is now called '{rename.now}'"]
    assert told.faults[0].span.cut(file_with(rename, rename.was)) == rename.was
    assert told.root is not None
    assert told.root.plain() == new.root.plain()


def test_no_old_word_is_in_use_and_every_new_one_is() -> None:
    words = document("words.schema.json")["$defs"]
    for where, at, was, now in RENAMES:
        match where:
            case "verb":
                known: Any = {*VERBS}
                assert was not in OTHER_WORDS
            case "file":
                known = {*FileKind}
            case "check":
                known = own_checks()
            case "step":
                known = words["step-keys"]["properties"]
            case _:
                known = keys_at(where, at)
        assert now in known, now
        assert was not in known, was
    assert len(set(RENAMES)) == len(RENAMES)


def keys_at(where: str, at: str) -> set[str]:
    schema = document(f"{where}.schema.json")
    for name in at.split("/") if at else ():
        schema = schema["additionalProperties"] if name == "*" else schema["properties"][name]
        if "$ref" in schema:
            schema = document(f"{where}.schema.json")["$defs"][schema["$ref"].rpartition("/")[2]]
    return set(schema["properties"])


def test_a_word_is_old_only_in_its_place() -> None:
    assert new_name("machine", "angle", ("fasteners", "nut")) == "wrench-angle"
    assert new_name("machine", "angle", ("parts", "nut")) is None
    assert new_name("machine", "behind", ()) == "access-after"
    assert new_name("step", "angle") is None
    assert new_name("check", "Unproved") == "no-final-test"


OLD: dict[str, str | bytes | None] = {
    "pump/machine.yaml": (
        "machine: Bench pump\ncontrols:\n  tap: {positions: [open, closed], rest: open}\n"
        "parts:\n  lid: {}\nfasteners:\n  screws: {kind: screw, count: 4, holds: lid, by-hand: until they stop}\n"
    ),
    "pump/aids.yaml": "stand: {bears: 60 kg}\n",
    "pump/blocks/open.yaml": "block: Open\nleaves: [screws, lid]\nsteps:\n  - remove: screws\n  - remove: lid\n",
    "pump/jobs/look.yaml": (
        "job: Look\nsteps:\n  - place: stand\n  - name: start\n    do: open\n"
        "  - reverse: open\n    accept: {unproved: seen}\n  - clear: stand\n"
        "  - check: tap\n    limit: open\n    otherwise:\n      - set: tap\n        to: open\n"
        "      - again: start\naccept: {old-part: none}\n"
    ),
}  # fmt: skip


def test_an_old_guide_is_told_word_for_word_and_nothing_else(write_guide: Write, putback: Putback) -> None:
    write_guide(OLD)
    found = json.loads(putback("lint", "--format", "json", "pump").out)["findings"]
    told = [(finding["path"], finding["message"]) for finding in found]
    assert told == [
        ("pump/aids.yaml", "'aids.yaml' is now called 'equipment.yaml'"),
        ("pump/aids.yaml", "'bears' is now called 'rated-load'"),
        ("pump/blocks/open.yaml", "'leaves' is now called 'ends-with'"),
        ("pump/jobs/look.yaml", "'accept' is now called 'waive'"),
        ("pump/jobs/look.yaml", "'unproved' is now called 'no-final-test'"),
        ("pump/jobs/look.yaml", "'clear' is now called 'take-away'"),
        ("pump/jobs/look.yaml", "'again' is now called 'back-to'"),
        ("pump/jobs/look.yaml", "'accept' is now called 'waive'"),
        ("pump/jobs/look.yaml", "'old-part' is now called 'single-use-reused'"),
        ("pump/machine.yaml", "'rest' is now called 'normal'"),
        ("pump/machine.yaml", "'holds' is now called 'secures'"),
    ]


def test_an_old_check_is_told_and_still_waives(write_guide: Write, putback: Putback) -> None:
    write_guide(
        {
            "pump/machine.yaml": (
                "machine: Bench pump\nparts:\n  lid: {}\n"
                "fasteners:\n  screws: {kind: screw, count: 4, secures: lid, by-hand: until they stop}\n"
            ),
            "pump/jobs/look.yaml": (
                "job: Look\nwaive: {unproved: it is looked at}\nsteps:\n  - remove: screws\n  - install: screws\n"
            ),
        }
    )
    found = json.loads(putback("lint", "--format", "json", "pump").out)["findings"]
    assert [(finding["check"], finding["message"]) for finding in found] == [
        ("bad-waiver", "'unproved' is now called 'no-final-test'")
    ]


IN_LISTS = [(rename.was, rename.now) for rename in RENAMES if rename.where == "verb" and rename.was != "again"]


@pytest.mark.parametrize(("was", "now"), IN_LISTS)
def test_an_old_verb_in_a_list_of_verbs(was: str, now: str) -> None:
    text = f"pinch: {{signal-at-least: warning, verbs: [remove, {was}]}}\n"
    told = review(load_text(text, "hazards.yaml"), FileKind.HAZARDS)
    assert [(fault.message, fault.span.cut(text)) for fault in told.faults] == [(f"'{was}' is now called '{now}'", was)]
    assert told.root is not None
    needs = f"machine: x\nneeds: {{{was}: {{tap: open}}}}\n"
    assert [fault.message for fault in review(load_text(needs, "machine.yaml"), FileKind.MACHINE).faults] == [
        f"'{was}' is now called '{now}'"
    ]


def test_counterclockwise_is_understood(write_guide: Write, putback: Putback) -> None:
    write_guide(
        {
            "pump/machine.yaml": "machine: Bench pump\nparts:\n  impeller: {rotation: counterclockwise}\n",
            "pump/jobs/look.yaml": (
                "job: Look\nsteps:\n  - remove: impeller\n  - install: impeller\n    turn: counterclockwise\n"
                "  - turn: impeller\n    way: anticlockwise\n    until: it stops\n"
                "  - check: impeller\n    limit: turns freely\n    otherwise: [{stop: Ask a workshop.}]\n"
            ),
        }
    )
    assert json.loads(putback("lint", "--format", "json", "pump").out)["findings"] == []
