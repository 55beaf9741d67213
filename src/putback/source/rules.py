"""Which keys and verbs the files of one kind may have, for whoever says what is wrong with one."""

from __future__ import annotations

from collections.abc import Collection, Iterable
from typing import Any

from putback.source.quoting import quoted
from putback.source.tree import Mapping


class Rules:
    """What the schemas know of a kind of file."""

    def __init__(self, kind: str, schema: dict[str, Any], words: dict[str, Any]) -> None:
        """Take the kind and its schema, and the file of words that it refers to."""
        self.kind = kind
        self.has_steps = "steps" in schema.get("properties", {})
        definitions = words["$defs"]
        self.verbs: list[str] = definitions["verb"]["enum"]
        self.common: set[str] = set(definitions["step-keys"]["properties"])
        self.keys: dict[str, list[str]] = {
            verb: list(definitions[verb]["properties"]) for verb in (*self.verbs, "back-to")
        }
        self.as_key = {
            key: definitions[value["$ref"].rpartition("/")[2]].get("enum", ())
            for verb in self.verbs
            for key, value in definitions[verb]["properties"].items()
            if key in self.keys and key not in self.common and key != verb
        }
        """Verbs whose word is a key beside another verb, each with the values that it has there."""
        self.everywhere = {key for keys in self.keys.values() for key in keys}

    def verbs_of(self, step: Mapping) -> list[str]:
        """Return the verbs of a step; the word of one may be a key beside another, as `note` is beside all."""
        found = [key for key in step.entries if key in self.keys]
        own = [
            verb
            for verb in found
            if all(verb == other or verb not in self.keys[other] for other in found)
            and (len(found) == 1 or step.entries[verb].value.plain() not in self.as_key.get(verb, ()))
        ]
        return own or found


_VESSEL = (
    "delete it, and put down what the fluid runs into in a step before this one: 'place: NAME', from equipment.yaml"
)
_ELSEWHERE = {
    ("fill", "with"): "the oil or coolant to use is the 'grade' of the fluid in machine.yaml",
    ("drain", "into"): _VESSEL,
    ("drain", "in"): _VESSEL,
    ("drain", "to"): _VESSEL,
}
"""Where what a key says belongs, when it is a key of other verbs or of none."""


def is_elsewhere(verb: str, key: str) -> bool:
    """Tell whether it is known where belongs what a key says beside a verb."""
    return (verb, key) in _ELSEWHERE


def homes_of(verb: str, key: str, homes: Iterable[str], known: Collection[str]) -> str:
    """Return what to do with a key that goes with other verbs."""
    listed = f"it goes with {quoted(homes)}; the keys of '{verb}' are {', '.join(known)}"
    return _ELSEWHERE.get((verb, key), listed)
