"""A guide that uses every key of the schemas, with a job that is made from them: a new key is in it, or is missed."""

from __future__ import annotations

import json
from collections.abc import Iterator
from itertools import count
from pathlib import Path
from typing import Any, TypeAlias

from ruamel.yaml import YAML

from tests.print.scalars import CHOSEN, NAMED

HERE = Path(__file__).parent / "every_key"
SCHEMAS = Path(__file__).parents[2] / "schema"

Tree: TypeAlias = Any
"""JSON, as it comes."""

FILES = {
    "guide": "guide.yaml",
    "machine": "machine.yaml",
    "equipment/*": "equipment.yaml",
    "cautions/*": "cautions.yaml",
    "consumables/*": "consumables.yaml",
    "hazards/*": "hazards.yaml",
    "tools/*": "tools.yaml",
    "symptoms/*": "symptoms.yaml",
    "job": "jobs/whole.yaml",
    "block": "blocks/round.yaml",
}
"""The files of the guide that keys are looked for in, by the place of the whole."""

VALUES = {
    "remove": "lid", "install": "lid", "replace": "lid", "loosen": "keys", "tighten": "keys", "disconnect": "hose",
    "connect": "hose", "drain": "oil", "fill": "oil", "set": "brake", "place": "trestle", "take-away": "trestle",
    "mark": "lid", "align": "lid",
    "adjust": "play", "apply": "paste", "clean": "frame", "inspect": "frame", "measure": "frame",
    "check": "frame", "run": "engine", "lift": "lid", "wait": "{} min", "do": "plain", "reverse": "plain",
    "caution": "fingers", "stop": "stop for {}", "back-to": "first-look", "note": "remark {}", "turn": "lid",
    "each": "station",
    "act": "do {} of it",
}  # fmt: skip
"""What each verb works on."""

NAMES = {
    "set/to": "freed", "apply/to": "lid", "clean/with": "paste", "lift/with": "trestle", "tool": "probe",
    "place/in": "plug",
    "disconnect/at": "frame", "connect/at": "frame", "install/turn": "clockwise", "lift/grip": "fair",
    "act/on": "frame", "turn/way": "clockwise", "measure/judge": "largest",
    "install/without": "nozzle-ring", "proves": "hose",
}  # fmt: skip
"""What stands behind keys that take a name; `at` of a piece is a position, which the lid has none of."""
_UNITS = {
    "torque": "N·m", "volume": "ml", "time": "min", "run/for": "min", "reach": "mm", "height": "mm", "to-reach": "mm",
    "to-height": "mm", "twist": "°", "width": "mm", "measure/limit": "mm", "check/limit": "mm", "turn/by": "°",
    "difference": "mm", "adjust/limit": "mm",
}  # fmt: skip
"""The units behind keys that take a quantity."""
LEFT = frozenset({"count", "at", "name", "waive", "when", "otherwise", "outcomes", "text"})
"""Keys that steps of this job have only where the code below says so."""


def schema(name: str) -> Tree:
    """Return a schema."""
    return json.loads((SCHEMAS / f"{name}.schema.json").read_text(encoding="utf-8"))


_WORDS = schema("words")["$defs"]


def verbs() -> list[str]:
    """Return the verbs that the schema has: those of a step, a note alone, and `back-to`."""
    return [*_WORDS["step"]["properties"], "note", "back-to"]


def keys_of(verb: str) -> set[str]:
    """Return the keys that a step with a verb may have."""
    return set(_WORDS[verb]["properties"]) - {verb}


def every_verb() -> str:
    """Return a job with two steps for each verb: all its keys with a sentence of ours, and the author's own."""
    number = count(201)
    steps: list[dict[str, Tree]] = [{"inspect": "frame", "for": "a first look", "name": "first-look"}]
    for verb in [each for each in verbs() if each != "back-to"]:
        facts = _step(verb, number)
        if "otherwise" in keys_of(verb):
            facts["otherwise"] = [{"note": f"branch {next(number)}"}]
        steps += [facts, {**_step(verb, number), "text": f"Own words {next(number)}."}]
    steps.append({"check": "frame", "otherwise": [_step("back-to", number)]})
    outcomes = [{"found": found, "steps": [{"note": f"branch {next(number)}"}]} for found in ("> 902 mm", "< 901 mm")]
    steps += [
        {"measure": "its stroke", "limit": "901 mm .. 902 mm", "outcomes": outcomes},
        {"tighten": "studs", "figure": "press.svg"},
        {
            "remove": "pegs",
            "at": ["left-side"],
            "count": 1,
            "when": {"crank": "long"},
            "waive": {"too-many-loops": "seen"},
        },
        {"note": f"remark {next(number)}", "because": f"reason {next(number)}", "when": [{"crank": "long"}]},
    ]
    job = {"job": "Try every verb", "steps": steps}
    return json.dumps(job, ensure_ascii=False, indent=1)


def _step(verb: str, number: Iterator[int]) -> dict[str, Tree]:
    assert verb in VALUES, f"say in VALUES of {__name__} what '{verb}' works on, so that its words on a page are tried"
    facts: dict[str, Tree] = {verb: VALUES[verb].format(next(number))}
    for key in _WORDS[verb]["properties"]:
        if key != verb and key not in LEFT:
            facts[key] = _value(verb, key, number)
        elif key == "at" and verb in ("disconnect", "connect", "place", "take-away", "run"):
            facts[key] = NAMES.get(f"{verb}/at", f"spot {next(number)}")
    return facts


