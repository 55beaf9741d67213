"""Values that fit the schemas: drawn from the schemas themselves, so that a new key is tried on the day it comes."""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from functools import cache
from random import Random
from typing import Any

from putback.source.schema import FileKind, document
from tests.fuzz import vocabulary as v

_WORDS = "words.schema.json"


@cache
def root(kind: FileKind) -> dict[str, Any]:
    """Return the schema of a kind of file."""
    return document(f"{kind}.schema.json")


def _followed(schema: dict[str, Any], home: dict[str, Any]) -> tuple[dict[str, Any], dict[str, Any]]:
    """Return what a reference leads to, with the document that it stands in."""
    while "$ref" in schema and set(schema) <= {"$ref", "description", "default", "examples"}:
        file, _, pointer = schema["$ref"].partition("#/$defs/")
        home = document(file) if file else home
        schema = home["$defs"][pointer]
    return schema, home


HOW = ("open", "closed", "on", "off", "loose", "tight", "connected", "full", "empty", "placed", "away")
"""How a thing can have to be: the words of `needs`."""
PAIRS = ("needs", "can-start", "results-in", "while", "safe-when", "keeps", "count", "places", "takes", "with", "in")
"""Keys that hold a mapping whose names are those of things, options, places or of what a block takes."""
VERBS: tuple[str, ...] = tuple(document(_WORDS)["$defs"]["verb"]["enum"])
STEP_KEYS: tuple[str, ...] = tuple(document(_WORDS)["$defs"]["step-keys"]["properties"])


def _keys(schema: Any) -> Iterator[str]:
    if isinstance(schema, dict):
        properties = schema.get("properties")
        yield from properties if isinstance(properties, dict) else ()
    inner = schema.values() if isinstance(schema, dict) else schema if isinstance(schema, list) else ()
    for each in inner:
        yield from _keys(each)


EVERY_KEY: tuple[str, ...] = tuple(
    sorted({key for schema in (*map(root, FileKind), document(_WORDS)) for key in _keys(schema)})
)
"""Every key of every kind of file, verbs included."""


