"""Whole guides to begin with: random ones that mostly make sense, and those that come with Putback."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache
from pathlib import Path
from random import Random
from typing import Any

from putback.checks import all_checks
from putback.source.load import load_text
from putback.source.schema import FileKind, shipped
from putback.testing.examples import BENCH, LIBRARY, parse_example
from tests.fuzz import vocabulary as v
from tests.fuzz.shapes import Shapes, root

Tree = dict[str, Any]
"""The files of a guide as plain values, by their paths in it."""

PROCEDURES = Path(__file__).parents[2] / "procedures"


TINY = {
    "guide.yaml": "title: Trial\n",
    "machine.yaml": """\
machine: Trial
options:
  shaft: [short, long]
controls:
  valve: {positions: [open, closed], normal: open}
parts:
  lid: {mass: 2 kg}
  housing: {material: aluminium}
fasteners:
  bolts: {name: bolt, count: 4, thread: M6 x 1.0, class: "8.8", drive: hex 10 mm, torque: 9 N·m, order: crosswise,
          secures: lid, to: housing, engagement: 12 mm}
""",
    "jobs/first.yaml": """\
job: Look under the lid
steps:
  - set: valve
    to: closed
  - remove: bolts
  - remove: lid
  - inspect: lid
    for: cracks
    otherwise:
      - stop: Get another lid.
  - install: lid
  - install: bolts
  - tighten: bolts
  - set: valve
    to: open
  - check: lid
    limit: no leak
    when: {shaft: long}
    otherwise:
      - stop: Do the job again.
