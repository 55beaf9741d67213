"""Each key of each kind of file with values of the wrong kind, drawn from the schemas: new keys are tried too."""

from __future__ import annotations

import json
from typing import Any, NamedTuple

import pytest

from putback.source.load import load_text
from putback.source.schema import FileKind, document, validate

WORDS = "words.schema.json"
WRONG: tuple[Any, ...] = (None, True, -1.5, 10**20, " ", "a\nb", [], {}, [[None]], {"a": {"b": [{}]}})


class Hole(NamedTuple):
    """A key whose value is put in."""

    kind: FileKind
    path: tuple[str | int, ...]
    """Where the mapping with the key stands."""
    base: str
    """The file around it, as JSON: what the mapping needs is there."""
    key: str


def followed(schema: dict[str, Any]) -> dict[str, Any]:
    """Return what a reference into the words leads to."""
    pointer: str = schema.get("$ref", "")
    return document(WORDS)["$defs"][pointer.rpartition("/")[2]] if pointer.startswith((WORDS, "#/$defs")) else schema


GOOD: dict[str, Any] = {
    "positions": ["a"], "normal": "a", "joins": ["lid"], "signal": "danger", "signal-at-least": "danger", "title": "x",
    "machine": "x", "to": "a", "steps": [{"inspect": "lid"}], "block": "x", "job": "x",
    "sign": "x", "causes": [{"cause": "x", "check": "x", "job": "a"}],
}  # fmt: skip
"""Good values of keys that are required."""


def holes() -> list[Hole]:
    found: list[Hole] = []

    def add(kind: FileKind, base: Any, path: tuple[str | int, ...], schema: dict[str, Any], verb: str = "") -> None:
        holder = base
        for step in path:
            holder = holder[step]
        for key in schema.get("required", []):
            holder.setdefault(key, GOOD[key])
        for key in schema["properties"]:
            if key != verb or key not in ("note",):
                found.append(Hole(kind, path, json.dumps(base), key))

    for kind in FileKind:
        schema = document(f"{kind}.schema.json")
        if "properties" in schema:
            base = {"steps": GOOD["steps"]} if kind in (FileKind.JOB, FileKind.BLOCK) else {}
            add(kind, base, (), schema)
        else:
            add(kind, {"a": {}}, ("a",), schema["additionalProperties"])
    machine = document("machine.schema.json")
    for group in ("control", "part", "fastener", "line", "fluid"):
        add(FileKind.MACHINE, {"machine": "x", f"{group}s": {"a": {}}}, (f"{group}s", "a"), machine["$defs"][group])
    for verb in document(WORDS)["$defs"]["verb"]["enum"]:
        step = {verb: "5 min" if verb == "wait" else "lid"} | (
            {"by": "90°", "way": "clockwise"} if verb == "turn" else {}
        )
        base = {"job": "x", "steps": [step]}
        add(FileKind.JOB, base, ("steps", 0), document(WORDS)["$defs"][verb], verb)
    return found


HOLES = holes()


def filled(hole: Hole, value: Any) -> Any:
    tree = json.loads(hole.base)
    holder = tree
    for step in hole.path:
        holder = holder[step]
    holder[hole.key] = value
    return tree


def test_every_verb_and_every_group_has_its_keys() -> None:
    assert len(HOLES) > 300
    assert {hole.kind for hole in HOLES} == set(FileKind)


@pytest.mark.parametrize("hole", HOLES, ids=lambda hole: f"{hole.kind}-{'-'.join(map(str, hole.path))}-{hole.key}")
def test_a_value_of_the_wrong_kind_is_told_at_its_place(hole: Hole) -> None:
    told = 0
    for value in WRONG:
        text = json.dumps(filled(hole, value), ensure_ascii=False, indent=1)
        start = text.index(f'"{hole.key}": ', text.index('"steps"') if hole.path[:1] == ("steps",) else 0)
        before = text.count("\n", 0, start) + 1
        loaded = load_text(text, "f.yaml")
        findings = validate(loaded, hole.kind)
        for finding in findings:
            assert finding.check == "wrong-shape"
            assert finding.span.line >= before or finding.message.startswith("'torque'"), (value, finding)
            assert finding.span.cut(text), finding
            assert len(finding.message) < 400, finding
        told += bool(findings)
    # Text takes a number and a text of two lines; nothing takes most.
    assert told > len(WRONG) // 2


@pytest.mark.parametrize("value", WRONG, ids=repr)
@pytest.mark.parametrize("kind", list(FileKind))
def test_a_file_that_is_something_else_is_told(kind: FileKind, value: Any) -> None:
    loaded = load_text(json.dumps(value, ensure_ascii=False), "f.yaml")
    findings = loaded.faults or validate(loaded, kind)
    is_empty_library = value == {} and "properties" not in document(f"{kind}.schema.json")
    assert bool(findings) is not is_empty_library