def _value(verb: str, key: str, number: Iterator[int]) -> Tree:
    """Return a value for a key, with a number that stands nowhere else."""
    if key == "figure":
        alt, caption = f"picture {next(number)}", f"caption {next(number)}"
        return {
            "image": "press.svg", "alt": alt, "caption": caption, "width": "35 mm",
            "crop": {"from": "0 % 5 %", "to": "100 % 100 %"},
            "callouts": [
                {
                    "thing": "frame", "text": f"words {next(number)}", "at": ["20 % 20 %", "30 % 40 %"],
                    "circle": "4 %", "arrow": "60 % 20 %", "number": 2, "number-at": "80 % 80 %",
                },
                {"text": f"words {next(number)}", "at": "50 % 90 %"},
            ],
        }  # fmt: skip
    if key in ("with", "steps") and verb in ("do", "reverse", "each"):
        return {"what": "frame"} if key == "with" else [{"inspect": "rollers", "for": f"a dent {next(number)}"}]
    if key == "readings":
        return [f"reading {next(number)}", f"reading {next(number)}"]
    for name in (f"{verb}/{key}", key):
        if name in NAMES:
            return NAMES[name]
        if name in _UNITS:
            return f"{next(number)} {_UNITS[name]}"
    kind = _WORDS[verb if verb in _WORDS else "step"]["properties"][key]
    kind = _WORDS["step-keys"]["properties"][key] if kind is True else kind
    match kind.get("$ref", "").rpartition("/")[2]:
        case "text" | "text-or-texts":
            return f"{key} {next(number)}"
        case "truth":
            return True
        case "count":
            return 3
    raise AssertionError(f"say in NAMES or _UNITS of {__name__} what '{key}' of '{verb}' may hold: {kind}")


def write(folder: Path) -> Path:
    """Write the guide into a folder, with an empty library above it, and return its own folder."""
    root = folder / "press"
    for file in HERE.rglob("*"):
        if file.is_file():
            copy = root / file.relative_to(HERE)
            copy.parent.mkdir(parents=True, exist_ok=True)
            copy.write_bytes(file.read_bytes())
    (root / "jobs" / "every-verb.yaml").write_text(every_verb(), encoding="utf-8")
    (folder / "shared").mkdir()
    (folder / "shared" / "tools.yaml").write_text("{}\n", encoding="utf-8")
    return root


def keys_in_schema(node: Tree, place: str) -> Iterator[str]:
    """Yield the place of every key that a schema knows, without those of steps."""
    reference = node.get("$ref")
    if reference is not None:
        if reference.endswith(("/steps", "/waive", "/when")):
            return
        name = reference.rpartition("/")[2]
        found = _WORDS.get(name) or _DEFS.get((place.split("/")[0], name))
        yield from keys_in_schema(found, place)
    for key, inner in node.get("properties", {}).items():
        yield f"{place}/{key}"
        yield from keys_in_schema(inner, f"{place}/{key}")
    if isinstance(node.get("items"), dict):
        yield from keys_in_schema(node["items"], f"{place}/*")
    if isinstance(node.get("additionalProperties"), dict):
        yield from keys_in_schema(node["additionalProperties"], f"{place}/*")


_DEFS = {
    (name, key): value
    for name in (
        "guide",
        "machine",
        "job",
        "block",
        "equipment",
        "cautions",
        "consumables",
        "hazards",
        "tools",
        "symptoms",
    )
    for key, value in schema(name).get("$defs", {}).items()
}


def all_keys() -> set[str]:
    """Return the places of all keys of all schemas, without those of steps."""
    names = {place.removesuffix("/*") for place in FILES}
    return {place for name in sorted(names) for place in keys_in_schema(schema(name), name)}


def used_keys() -> set[str]:
    """Return the places of the keys that the guide uses."""
    reader = YAML(typ="safe", pure=True)
    found: set[str] = set()
    for place, file in FILES.items():
        tree = reader.load((HERE / file).read_text(encoding="utf-8"))
        found.update(_keys_in(tree, place.removesuffix("/*")))
    plain = {"block": (HERE / "blocks" / "plain.yaml").read_text(encoding="utf-8"), "job": every_verb()}
    return found | {f"{place}/steps" for place, text in plain.items() if "steps" in reader.load(text)}


def _keys_in(tree: Tree, place: str) -> Iterator[str]:
    if isinstance(tree, list):
        for item in tree:
            yield from _keys_in(item, f"{place}/*")
    if not isinstance(tree, dict) or place.endswith("/steps/*"):
        return
    chosen = place in NAMED or (
        "/" not in place and place in ("equipment", "cautions", "consumables", "hazards", "tools", "symptoms")
    )
    chosen = chosen or place.endswith(tuple(f"/{name}" for name in CHOSEN))
    for key, value in tree.items():
        here = f"{place}/*" if chosen else f"{place}/{key}"
        if not chosen:
            yield here
        yield from _keys_in(value, here)