""",
}
"""A guide small enough for many executions a second."""


def drawn(rng: Random, odd: float = 0.0) -> Tree:
    """Return a random guide: a machine in which things come off in one order, and jobs that take it apart."""
    shapes = Shapes(rng, odd)
    tree: Tree = {"guide.yaml": _cover(rng, shapes)}
    tree["machine.yaml"] = machine = _machine(rng, shapes)
    for name, names in (("equipment", v.EQUIPMENT), ("tools", v.TOOLS), ("consumables", v.CONSUMABLES),
                        ("hazards", v.HAZARDS),
                        ("cautions", v.CAUTIONS)):  # fmt: skip
        if rng.random() < 0.25:
            schema = root(FileKind(name))
            facts = schema["additionalProperties"]
            tree[f"{name}.yaml"] = {key: shapes.value(facts, schema) for key in names if rng.random() < 0.9}
    if rng.random() < 0.2:
        schema = root(FileKind.SYMPTOMS)
        tree["symptoms.yaml"] = {"sign-1": shapes.value(schema["additionalProperties"], schema)}
    for n, name in enumerate(v.BLOCKS[: rng.choice((0, 0, 1, 2))]):
        block: Tree = {"block": "Open up", "steps": _work(rng, shapes, machine, back=n == 0)}
        block |= _some(rng, shapes, FileKind.BLOCK, ("begins-with", "ends-with", "own-page"))
        if rng.random() < 0.3:
            block["takes"] = {v.TAKEN[0]: rng.choice(("part", "fastener", "line"))}
            block["steps"].append({rng.choice(("inspect", "clean", "remove", "tighten")): v.TAKEN[0]})
        tree[f"blocks/{name}.yaml"] = block
    for name in ("first", "second")[: rng.choice((1, 1, 2))]:
        keys = [key for key in root(FileKind.JOB)["properties"] if key not in ("job", "steps", "sections", "waive")]
        job: Tree = {"job": "A job"} | _some(rng, shapes, FileKind.JOB, keys)
        steps = _work(rng, shapes, machine, back=True)
        if rng.random() < 0.8:
            job["steps"] = steps
        else:
            middle = max(1, len(steps) // 2)
            halves = [half for half in (steps[:middle], steps[middle:]) if half]
            job["sections"] = [{"title": "Part", "steps": half} for half in halves]
            if rng.random() < 0.3:
                job["sections"][0]["when"] = shapes.when()
        tree[f"jobs/{name}.yaml"] = job
    del machine["order"]
    if rng.random() < 0.15:
        tree["page.md"] = _page(rng)
    if rng.random() < 0.1:
        tree["translations/de.po"] = _catalogue(rng)
    return tree


def _some(rng: Random, shapes: Shapes, kind: FileKind, keys: Iterable[str], share: float = 0.15) -> Tree:
    """Return some of the keys of a kind of file, with values."""
    properties = root(kind)["properties"]
    return {key: shapes.value(properties[key], root(kind), key) for key in keys if rng.random() < share}


def _cover(rng: Random, shapes: Shapes) -> Tree:
    cover = {"title": "Trial", "units": rng.choice([["metric", "us"], ["us", "metric"], "us"])}
    keys = [key for key in root(FileKind.GUIDE)["properties"] if key not in (*cover, "waive")]
    return cover | _some(rng, shapes, FileKind.GUIDE, keys, 0.08)


def _page(rng: Random) -> str:
    """Return a page of prose that says something of the machine."""
    lines = ["# Before you begin", ""]
    for _ in range(rng.randint(1, 5)):
        words = rng.choice((*v.TEXTS["note"], *v.TEXTS["text"], *v.TEXTS["stop"], *v.MARKDOWN))
        lines += [rng.choice(("", "- ", "> ", "| lid | ", "## ")) + str(words), *rng.choice(((), ("",)))]
    return "\n".join(lines) + "\n"


def _catalogue(rng: Random) -> str:
    """Return a catalogue with translations of a few texts."""
    texts = ("Trial", "A job", "Open up", *v.TEXTS["stop"], *v.PHRASES, *v.TEXTS["note"])
    parts = ['msgid ""\nmsgstr "Language: de\\n"\n']
    for text in rng.sample(texts, 4):
        head = rng.choice(("", "#, fuzzy\n", "# a remark\n", 'msgctxt "job first"\n'))
        parts.append(f'{head}msgid "{text}"\nmsgstr "{rng.choice((text, "Etwas", "Anzug 18 Nm"))}"\n')
    return "\n".join(parts)


def _machine(rng: Random, shapes: Shapes) -> Tree:
    schema = root(FileKind.MACHINE)
    machine: Tree = {"machine": "Trial", "options": {name: list(v.CHOICES) for name in v.OPTIONS}}
    placed = rng.random() < 0.3
    if placed:
        machine["places"] = {v.PLACES[0]: list(v.SPOTS[2:]), v.PLACES[1]: 2}
    share = rng.choice((0.2, 0.4, 0.6))
    order = [name for name in v.PARTS + v.FASTENERS + v.LINES if rng.random() < share]
    rng.shuffle(order)
    for key, names in (("controls", v.CONTROLS), ("parts", v.PARTS), ("fasteners", v.FASTENERS), ("lines", v.LINES),
                       ("fluids", v.FLUIDS), ("settings", v.SETTINGS)):  # fmt: skip
        facts = schema["$defs"][key[:-1]]
        group = {
            name: shapes.value(facts, schema, name)
            for name in names
            if name in order or (key in ("controls", "fluids", "settings") and rng.random() < 0.5)
        }
        for name, thing in group.items():
            inner = order[order.index(name) + 1 :] if name in order else []
            if thing.get("counterhold") and thing["counterhold"] not in inner and rng.random() < 0.95:
                del thing["counterhold"]
            for link in ("secures", "joins"):
                if link in thing and rng.random() < 0.95:
                    ends = [other for other in inner if link == "secures" or other in v.PARTS]
                    thing[link] = ends[:2]
                    if not ends:
                        del thing[link]
            if key == "controls" and rng.random() < 0.95:
                positions = ("open", "closed")
                said = {name: rng.choice(v.PHRASES) for name in positions}
                thing |= {"positions": list(positions) if rng.random() < 0.6 else said, "normal": "open"}
            if key == "fasteners" and thing.get("positions") and rng.random() < 0.8:
                thing["count"] = len(thing["positions"])
            if key == "lines" and "joins" not in thing:
                thing["joins"] = ["block"]
            if rng.random() < 0.9:
                thing.pop("instead-of", None)
                thing.pop("needs", None)
            if not placed and rng.random() < 0.95:
                thing.pop("each", None)
        if group:
            machine[key] = group
    stack = [name for name in order if name in v.PARTS][:3]
    if len(stack) > 1 and rng.random() < 0.5:
        machine["stacks"] = [stack if rng.random() < 0.8 else {"when": shapes.when(), "order": stack}]
    if rng.random() < 0.2:
        facts = schema["$defs"]["kit"]
        machine["kits"] = {
            name: shapes.value(facts, schema, name) for name in v.KITS if rng.random() < 0.8 or name == v.KITS[0]
        }
    if rng.random() < 0.1:
        machine["how-to-tell"] = {name: dict.fromkeys(v.CHOICES, "look at it") for name in v.OPTIONS[:2]}
    for key in ("exclude", "access-after", "results-in", "needs", "can-start", "renew-together"):
        if rng.random() < 0.06:
            machine[key] = shapes.value(schema["properties"][key], schema, key)
    if rng.random() < 0.1:
        machine["exclude"] = [{name: rng.choice(v.CHOICES) for name in rng.sample(v.OPTIONS, 2)}]
    machine["order"] = order
    return machine


def _work(rng: Random, shapes: Shapes, machine: Tree, *, back: bool) -> list[Any]:
    """Return steps that take some things off, do something, and put them back."""
    off: list[Any] = []
    on: list[Any] = []
    for name in machine["order"][: rng.randint(0, 6)]:
        if name in v.LINES:
            off.append({"disconnect": name})
            on.insert(0, {"connect": name})
        elif name in v.FASTENERS:
            off.append({"remove": name})
            facts = machine["fasteners"].get(name, {})
            turned = "by-hand" not in facts and any(key in facts for key in ("thread", "torque", "drive"))
            on[:0] = [{"install": name}, *([{"tighten": name}] if turned else [])]
        else:
            off.append({"remove": name})
            on.insert(0, {"install": name})
    middle = [shapes.step(0) for _ in range(rng.randint(0, 4))]
    steps = off + middle + (on if back else [])
    for _ in range(rng.choice((0, 0, 1, 2))):
        steps.insert(rng.randint(0, len(steps)), shapes.step(0))
    return steps or [{"inspect": "lid"}]


@cache
def shipped_texts() -> tuple[dict[str, str], ...]:
    """Return the guides that come with Putback, each with the shared library as files of its own."""
    library = {
        str(path.relative_to(shipped("shared"))): path.read_text(encoding="utf-8")
        for path in sorted(shipped("shared").rglob("*.yaml"))
    }
    found = []
    for folder in sorted(PROCEDURES.iterdir()):
        own = {
            str(path.relative_to(folder)): path.read_text(encoding="utf-8")
            for path in sorted([*folder.rglob("*.yaml"), *folder.glob("*.md")])
        }
        found.append(own if set(own) & set(library) else library | own)
    return tuple(found)


@cache
def bench_texts() -> tuple[dict[str, str], ...]:
    """Return the bench machine with each example of each check."""
    base = {
        path.name: path.read_text(encoding="utf-8") for folder in (BENCH, LIBRARY) for path in folder.glob("*.yaml")
    }
    found = []
    for check in all_checks().values():
        for text in (check.module.FAILS, check.module.PASSES):
            example = parse_example(text)
            files = {name: content for name, content in example.files.items() if name.endswith((".yaml", ".md"))}
            found.append({name: content for name, content in (base | files).items() if name not in example.absent})
    return tuple(found)


@cache
def tiny_tree() -> Tree:
    """Return the small guide as plain values."""
    tree = as_tree(TINY)
    assert tree is not None
    return tree


@cache
def bench_trees() -> tuple[Tree, ...]:
    """Return those of them that can be read, as plain values."""
    return tuple(tree for texts in bench_texts() if (tree := as_tree(texts)) is not None)


@cache
def shipped_trees() -> tuple[Tree, ...]:
    """Return the guides that come with Putback, as plain values."""
    return tuple(tree for texts in shipped_texts() if (tree := as_tree(texts)) is not None)


def as_tree(texts: dict[str, str]) -> Tree | None:
    """Return files as plain values; None when one of them cannot be read."""
    tree: Tree = {}
    for name, text in texts.items():
        if not name.endswith(".yaml"):
            tree[name] = text
            continue
        loaded = load_text(text, name)
        if loaded.root is None or loaded.faults:
            return None
        tree[name] = loaded.root.plain()
    return tree
