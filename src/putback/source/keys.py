"""What the keys of the language mean, as the schemas say it: for the reference, and for `putback explain`."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from typing import Any, NamedTuple

from putback.source.late import Late
from putback.source.schema import document

Schema = dict[str, Any]
"""A schema, or a part of one."""

WORDS = "words"
"""The schema of what several kinds of files share."""

THINGS = ("control", "part", "fastener", "line", "fluid", "setting")
"""What stands in the machine file and has the keys of every thing."""


class Key(NamedTuple):
    """One key of one kind of mapping."""

    name: str
    """The key as it is written."""
    takes: str
    """What its value must be, as messages say it: `a quantity with its unit`."""
    choices: tuple[str, ...]
    """The words that it takes, when there are only some."""
    about: str
    """What it means, in sentences; code between back-quotes."""
    examples: tuple[Any, ...]
    """Values that it may have."""
    default: str
    """What holds without it, when that is a value; empty otherwise."""
    required: bool
    """Whether it must be there."""


class Owner(NamedTuple):
    """A kind of mapping that has keys."""

    file: str
    """The stem of the schema that describes it."""
    path: tuple[str, ...]
    """Where in the schema."""
    called: str
    """What it is called in the index; without a full stop, at which the search would cut it."""


def _at(file: str, path: str, called: str) -> Owner:
    return Owner(file, tuple(path.split("/")) if path else (), called)


_OWNERS = {
    "guide": _at("guide", "", "the guide file"),
    "revision": _at("guide", "properties/revisions/items", "an edition"),
    "machine": _at("machine", "", "the machine file"),
    "stack": _at("machine", "properties/stacks/items", "a stack"),
    "kit": _at("machine", "$defs/kit", "a kit"),
    **{kind: _at("machine", f"$defs/{kind}", f"a {kind}") for kind in THINGS},
    "wear": _at("machine", "$defs/part/properties/wear", "wear"),
    "level": _at("machine", "$defs/fluid/properties/level", "the level of a fluid"),
    "size": _at("machine", "$defs/part/properties/size", "the size of a part"),
    "job": _at("job", "", "a job"),
    "interval": _at("job", "properties/interval/else", "an interval"),
    "first": _at("job", "properties/interval/else/properties/first", "the first interval"),
    "supplies": _at("job", "properties/supplies", "a list of supplies"),
    "cost": _at("job", "properties/cost", "the cost"),
    "follow-up": _at("job", "properties/follow-ups/items", "a follow-up"),
    "block": _at("block", "", "a block"),
    "section": _at(WORDS, "$defs/sections/items", "a section"),
    "step": _at(WORDS, "$defs/step-keys", "every step"),
    "figure": _at(WORDS, "$defs/figure", "a picture"),
    "crop": _at(WORDS, "$defs/figure/properties/crop", "a crop"),
    "callout": _at(WORDS, "$defs/callout", "a callout"),
    "outcome": _at(WORDS, "$defs/outcomes/items", "an outcome"),
    "message": _at("cautions", "additionalProperties", "a safety message"),
    "hazard": _at("hazards", "additionalProperties", "a hazard"),
    "tool": _at("tools", "additionalProperties", "a tool"),
    "consumable": _at("consumables", "additionalProperties", "a consumable"),
    "equipment": _at("equipment", "additionalProperties", "equipment"),
    "symptom": _at("symptoms", "additionalProperties", "a sign"),
    "cause": _at("symptoms", "additionalProperties/properties/causes/items", "a cause"),
}


@cache
def owners() -> dict[str, Owner]:
    """Return every kind of mapping that has keys of its own, by a short name; of a step by its verb."""
    verbs = (*document(f"{WORDS}.schema.json")["$defs"]["verb"]["enum"], "back-to")
    return _OWNERS | {verb: Owner(WORDS, ("$defs", verb), verb) for verb in verbs}


@cache
def keys_of(owner: str) -> dict[str, Key]:
    """Return the keys of one kind of mapping, in the order of its schema.

    Of a verb, those that stand beside it and not in every step. `thing` has the keys of every thing of the machine.
    """
    if owner == "thing":
        common = set.intersection(*(set(keys_of(kind)) for kind in THINGS))
        return {name: key for name, key in keys_of("part").items() if name in common}
    file, path, _ = owners()[owner]
    schema: Schema = document(f"{file}.schema.json")
    for step in path:
        schema = schema[step]
    needed = schema.get("required", ())
    return {
        name: _key(name, _resolved(inner, file), required=name in needed)
        for name, inner in schema["properties"].items()
        if inner is not True  # said elsewhere: the verb, and what every step may have
    }


def about_verb(verb: str) -> Key:
    """Return what the value of a verb means, as a key of a step."""
    words = document(f"{WORDS}.schema.json")["$defs"]
    if verb == "back-to":
        return keys_of(verb)[verb]
    value = words["step"]["properties"].get(verb) or words["step-keys"]["properties"][verb]
    return _key(verb, _resolved(value, WORDS), required=False)


def everywhere(name: str) -> Iterator[tuple[Owner, Key]]:
    """Yield each kind of mapping that has a key of some name, with what the key means there."""
    for owner, said in owners().items():
        found = keys_of(owner).get(name)
        if found is not None and name != owner:
            yield said, found


def _resolved(schema: Schema, file: str) -> Schema:
    """Return a schema with what its references lead to, the nearest words first."""
    found = dict(schema)
    while "$ref" in found:
        target, _, name = found.pop("$ref").partition("#/$defs/")
        file = target.removesuffix(".schema.json") or file
        found = document(f"{file}.schema.json")["$defs"][name] | found
    return found


def _key(name: str, schema: Schema, *, required: bool) -> Key:
    default = schema.get("default", "")
    return Key(
        name,
        schema["title"],
        tuple(schema.get("enum", ())),
        schema.get("description", ""),
        tuple(schema.get("examples", ())),
        str(default),
        required,
    )


# How a value is written

_PLAIN = Late(r"[^\W_][^:#,\[\]{}\"]*(?:[:#](?! )[^:#,\[\]{}\"]*)*")
_OTHER = Late(r"[-+.\d]+|0[ox].*|true|false|null", re.IGNORECASE)


def written(value: Any) -> str:
    """Return a value as a line of YAML has it."""
    match value:
        case bool():
            return str(value).lower()
        case dict():
            return "{" + ", ".join(f"{name}: {written(inner)}" for name, inner in value.items()) + "}"
        case list():
            return "[" + ", ".join(map(written, value)) + "]"
        case str() if not _PLAIN.fullmatch(value) or _OTHER.fullmatch(value) or value != value.strip():
            return f'"{value}"'
        case _:
            return str(value)
