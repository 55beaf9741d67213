"""Random small machines and jobs, as the plain values that stand in their files."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from hypothesis import assume
from hypothesis import strategies as st

from putback.guide.record import Guide
from putback.model.build_job import build_block, build_job
from putback.model.build_machine import build_machine
from putback.model.job import Block, Job
from putback.model.library import Equipment, Library
from putback.model.machine import Machine
from putback.source.load import Mapping, load_text
from putback.source.schema import FileKind, validate
from putback.source.span import top_of
from tests.laws.alone import Plain, assemblies_of

EQUIPMENT = ("a0", "a1")


@st.composite
def conditions(draw: st.DrawFn, options: dict[str, list[str]], always: int = 2) -> Any:
    """Draw a `when`; None (no condition) `always` times of `always` + 1."""
    if not options or draw(st.integers(0, always)):
        return None
    case = st.dictionaries(st.sampled_from(sorted(options)), st.just(None), min_size=1, max_size=2)

    def filled(names: dict[str, None]) -> dict[str, Any]:
        found: dict[str, Any] = {}
        for name in names:
            several = draw(st.booleans())
            one = st.sampled_from(options[name])
            found[name] = draw(st.lists(one, min_size=1)) if several else draw(one)
        return found

    if draw(st.integers(0, 4)):
        return filled(draw(case))
    return [filled(draw(case)) for _ in range(2)]


@st.composite
def machines(draw: st.DrawFn) -> Plain:
    """Draw a machine whose things stand in one order, the outer ones first, so that it has no loop."""
    options = {f"o{n}": [f"c{m}" for m in range(draw(st.integers(1, 3)))] for n in range(draw(st.integers(0, 3)))}
    machine: Plain = {"machine": "Trial", "options": options}
    if bool(options) and draw(st.booleans()):
        met = draw(st.sets(st.sampled_from(sorted(options))))
        never = {name: draw(st.sampled_from(options[name])) for name in sorted(met)}
        # Some variant must be left.
        if never and any(len(options[name]) > 1 for name in never):
            machine["exclude"] = [never]

    def limited(facts: Plain) -> Plain:
        when = draw(conditions(options))
        return {**facts, "when": when} if when is not None else facts

    controls = {
        f"c{n}": limited({"positions": ["normal", "up", "down"], "normal": "normal"})
        for n in range(draw(st.integers(0, 2)))
    }
    order = draw(st.permutations([*(f"p{n}" for n in range(draw(st.integers(1, 4)))),
                                  *(f"f{n}" for n in range(draw(st.integers(0, 3)))),
                                  *(f"l{n}" for n in range(draw(st.integers(0, 2))))]))  # fmt: skip
    groups: dict[str, Plain] = {"parts": {}, "fasteners": {}, "lines": {}}
    access_after: dict[str, list[str]] = {}
    for place, name in enumerate(order):
        inner, facts = order[place + 1 :], Plain()
        if controls and draw(st.integers(0, 4)) == 0:
            facts["needs"] = {draw(st.sampled_from(sorted(controls))): draw(st.sampled_from(["normal", "up"]))}
        if name[0] == "l":
            ends = [other for other in inner if other[0] == "p"]
            if not ends:
                continue
            facts["joins"] = sorted(draw(st.sets(st.sampled_from(ends), min_size=1, max_size=2)))
        elif draw(st.integers(0, 3)) == 0:
            facts["replace"] = "always"
        if name[0] == "f":
            facts |= draw(
                st.sampled_from(
                    [{}, {"torque": "9 N·m"}, {"torque": "9 N·m"}, {"by-hand": "to the stop", "drive": "hex"}]
                )
            )
            facts["count"] = draw(st.integers(1, 3))
            held = [other for other in inner if draw(st.booleans())]
            facts |= {"secures": held} if held else {}
            facts |= {"releases-when": "loose"} if draw(st.integers(0, 4)) == 0 else {}
        if name[0] == "p" and draw(st.integers(0, 3)) == 0:
            facts["adjustable"] = True
        if place and draw(st.integers(0, 2)) == 0:
            outer = draw(st.sampled_from(order[:place]))
            access_after[name] = [outer]
        groups[{"p": "parts", "f": "fasteners", "l": "lines"}[name[0]]][name] = limited(facts)
    if len(groups["lines"]) == 2 and draw(st.booleans()):
        branch, main = draw(st.permutations(sorted(groups["lines"])))
        groups["lines"][branch]["joins"].append(main)  # a tee
    made = {name for group in groups.values() for name in group}
    parts = [name for name in order if name in groups["parts"]]
    machine |= {key: group for key, group in {"controls": controls, **groups}.items() if group}
    joined(draw, groups["fasteners"], [name for name in order if name in groups["fasteners"]])
    locking(draw, groups, sorted(made))
    halves = {name for name, facts in groups["fasteners"].items() if "counterhold" in facts}
    halves |= {groups["fasteners"][name]["counterhold"] for name in halves}
    machine["access-after"] = {
        # A bolt and its nut are reached alike: a way back would turn one that the way there did not touch.
        inner: outers
        for inner, [*outers] in access_after.items()
        if {inner, *outers} <= made and inner not in halves
    }
    stacks: list[Any] = []
    for _ in range(draw(st.integers(0, 2))):
        stack = [name for name in parts if draw(st.booleans())]
        when = draw(conditions(options))
        if len(stack) > 1:
            stacks.append(stack if when is None else {"when": when, "order": stack})
    machine["stacks"] = stacks
    fluids: Plain = {}
    holes = sorted(made | set(controls))
    for n in range(draw(st.integers(0, 1))):
        drains = sorted(draw(st.sets(st.sampled_from(holes), max_size=2)))
        through = bool(drains) and draw(st.booleans())
        fluids[f"q{n}"] = limited({"drains": drains, "fills": drains if through else []})
        fluids[f"q{n}"] = {key: value for key, value in fluids[f"q{n}"].items() if value != []}
    machine["fluids"] = fluids
    locked = {name for facts in groups["fasteners"].values() for name in facts.get("locks", [])}
    machine["settings"] = {name: limited(facts) for name, facts in draw(settings_of(order, made, locked))}
    things = [*sorted(made), *fluids, *EQUIPMENT[:1]]
    needed = draw(st.sets(st.sampled_from(things), max_size=2))
    machine["needs"] = (
        {"run": {name: draw(st.sampled_from(WORDS[name[0]])) for name in sorted(needed)}} if needed else {}
    )
    assembled(draw, machine, parts)
    return {key: value for key, value in machine.items() if value not in ({}, [])}


WORDS = {
    "p": ("on", "off"),
    "f": ("on", "off", "loose", "tight"),
    "l": ("connected", "off"),
    "q": ("full", "empty"),
    "a": ("placed", "away"),
}
"""How a thing can be needed, by the first letter of its name."""


def assembled(draw: st.DrawFn, machine: Plain, parts: list[str]) -> None:
    """Let some parts come off with another one as one, where that leaves an order in which all can come off."""
    if len(parts) < 2 or draw(st.integers(0, 2)):
        return
    whole = draw(st.sampled_from(parts))
    others = st.sampled_from([name for name in parts if name != whole])
    machine["parts"][whole]["assembly"] = sorted(draw(st.sets(others, min_size=1, max_size=2)))
    if len(outside_in(machine)) < sum(len(machine.get(group, {})) for group in ("parts", "fasteners", "lines")):
        del machine["parts"][whole]["assembly"]


TORQUES = ("4 N·m", "4 N·m", "9 N·m", "12 N·m", "snug", "50 %")
"""What a step may tighten to; the machine file has 9 N·m, or none."""


def joined(draw: st.DrawFn, fasteners: dict[str, Plain], order: list[str]) -> None:
    """Make a bolt and its nut of two fasteners, the outer one turned: the nut, or the bolt."""
    if len(order) < 2 or draw(st.integers(0, 2)):
        return
    place = draw(st.integers(0, len(order) - 2))
    turned, held = order[place], order[draw(st.integers(place + 1, len(order) - 1))]
    kinds = draw(st.sampled_from([("nut", "bolt"), ("bolt", "nut")]))
    fasteners[turned] |= {"kind": kinds[0], "counterhold": held}
    fasteners[held] = {key: fact for key, fact in fasteners[held].items() if key not in ("torque", "by-hand", "drive")}
    fasteners[held] |= {"kind": kinds[1], "count": fasteners[turned]["count"]}
    if fasteners[held].get("secures") == []:
        del fasteners[held]["secures"]


def locking(draw: st.DrawFn, groups: dict[str, Plain], made: list[str]) -> None:
    """Let a fastener lock something."""
    if groups["fasteners"] and draw(st.integers(0, 2)) == 0:
        lock = draw(st.sampled_from(sorted(groups["fasteners"])))
        others = [name for name in made if name != lock]
        if others:
            groups["fasteners"][lock]["locks"] = [draw(st.sampled_from(others))]


@st.composite
def settings_of(draw: st.DrawFn, order: list[str], made: set[str], locked: set[str]) -> list[tuple[str, Plain]]:
    """Draw settings that things disturb, and one another; often one is adjusted by what is locked."""
    found: list[tuple[str, Plain]] = []
    number = draw(st.integers(0, 2))
    for n in range(number):
        others = [*(name for name in order if name in made), *(f"s{m}" for m in range(number) if m != n)]
        facts: Plain = {"limit": "1 mm .. 2 mm"}
        facts["disturbed-by"] = [name for name in others if draw(st.integers(0, 2)) == 0]
        facts["adjusted-by"] = [
            name
            for name in others
            if name not in facts["disturbed-by"]
            and name[0] == "f"
            and draw(st.integers(0, 1 if name in locked else 2)) == 0
        ]
        found.append((f"s{n}", {key: value for key, value in facts.items() if value}))
    return found


def sequence_off(machine: Plain, draw: st.DrawFn) -> list[Plain]:
    """Draw a legal disassembly: controls as they are needed, then things from the outside in."""
    steps: list[Plain] = []
    for name, control in machine.get("controls", {}).items():
        wanted = {
            thing["needs"][name]
            for group in ("parts", "fasteners", "lines")
            for thing in machine.get(group, {}).values()
            if name in thing.get("needs", {})
        }
        to = draw(st.sampled_from(sorted(wanted or set(control["positions"]))))
        steps.append({"set": name, "to": to})
    if draw(st.booleans()):
        steps.append({"place": draw(st.sampled_from(EQUIPMENT))})
    for name in outside_in(machine):
        if draw(st.integers(0, 5)) == 0 and not steps_need(machine, name):
            continue
        if name in machine.get("lines", {}):
            steps.append({"disconnect": name})
            continue
        if machine.get("parts", {}).get(name, {}).get("adjustable"):
            steps.append({"mark": name})
        if name in machine.get("fasteners", {}) and draw(st.integers(0, 3)) == 0:
            steps.append({"loosen": name})
        steps.append({"remove": name})
    return steps


def edges(machine: Plain) -> list[tuple[str, str]]:
    """Return outer and inner of every rule, whatever the variant; within a stack, any two."""
    found = [
        (name, inner)
        for group in ("fasteners", "lines")
        for name, thing in machine.get(group, {}).items()
        for inner in (*thing.get("secures", []), *thing.get("joins", []))
        if not (inner[0] == name[0] == "l")
    ]
    found += [
        (name, thing["counterhold"])
        for name, thing in machine.get("fasteners", {}).items()
        if "counterhold" in thing and thing["kind"] == "nut"
    ]
    found += [(outer, inner) for inner, outers in machine.get("access-after", {}).items() for outer in outers]
    for stack in machine.get("stacks", []):
        plain = stack if isinstance(stack, list) else stack["order"]
        found += [(outer, inner) for n, inner in enumerate(plain) for outer in plain[:n]]
    for whole, inner in assemblies_of(machine).items():
        found = [(outer, under) for outer, under in found if not (outer in inner and under == whole)]
        found += [(outer, whole) for outer, part in found if part in inner and outer not in inner and outer != whole]
        found += [(whole, under) for part, under in found if part in inner and under not in inner and under != whole]
    return found


def steps_need(machine: Plain, name: str) -> bool:
    return any(outer == name for outer, _ in edges(machine))


def outside_in(machine: Plain) -> list[str]:
    """Return parts, fasteners and lines in an order in which they can come off, as far as there is one."""
    left = [name for group in ("parts", "fasteners", "lines") for name in machine.get(group, {})]
    rules, found = edges(machine), list[str]()
    while left:
        name = next((n for n in left if not any(outer in left for outer, inner in rules if inner == n)), None)
        if name is None:
            break
        left.remove(name)
        found.append(name)
    return found


def back_again(machine: Plain, off: list[Plain], draw: st.DrawFn) -> list[Plain]:
    """Return the way back, for jobs to start from: near enough to legal to be broken in one place at a time."""
    steps: list[Plain] = []
    for step in reversed(off):
        if "set" in step:
            steps.append({"set": step["set"], "to": "normal"})
        elif "place" in step:
            steps.append({"take-away": step["place"]})
        elif "disconnect" in step:
            steps.append({"connect": step["disconnect"]})
        elif "remove" in step:
            name = step["remove"]
            steps.append({"install": name, "new": True})
            if name in machine.get("fasteners", {}):
                if draw(st.integers(0, 5)) == 0:
                    steps.append({"tighten": name, "torque": draw(st.sampled_from(TORQUES))})
                if draw(st.integers(0, 7)):
                    steps.append({"tighten": name})
            elif machine["parts"][name].get("adjustable"):
                steps.append({"align": name})
    return [*steps, *({"fill": name} for name in machine.get("fluids", {}))]


@st.composite
def single_steps(draw: st.DrawFn, machine: Plain) -> Plain:
    """Draw any step on any thing of a machine, sensible or not."""
    where = {
        name: group
        for group in ("parts", "fasteners", "lines", "fluids", "controls", "settings")
        for name in machine.get(group, {})
    }
    name = draw(st.sampled_from(sorted(where)))
    count = {"count": draw(st.integers(1, 3))} if draw(st.integers(0, 2)) == 0 else {}
    match where[name]:
        case "parts":
            verb = draw(
                st.sampled_from(
                    ["remove", "install", "replace", "mark", "align", "measure", "inspect", "clean", "turn"]
                )
            )
            step = {verb: name, **({"by": "1 turn"} if verb == "turn" else {})}
        case "fasteners":
            verb = draw(st.sampled_from(["remove", "install", "replace", "loosen", "tighten", "tighten"]))
            step = {verb: name, **count}
            if verb == "tighten" and draw(st.booleans()):
                step["torque"] = draw(st.sampled_from(TORQUES))
        case "lines":
            verb = draw(st.sampled_from(["disconnect", "connect"]))
            step = {verb: name}
            if draw(st.booleans()):
                step["at"] = draw(st.sampled_from(machine["lines"][name]["joins"]))
        case "settings":
            step = {draw(st.sampled_from(["adjust", "measure"])): name}
        case "fluids":
            step = {draw(st.sampled_from(["drain", "fill"])): name}
        case _:
            step = {"set": name, "to": draw(st.sampled_from(["normal", "up", "down"]))}
    other: list[Plain] = [{"place": "a0"}, {"take-away": "a0"}, {"run": "engine"}, {"check": "for leaks"}]
    step = draw(st.sampled_from([step, step, step, step, *other]))
    return {**step, "new": True} if "install" in step and draw(st.booleans()) else step


@st.composite
def jobs(draw: st.DrawFn, machine: Plain) -> tuple[list[Plain], dict[str, list[Plain]]]:
    """Draw the steps of a job and of its blocks: a whole round, then broken here and there."""
    options = machine.get("options", {})
    off = sequence_off(machine, draw)
    steps = [*off, *back_again(machine, off, draw)]
    steps += [{draw(st.sampled_from(["adjust", "measure"])): name} for name in machine.get("settings", {})]
    steps += [{"run": "engine"}] if draw(st.booleans()) else []
    if "needs" in machine:
        steps.insert(draw(st.integers(0, len(steps))), {"run": "engine"})

    def place() -> int:
        return draw(st.integers(0, len(steps)))

    def drop() -> None:
        del steps[min(place(), len(steps) - 1)]

    def swap() -> None:
        one = place()
        steps[one : one + 2] = reversed(steps[one : one + 2])

    def add() -> None:
        steps.insert(place(), draw(single_steps(machine)))

    def limit() -> None:
        when = draw(conditions(options, 0))
        if when is not None and steps:
            one = min(place(), len(steps) - 1)
            steps[one] = {**steps[one], "when": when}

    def count() -> None:
        step = steps[min(place(), len(steps) - 1)]
        if {"remove", "install", "tighten"} & set(step) and "count" not in step:
            step["count"] = draw(st.integers(1, 3))

    def branch() -> None:
        inner = [draw(single_steps(machine)) for _ in range(draw(st.integers(1, 3)))]
        if draw(st.integers(0, 2)) == 0:
            inner.append({"stop": "Give up."})
        steps.insert(place(), {"check": "for wear", "otherwise": inner})

    def sort_out() -> None:
        outcomes = []
        for found in ("> 2 mm", "< 1 mm"):
            inner = [draw(single_steps(machine)) for _ in range(draw(st.integers(1, 2)))]
            outcomes.append({"found": found, "steps": [*inner, *([{"stop": "Enough."}] * draw(st.integers(0, 1)))]})
        several = {"readings": 2} if draw(st.integers(0, 2)) == 0 else {}
        steps.insert(place(), {"measure": "a gap", "limit": "1 mm .. 2 mm", **several, "outcomes": outcomes})

    def wrap() -> None:
        one = place()
        taken = steps[one : one + 3]
        if taken:
            steps[one : one + 3] = [{"check": "for dirt", "otherwise": taken}]

    def end() -> None:
        when = draw(conditions(options, 0))
        steps.insert(place(), {"stop": "Enough.", **({"when": when} if when is not None else {})})

    changes: list[Callable[[], None]] = [drop, swap, add, limit, count, branch, sort_out, wrap, end]
    for _ in range(draw(st.integers(0, 5))):
        if not steps:
            break
        asked = str(steps).count("otherwise") + str(steps).count("found")
        if (change := draw(st.sampled_from(changes))) in (branch, wrap, sort_out) and asked > 2:
            continue
        change()
    blocks: dict[str, list[Plain]] = {}
    if steps and draw(st.integers(0, 2)) == 0:
        one, many = place(), draw(st.integers(1, 4))
        if steps[one : one + many]:
            blocks["b0"] = steps[one : one + many]
            steps[one : one + many] = [{"do": "b0"}]
    return steps or [{"note": "Nothing to do."}], blocks


@st.composite
def guides(draw: st.DrawFn) -> tuple[Plain, list[Plain], dict[str, list[Plain]]]:
    """Draw a machine with one job and its blocks."""
    machine = draw(machines())
    steps, blocks = draw(jobs(machine))
    return machine, steps, blocks


@st.composite
def rounds(draw: st.DrawFn) -> tuple[Plain, dict[str, list[Plain]]]:
    """Draw a machine and a block `b0` that takes it apart legally: what a condition limits is all that comes after."""
    machine = draw(machines())
    for fluid in machine.get("fluids", {}).values():
        if "fills" in fluid:
            # It goes in through its drain: through one, as two would both have to be open.
            fluid["drains"] = fluid["fills"] = fluid["drains"][:1]
    steps: list[Plain] = []
    nested = draw(st.booleans())
    off = sequence_off(machine, draw)
    gone = [step["remove"] for step in off if "remove" in step]
    for name, thing in machine.get("fasteners", {}).items():
        # What locks something comes off before it here, and before the nut on it; else it would have to be loosened.
        behind = gone[gone.index(name) :] if name in gone else []
        turned = {locked: machine["fasteners"].get(locked, {}) for locked in thing.get("locks", [])}
        thing["locks"] = [
            locked for locked, facts in turned.items() if {locked, facts.get("counterhold", locked)} <= {*behind}
        ]
        if not thing["locks"]:
            del thing["locks"]
        if (nut := thing.get("counterhold")) in gone and name in gone:
            # The bolt is turned while its nut is held: on the way back, nothing may lie on it by then.
            between = gone[gone.index(nut) + 1 : gone.index(name)]
            assume(not {(outer, name) for outer in between} & {*edges(machine)})
    for step in off:
        count = machine.get("fasteners", {}).get(step.get("remove"), {}).get("count", 1)
        if count > 1 and draw(st.booleans()):
            some = draw(st.integers(1, count - 1))
            steps += [{**step, "count": some}, {**step, "count": count - some} if draw(st.booleans()) else step]
        else:
            steps.append(step)
    steps += [
        {"drain": name} for name in machine.get("fluids", {}) if draw(st.booleans()) and opened(machine, name, steps)
    ]
    when = draw(conditions(machine.get("options", {}), 1))
    blocks = {"b0": steps or [{"note": "Nothing."}]}
    if len(steps) > 1:
        first = draw(st.integers(1, len(steps) - 1))
        if when is not None:
            steps[first:] = [{**step, "when": when} for step in steps[first:]]
        if nested:
            blocks["b1"] = steps[first:]
            steps[first:] = [{"do": "b1"}]
    return machine, blocks


def opened(machine: Plain, fluid: str, steps: list[Plain]) -> bool:
    """Tell whether a fluid can be let out after these steps in every variant: they open all of its drains."""
    drains = machine["fluids"][fluid].get("drains", [])
    gone = {step.get("remove", step.get("disconnect")) for step in steps if "count" not in step}
    return bool(drains) and all(drain in gone for drain in drains)


def text_of(value: Plain) -> str:
    """Write a file. JSON is YAML as well, and no reader of YAML has a hand in it."""
    return json.dumps(value, ensure_ascii=False, indent=1)


def read(machine: Plain, steps: list[Plain], blocks: dict[str, list[Plain]]) -> tuple[Guide, dict[str, str]]:
    """Return a guide of these files, with the text of each; nothing is written."""
    texts = {"machine.yaml": text_of(machine), "jobs/j.yaml": text_of({"job": "Trial", "steps": steps})}
    texts |= {f"blocks/{name}.yaml": text_of({"block": name, "steps": inner}) for name, inner in blocks.items()}
    found: Machine | None = None
    jobs, own = dict[str, Job](), dict[str, Block]()
    equipment = {
        name: Equipment(key=name, span=top_of("equipment.yaml"), name=name, rated_load=None) for name in EQUIPMENT
    }
    for path, text in texts.items():
        loaded = load_text(text, path)
        folder = path.partition("/")[0]
        kind = {"machine.yaml": FileKind.MACHINE, "jobs": FileKind.JOB, "blocks": FileKind.BLOCK}[folder]
        assert not loaded.faults
        assert not validate(loaded, kind)
        assert isinstance(loaded.root, Mapping)
        if kind is FileKind.MACHINE:
            found, faults = build_machine(loaded.root, path)
        elif kind is FileKind.JOB:
            jobs["j"], faults = build_job(loaded.root, path)
        else:
            block, faults = build_block(loaded.root, path)
            own[block.key] = block
        assert not faults
    library = Library(equipment=equipment, blocks=own)
    return Guide(Path(), "", machine=found, jobs=jobs, blocks=own, library=library), texts