class Shapes:
    """Draws values."""

    def __init__(self, rng: Random, odd: float = 0.0) -> None:
        """Take the source of chance, and how often a value is an odd one of the right type."""
        self.rng = rng
        self.odd = odd

    def value(self, schema: dict[str, Any], home: dict[str, Any], key: str = "", depth: int = 0) -> Any:
        """Return a value that a schema takes, most of the time."""
        title = schema["$ref"].rpartition("/")[2] if "$ref" in schema else ""
        schema, home = _followed(schema, home)
        if title == "step" or title == "otherwise" or title == "steps":
            return self.step(depth) if title == "step" else self.steps(depth, otherwise=title == "otherwise")
        if title == "when":
            return self.when()
        if "enum" in schema:
            return self.rng.choice(schema["enum"])
        kind = schema.get("type", "object" if "properties" in schema else "string")
        if isinstance(kind, list):
            kind = self.rng.choice([one for one in kind if one != "number"] or kind)
        match kind:
            case "object":
                return self.mapping(schema, home, key, depth)
            case "array":
                if key in ("layout", "order"):
                    return self.word(key)
                most = schema.get("maxItems", 3)
                least = max(schema.get("minItems", 0), 1)
                items = schema.get("items", {"type": "string"})
                return [
                    self.value(items, home, key, depth + 1) for _ in range(self.rng.randint(least, max(least, most)))
                ]
            case "boolean":
                return self.rng.random() < 0.7
            case "integer" | "number":
                return self.rng.choice(v.TEXTS.get(key, (1, 2, 3, 12)))
            case _:
                return self.word(key, new=title == "new-name")

    def word(self, key: str, *, new: bool = False) -> Any:
        """Return a text for a key: mostly a good one."""
        if self.odd and not new and self.rng.random() < self.odd:
            return self.rng.choice(v.ODD_QUANTITIES if key in v.QUANTITIES else v.ODD_TEXTS)
        for pool in (v.QUANTITIES, v.NAMES, v.TEXTS):
            if key in pool:
                return deepcopy(self.rng.choice(pool[key]))
        return self.rng.choice(v.EVERY_NAME) if new else self.rng.choice(("a short text", "to the stop", "lid"))

    def mapping(self, schema: dict[str, Any], home: dict[str, Any], key: str, depth: int) -> dict[str, Any]:
        """Return a mapping with what it must have, and a few keys more."""
        properties, needed = schema.get("properties", {}), schema.get("required", [])
        found: dict[str, Any] = {}
        for name, inner in properties.items():
            if name in needed or self.rng.random() < 2.5 / max(len(properties), 4):
                found[name] = self.value(inner, home, name, depth + 1)
        others = schema.get("additionalProperties")
        if isinstance(others, dict) and not properties:
            for _ in range(self.rng.randint(1, 2)):
                if key in PAIRS:
                    name, value = self.pair(key)
                    found[name] = value
                else:
                    found[self.rng.choice(v.EVERY_NAME)] = self.value(others, home, key, depth + 1)
        for one, *rest in (("torque", "by-hand", "no-torque"), ("by-hand", "no-torque")):
            if one in found:
                for other in rest:
                    found.pop(other, None)
        return found

    def pair(self, key: str) -> tuple[str, Any]:
        """Return a name and a value of a mapping whose names mean something."""
        rng = self.rng
        match key:
            case "count":
                return rng.choice(v.OPTIONS), {
                    choice: rng.choice((1, 2, 4)) for choice in v.CHOICES[: rng.randint(1, 3)]
                }
            case "places":
                return rng.choice(v.PLACES), rng.choice((2, 3, ["left", "right"]))
            case "takes":
                return rng.choice(v.TAKEN), rng.choice(v.NAMES["takes"])
            case "with":
                return rng.choice(v.TAKEN), rng.choice(v.EVERY_NAME)
            case "in":
                return rng.choice(v.FASTENERS), rng.choice((*v.SPOTS, "front"))
            case _:
                return rng.choice(v.CONTROLS + v.EQUIPMENT + v.PARTS + v.FASTENERS + v.LINES + v.FLUIDS), rng.choice(
                    HOW
                )

    def when(self) -> Any:
        """Return a condition."""

        def case() -> dict[str, Any]:
            options = self.rng.sample(v.OPTIONS, self.rng.randint(1, 2))
            return {name: self.rng.choice((self.rng.choice(v.CHOICES), list(v.CHOICES[:2]))) for name in options}

        return case() if self.rng.random() < 0.8 else [case(), case()]

    def steps(self, depth: int, *, otherwise: bool = False) -> list[dict[str, Any]]:
        """Return a few steps; under `otherwise` some that stop or go back."""
        steps = [self.step(depth + 1) for _ in range(self.rng.randint(1, 2 if depth > 2 else 3))]
        if otherwise and self.rng.random() < 0.6:
            end: list[dict[str, Any]] = [{"stop": "take it to a workshop"}, {"back-to": self.rng.choice(v.STEPS)}]
            steps.append(self.rng.choice(end))
        return steps

    def step(self, depth: int, verb: str | None = None) -> dict[str, Any]:
        """Return a step."""
        words = document(_WORDS)
        verb = verb or self.rng.choice(VERBS)
        step: dict[str, Any] = {
            verb: self.value(words["$defs"]["step"]["properties"].get(verb, {"type": "string"}), words, verb)
        }
        own = words["$defs"][verb]
        for key, schema in own["properties"].items():
            if key == verb:
                continue
            chance = 1.0 if key in own.get("required", []) else 0.25 if schema is not True else 0.04
            if key in ("otherwise", "outcomes") and (depth > 4 or "otherwise" in step):
                continue
            if self.rng.random() < chance:
                target = words["$defs"]["step-keys"]["properties"][key] if schema is True else schema
                step[key] = self.value(target, words, key, depth + 1)
        return step
