"""One thing that a schema refuses, and the words for it when it is a value."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any, NamedTuple

from jsonschema import ValidationError

from putback.source.grammar import counted_word
from putback.source.load import Listing, Node, Text
from putback.source.nearest import nearest
from putback.source.phrases import Place, as_name, did_you_mean, no_name, shown, with_colon
from putback.source.quoting import short

_NAME = "^[a-z0-9]+(-[a-z0-9]+)*$"
_SEEN = "[^\\s"
"""How the pattern begins of what must have a character that can be seen."""
_TYPES = {
    "string": "text",
    "number": "a number",
    "integer": "a whole number",
    "boolean": "true or false",
    "array": "a list",
    "object": "a mapping",
    "null": "nothing",
}
_TRUTHS = {**dict.fromkeys(("yes", "on", "y"), "true"), **dict.fromkeys(("no", "off", "n"), "false")}
_LONG_CHOICE = 8
"""Values; a longer choice is named, not listed, in a message."""


class Refused(NamedTuple):
    """What one keyword of a schema refuses."""

    place: Place
    """Where."""
    keyword: str
    """The keyword."""
    wanted: Any
    """The value of the keyword."""
    schema: dict[str, Any]
    """The schema that the keyword stands in."""
    value: Any
    """What was found."""
    of_name: bool
    """Whether a key of the mapping at the place is refused, as a name."""

    @classmethod
    def of(cls, error: ValidationError) -> Refused:
        """Take what is needed out of an error of the validator."""
        schema = error.schema if isinstance(error.schema, dict) else {}
        keyword = str(error.validator)
        of_name = "propertyNames" in error.absolute_schema_path
        return cls(tuple(error.absolute_path), keyword, error.validator_value, schema, error.instance, of_name)


class Repair(NamedTuple):
    """What a word in a file was meant for, where there can be no doubt."""

    place: Place
    """Where: a value, or the mapping that the key is in."""
    key: str | None
    """The key; None for a value."""
    word: str
    """What was meant."""
    old: bool = False
    """Whether it is a word that has another name now: what stands below is looked at as well."""


class ValueWords(NamedTuple):
    """What is said of a value that is refused."""

    message: str
    """What was found and what was expected."""
    advice: str | None
    """What would be right."""
    meant: str | None = None
    """The word that it is most likely a slip for."""


def hint_for_none(fault: Refused) -> str:
    """Return what would be right where nothing was written."""
    wanted = expected(fault)
    none = "; write {} if there is nothing to say" if wanted.startswith("a mapping with facts") else ""
    return f"it must be {wanted}{none}"


def words_for(fault: Refused, node: Node, thing: str, verbs: Collection[str]) -> ValueWords:
    """Return what is said of a value; `thing` is what stands there, `verbs` are those of a step, when it is one."""
    wanted = expected(fault)
    written = node.value if isinstance(node, Text) else ""
    message = f"{thing} must be {wanted}, not {shown(node)}"
    advice: str | None = None
    match fault.keyword:
        case "type" if isinstance(node, Text) and verbs:
            advice = with_colon(written, verbs)
        case "type" if isinstance(node, Text) and wanted == _TYPES["boolean"]:
            if written in ("true", "false"):
                return ValueWords(message, "write it without quotes")
            likely = _TRUTHS.get(written.casefold()) or nearest(written.casefold(), ("true", "false"))
            return ValueWords(message + did_you_mean(likely), None, likely)
        case "type" if isinstance(fault.value, bool):
            advice = f"if it is text, put it in quotes: '{written}'"
        case "type" if isinstance(node, Text) and wanted in ("a list of names", "a list of text"):
            advice = f"write it as a list: [{short(written)}]"
        case "enum" if isinstance(fault.value, str):
            likely = nearest(written, fault.wanted)
            return ValueWords(message + did_you_mean(likely), None, likely)
        case "pattern" if fault.wanted == _NAME:
            return ValueWords(no_name(written), None, as_name(written) or None)
        case "pattern" if str(fault.wanted).startswith(_SEEN):
            message, advice = f"{thing} is {'blank' if written else 'empty'}", f"it must be {wanted}"
        case "pattern" if fault.place == ("language",) and "_" in written:
            advice = f"write it with a hyphen: '{short(written.replace('_', '-'))}'"
        case "minItems" | "minProperties" | "minLength" if not fault.value:
            message, advice = f"{thing} is empty", f"it must be {wanted}"
        case "maxItems" if isinstance(node, Listing) and fault.wanted > 9:
            message = f"{thing} must have at most {fault.wanted} items, but has {len(node.items)}"
        case "minItems" | "maxItems" if isinstance(node, Listing):
            count = len(node.items)
            message = f"{thing} must be {wanted}, but has {count} item{'s' if count > 1 else ''}"
        case "maximum":
            message = f"{thing} must be at most {fault.wanted}, not {shown(node)}"
        case "uniqueItems":
            message = f"{thing} has the same value twice"
        case _:
            pass
    return ValueWords(message, advice)


def expected(fault: Refused) -> str:
    """Return what a schema expects at a place."""
    if fault.keyword == "enum" and len(fault.wanted) <= _LONG_CHOICE:
        return f"one of {', '.join(fault.wanted)}" if len(fault.wanted) > 1 else f"'{fault.wanted[0]}'"
    types = fault.schema.get("type", [])
    names = [_TYPES[name] for name in ([types] if isinstance(types, str) else types)]
    return fault.schema.get("title") or " or ".join(names) or "something else"


def bad_positions(fault: Refused, holder: Node) -> list[int]:
    """Return which items of a list of positions are no names, in order: the first tells it for all.

    So it is with names that stand in a list of lists without brackets of their own.
    """
    if isinstance(holder, Listing) and isinstance(fault.value, str) and expected(fault).startswith("a list of names"):
        return [n for n, item in enumerate(holder.items) if isinstance(item, Text)]
    if len(fault.place) < 2 or fault.place[-2] not in ("positions", "at") or not isinstance(holder, Listing):
        return []
    return [n for n, item in enumerate(holder.items) if isinstance(item, Text) and as_name(item.value) != item.value]


def in_brackets(holder: Node, advice: str | None) -> str | None:
    """Return the hint for names that stand in a list of lists: all of them are one list."""
    names = [item.value for item in holder.items if isinstance(item, Text)] if isinstance(holder, Listing) else []
    if len(names) > 1 and all(as_name(name) == name for name in names):
        return (
            f"a list inside a list needs its own brackets: [[{', '.join(names[:2])}{', …' if len(names) > 2 else ''}]]"
        )
    return advice


def also_in_list(others: int) -> str:
    """Return what is said of other items of a list that are the same: `; 2 others in this list as well`."""
    return f"; {counted_word(others, 'other')} in this list as well" if others > 0 else ""
