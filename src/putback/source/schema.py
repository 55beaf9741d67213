"""The shape of each kind of file, as `schema/*.schema.json` say it.

A compiled validator accepts a good file in a fraction of a millisecond. Only a file that it refuses is looked
at again, by `refusal`, which costs a hundred times as much and finds words for what is wrong.
"""

from __future__ import annotations

import json
from dataclasses import replace
from enum import StrEnum
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

from putback.source.finding import Finding
from putback.source.load import Loaded
from putback.source.phrases import Place
from putback.source.tree import Listing, Mapping, Node, Pair, Text

if TYPE_CHECKING:
    from jsonschema_rs import Validator

    from putback.source.refusal import Refusal

_WORDS = "words.schema.json"


class FileKind(StrEnum):
    """The kinds of YAML files; each value is the stem of its schema's file name."""

    GUIDE = "guide"
    """guide.yaml"""
    MACHINE = "machine"
    """machine.yaml"""
    JOB = "job"
    """jobs/*.yaml"""
    BLOCK = "block"
    """blocks/*.yaml"""
    CAUTIONS = "cautions"
    """cautions.yaml"""
    TOOLS = "tools"
    """tools.yaml"""
    CONSUMABLES = "consumables"
    """consumables.yaml"""
    HAZARDS = "hazards"
    """hazards.yaml"""
    EQUIPMENT = "equipment"
    """equipment.yaml"""
    SYMPTOMS = "symptoms"
    """symptoms.yaml"""


def shipped(name: str) -> Path:
    """Return a folder that comes with Putback, `schema` or `shared`.

    It lies inside the package when Putback was installed, and beside `src` in a source checkout.
    Raises FileNotFoundError, with the folder's name, when the installation is damaged.
    """
    package = Path(__file__).resolve().parents[1]
    for folder in (package / "_shipped" / name, package.parents[1] / name):
        if folder.is_dir():
            return folder
    raise FileNotFoundError(f"the folder '{name}' that comes with Putback is missing; reinstall Putback")


class Reviewed(NamedTuple):
    """What became of a file that was compared with its schema."""

    faults: list[Finding]
    """Every fault of shape, in the order of the file; all are errors named `wrong-shape`."""
    root: Node | None
    """The tree to build on; with words mended whose meaning is plain. None when something else is wrong."""


def review(loaded: Loaded, kind: FileKind, other_words: dict[str, str] | None = None) -> Reviewed:
    """Compare a file with its schema.

    A file with faults of reading is not looked at: a key that was refused there would only be missed here again.
    `other_words` are words that somebody may write for a verb, each with the verb.
    """
    if loaded.root is None or loaded.faults:
        return Reviewed([], None)
    plain = loaded.root.plain()
    if _compiled(kind).is_valid(plain):
        return Reviewed([], loaded.root)
    faults, repairs = _refusal(kind).explain(loaded.root, plain, loaded.path, other_words or {})
    mended = loaded.root
    # The innermost first: a place is told by the keys as they are written.
    for place, key, word, _ in sorted(repairs, key=lambda repair: -len(repair.place)):
        mended = _mended(mended, place, key, word)
    now = mended.plain()
    if bool(repairs) and _compiled(kind).is_valid(now):
        return Reviewed(faults, mended)
    if any(repair.old for repair in repairs) and now != plain:
        deeper = review(replace(loaded, root=mended), kind, other_words)
        told = {(fault.span, fault.message): fault for fault in (*deeper.faults, *faults)}
        return Reviewed(sorted(told.values(), key=lambda fault: fault.order), deeper.root)
    return Reviewed(faults, None)


def validate(loaded: Loaded, kind: FileKind, other_words: dict[str, str] | None = None) -> list[Finding]:
    """Return every fault of shape in one file; none of a file with faults of reading."""
    return review(loaded, kind, other_words).faults


def _mended(node: Node, place: Place, key: str | None, word: str) -> Node:
    """Return a tree with another word at a place; what stands elsewhere is the same."""
    if isinstance(node, Text):
        return node._replace(value=word)
    if isinstance(node, Listing):
        index = int(place[0])
        items = [_mended(item, place[1:], key, word) if n == index else item for n, item in enumerate(node.items)]
        return Listing(items, node.span)
    entries = {}
    for name, pair in node.entries.items():
        if place and name == place[0]:
            entries[name] = Pair(pair.key, _mended(pair.value, place[1:], key, word))
        elif not place and name == key and word not in node.entries:
            entries[word] = Pair(pair.key._replace(value=word), pair.value)
        else:
            entries[name] = pair
    return Mapping(entries, node.span)


@cache
def document(file: str) -> dict[str, Any]:
    """Return one file of the folder `schema`; never anything from the network."""
    if not file.endswith(".schema.json") or "/" in file:
        raise FileNotFoundError(f"'{file}' is not a file in the folder 'schema'")
    content: dict[str, Any] = json.loads((shipped("schema") / file).read_text(encoding="utf-8"))
    return content


@cache
def _compiled(kind: FileKind) -> Validator:
    return _compile(document(f"{kind}.schema.json"))


def _compile(schema: dict[str, Any]) -> Validator:
    import jsonschema_rs

    def retrieve(uri: str) -> dict[str, Any]:
        return document(uri.removeprefix("json-schema:///"))

    return jsonschema_rs.Draft202012Validator(schema, retriever=retrieve)


@cache
def _refusal(kind: FileKind) -> Refusal:
    from putback.source.refusal import Refusal

    accepts_step = _compile({"$ref": f"{_WORDS}#/$defs/step"}).is_valid
    return Refusal(kind.value, document(f"{kind}.schema.json"), document(_WORDS), _WORDS, accepts_step)
