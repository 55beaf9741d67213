"""What can go wrong in a guide, once at each place where it can."""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Mapping as MappingABC
from dataclasses import dataclass
from pathlib import Path
from typing import NamedTuple

from putback.guide.library import folder_for
from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.model.job import Block
from putback.model.machine import AnyThing, Control, Fastener, Machine
from putback.model.setting import Setting
from putback.model.terms import Need, Signal
from putback.model.verbs.blocks import Do, Reverse
from putback.model.verbs.controls import Set
from putback.model.verbs.telling import Caution
from putback.source.load import Listing, Mapping, Pair, Text, load_text
from putback.variants import NONE
from putback.variants.graph import Graph, Why
from tests.faults.text import Script, Step, script

NAMED = {"install", "tighten", "connect", "fill", "set to normal", "take-away", "align"}
"""Deleted, these need a finding that names the thing and points at the step that took it off."""
TAKING = {"remove", "replace", "loosen", "disconnect", "drain", "set", "place", "mark"}


SHARED_CAUTIONS = "../../shared/cautions.yaml"
"""The library's cautions, from the folder of a guide."""


class Fault(NamedTuple):
    """One fault, put into one file."""

    kind: str
    """What sort of fault."""
    path: str
    """The file, from the guide's folder."""
    line: int
    """The line that it is put in at."""
    step: str
    """The step, as `verb: value`."""
    text: str
    """The whole file with the fault."""
    names: tuple[str, ...] = ()
    """Things that a finding must name, and point at the step that took them off."""
    stops: bool = False
    """Whether the step is on a way that a `stop` ends."""


@dataclass
class _Context:
    machine: Machine
    graph: Graph
    path: str
    blocks: MappingABC[str, Block]

    def steps_of(self, step: Step) -> Iterator[tuple[str, tuple[str, ...], str | None]]:
        """Yield verb, names and position (of `set`) of a step; of a block, those of all of its steps."""
        to = step.keys["to"].value if step.verb == "set" else None
        if step.verb not in ("do", "reverse"):
            yield step.verb, tuple(step.names), to.value if isinstance(to, Text) else None
        waiting = list(step.names) if step.verb in ("do", "reverse") else []
        while waiting:
            for inner in self.blocks[waiting.pop()].steps():
                names = tuple(ref.name for ref in inner.things)
                if isinstance(inner.action, Do | Reverse):
                    waiting += names
                yield inner.verb.name, names, inner.action.to.name if isinstance(inner.action, Set) else None

    def moves(self, step: Step) -> set[str]:
        """Return the controls that a step sets back to normal; for a block, those that it sets at all."""
        found = set()
        for verb, names, to in self.steps_of(step):
            for name in names if verb == "set" else ():
                control = self.machine.things[name]
                assert isinstance(control, Control)
                if (to == control.normal.name) is (step.verb == "set"):
                    found.add(name)
        return found

    def wants_elsewhere(self, step: Step) -> set[str]:
        """Return the controls that the machine file wants away from normal for a step: its verb, what it works on."""
        needs: list[Need] = []
        for verb, names, _ in self.steps_of(step):
            if verb not in ("caution", "note", "set", "place", "take-away", "do", "reverse"):
                needs += self.machine.verb_needs.get(verb, ())
                things = [self.machine.things[name] for name in names if name in self.machine.things]
                needs += [need for thing in things for need in thing.needs]
        controls = {key: thing for key, thing in self.machine.things.items() if isinstance(thing, Control)}
        return {
            need.control.name
            for need in needs
            if need.control.name in controls and need.position.name != controls[need.control.name].normal.name
        }

    def is_asked_for(self, step: Step) -> bool:
        """Tell whether the machine file asks for what a step looks at."""
        key = "inspect_when_off" if step.verb == "inspect" else "check_when_back"
        asked = [thing for thing in self.machine.things.values() if getattr(thing, key)]
        return any(thing.key in step.names or thing.name in step.value for thing in asked)

    def things_of(self, step: Step) -> list[AnyThing | None]:
        """Return the things that a step names."""
        return [self.machine.things.get(name) for name in step.names]

    def fault(self, kind: str, step: Step, text: str, names: tuple[str, ...] = ()) -> Fault:
        stops = step.otherwise and any(other.verb == "stop" for other in step.siblings)
        return Fault(kind, self.path, step.first, f"{step.verb}: {step.value}", text, names, stops)


def seed(folder: Path) -> list[Fault]:
    """Return every single fault that can be put into a guide's machine, jobs and blocks."""
    guide = read_guide(folder)
    assert guide.machine is not None
    assert not guide.faults
    graph, found = Graph(guide.machine), list[Fault]()
    for path in [*sorted(folder.glob("jobs/*.yaml")), *sorted(folder.glob("blocks/*.yaml"))]:
        name = path.relative_to(folder).as_posix()
        text = path.read_text(encoding="utf-8")
        found += _of_script(script(text, name), _Context(guide.machine, graph, name, guide.library.blocks))
    found += _torques(folder)
    found += _things(folder)
    found += _signals(folder, guide)
    return found


def _of_script(whole: Script, context: _Context) -> Iterator[Fault]:
    for step in whole.steps:
        if len(step.siblings) > 1:
            yield from _deleted(whole, step, context)
            yield from _moved(whole, step, context)
            yield from _too_early(whole, step, context)
        yield from _changed(whole, step, context)
        yield from _limited(whole, step, context)


def _deleted(whole: Script, step: Step, context: _Context) -> Iterator[Fault]:
    verb = step.verb
    if verb == "set":
        control = context.machine.things[step.value]
        assert isinstance(control, Control)
        to = step.keys["to"].value
        assert isinstance(to, Text)
        verb = "set to normal" if to.value == control.normal.name else "set"
    if verb in NAMED | TAKING | {"caution", "do", "reverse"}:
        names = tuple(step.names) if verb in NAMED else ()
        yield context.fault(f"{verb} deleted", step, whole.without_step(step), names)
    elif not step.otherwise and verb in ("measure", "adjust") and isinstance(context.things_of(step)[0], Setting):
        yield context.fault("setting never looked at", step, whole.without_step(step))
    elif not step.otherwise and verb in ("inspect", "check") and context.is_asked_for(step):
        yield context.fault(f"{verb} deleted", step, whole.without_step(step))
    elif step.otherwise and verb == "measure":
        yield context.fault("new measurement deleted", step, whole.without_step(step))
    elif step.otherwise and verb == "stop" and len(step.siblings) > 1:
        yield context.fault("stop deleted", step, whole.without_step(step))


def _moved(whole: Script, step: Step, context: _Context) -> Iterator[Fault]:
    following = step.siblings[step.place + 1 :]
    if following and _dependent(step, following[0], context):
        yield context.fault("neighbours swapped", step, whole.swapped(step, following[0]))
    if step.verb == "caution" and following:
        lines, last = whole.lines, following[-1].last
        moved = [*lines[: step.first - 1], *lines[step.last : last], *lines[step.first - 1 : step.last], *lines[last:]]
        yield context.fault("caution moved to the end", step, "\n".join(moved))


def _too_early(whole: Script, step: Step, context: _Context) -> Iterator[Fault]:
    """Put controls back to normal, by `set` or by `reverse`, before the last step that wants one of them elsewhere."""
    moved = context.moves(step) if step.verb in ("set", "reverse") else set()
    before = step.siblings if step.otherwise else [other for other in whole.steps if not other.otherwise]
    for earlier in reversed(before[: next(n for n, other in enumerate(before) if other is step)]) if moved else ():
        if context.moves(earlier) & moved:
            return
        if context.wants_elsewhere(earlier) & moved:
            lines = [*whole.lines[: step.first - 1], *whole.lines[step.last :]]
            moving = whole.lines[step.first - 1 : step.last]
            text = "\n".join([*lines[: earlier.first - 1], *moving, *lines[earlier.first - 1 :]])
            yield context.fault("isolation reversed too early", step, text)
            return


_WORKING = {
    "remove",
    "install",
    "replace",
    "loosen",
    "tighten",
    "disconnect",
    "connect",
    "mark",
    "align",
    "drain",
    "fill",
}


def _dependent(one: Step, other: Step, context: _Context) -> bool:
    """Tell whether the order of two steps matters: one thing, or two that the machine file puts in order."""
    if other.verb == "measure" and one.verb in ("install", "connect", "tighten"):
        thing = context.things_of(other)[0]
        disturbers = (*thing.disturbed_by, *thing.adjusted_by) if isinstance(thing, Setting) else ()
        return any(disturber.ref.name in one.names for disturber in disturbers)
    if not {one.verb, other.verb} <= _WORKING | {"place", "take-away", "set"}:
        return False
    if set(one.names) & set(other.names):
        return True
    lifting = bool({one.verb, other.verb} & {"remove", "replace"})
    for edge in context.graph.edges():
        if edge.why is Why.JOINS and not lifting:
            continue
        if (edge.outer in one.names and edge.inner in other.names) or (
            edge.outer in other.names and edge.inner in one.names
        ):
            return {one.verb, other.verb} <= _WORKING
    return False


def _changed(whole: Script, step: Step, context: _Context) -> Iterator[Fault]:
    for key in ("new", "turn", "count", "to"):
        if key in step.keys and step.keys[key].key.span.line > step.keys[step.verb].value.span.line:
            yield context.fault(f"'{key}' left out", step, whole.without_key(step, key))
    if "new" in step.keys:
        yield context.fault("old part fitted", step, whole.with_value(step.keys["new"], "false"))
    if "turn" in step.keys:
        yield context.fault("turned the wrong way", step, whole.with_value(step.keys["turn"], "anticlockwise"))
    if step.verb == "tighten":
        half = whole.with_value(step.keys["torque"], "50 %") if "torque" in step.keys else None
        yield context.fault("tightened to a stage only", step, half or whole.with_line(step, "torque", "50 %"))
    thing = context.machine.things.get(step.value)
    if isinstance(thing, Fastener) and thing.count > 1 and step.verb in ("remove", "install", "tighten"):
        at = step.keys["at"].value if "at" in step.keys else None
        count = thing.count if at is None else len(at.items) if isinstance(at, Listing) else 1
        if count > 1:
            yield context.fault(f"{step.verb}: one too few", step, whole.with_line(step, "count", str(count - 1)))
        yield context.fault(f"{step.verb}: one too many", step, whole.with_line(step, "count", str(count + 1)))
    if isinstance(thing, Control) and step.verb == "set":
        to = step.keys["to"].value
        assert isinstance(to, Text)
        for position in thing.positions:
            if position.name != to.value:
                yield context.fault("set to another position", step, whole.with_value(step.keys["to"], position.name))
    if step.verb in ("remove", "install", "disconnect", "connect", "place", "take-away"):
        twice = [*whole.lines[: step.last], *whole.lines[step.first - 1 : step.last], *whole.lines[step.last :]]
        yield context.fault("done twice", step, "\n".join(twice))
    if step.verb in _WORKING | {"set", "place", "take-away", "caution", "do", "reverse"} and len(step.names) == 1:
        misspelt = step.value[:2] + step.value[3:]
        yield context.fault("name misspelt", step, whole.with_value(step.keys[step.verb], misspelt))
    if step.verb in ("do", "reverse"):
        entry = step.keys[step.verb]
        line, span = whole.lines[entry.key.span.line - 1], entry.key.span
        other = "do" if step.verb == "reverse" else "reverse"
        changed = line[: span.column - 1] + other + line[span.end_column - 1 :]
        lines = [*whole.lines[: span.line - 1], changed, *whole.lines[span.line :]]
        yield context.fault(f"{step.verb} turned into {other}", step, "\n".join(lines))


def _limited(whole: Script, step: Step, context: _Context) -> Iterator[Fault]:
    """Lose the `when` of a step, or give it one that leaves some of its variants out; lose its `otherwise`."""
    graph, space = context.graph, context.graph.space
    last = step.keys[step.verb].value.span.line
    for key in ("when", "otherwise", "outcomes"):
        if key in step.keys and step.keys[key].key.span.line > last:
            yield context.fault(f"'{key}' lost", step, whole.without_key(step, key))
    if "when" in step.keys or not {step.verb} & (NAMED | TAKING) or not step.names:
        return
    here = graph.present(step.names[0]) if step.names[0] in context.machine.things else space.built
    for option, choices in context.machine.options.items():
        less = space.both(here, space.cube(((option, choices[-1]),)))
        if less not in (NONE, here):
            text = whole.with_line(step, "when", f"{{{option}: {choices[-1]}}}")
            yield context.fault("wrong 'when' added", step, text)
            return


def _things(folder: Path) -> Iterator[Fault]:
    """Lose the `when` of a thing of the machine, as if every variant had it."""
    text = (folder / "machine.yaml").read_text(encoding="utf-8")
    loaded, lines = load_text(text, "machine.yaml"), text.split("\n")
    assert isinstance(loaded.root, Mapping)
    for group in ("parts", "fasteners", "lines", "fluids", "controls"):
        things = loaded.root.get(group)
        for name, entry in things.entries.items() if isinstance(things, Mapping) else ():
            when = entry.value.entries.get("when") if isinstance(entry.value, Mapping) else None
            if when is not None:
                yield Fault("'when' of a thing lost", "machine.yaml", when.key.span.line, name, _cut(lines, when))


def _cut(lines: list[str], entry: Pair) -> str:
    """Return the text without an entry, which stands on lines of its own, or behind others in braces."""
    first, last = entry.key.span, entry.value.span
    before, after = lines[first.line - 1][: first.column - 1], lines[last.end_line - 1][last.end_column - 1 :]
    if before.strip():
        kept = [before.rstrip().rstrip(",") + after]
    else:
        kept = [before + after.lstrip(", ")] if after.strip(" ,") and not after.lstrip().startswith("#") else []
    return "\n".join([*lines[: first.line - 1], *kept, *lines[last.end_line :]])


def _signals(folder: Path, guide: Guide) -> Iterator[Fault]:
    """Give each caution that the guide shows a signal word that is one weaker, in its own file or in the library's."""
    shown = {
        ref.name
        for sequence in guide.sequences()
        for step in sequence.steps()
        if isinstance(step.action, Caution)
        for ref in step.things
    }
    words = [signal.value for signal in Signal]
    for path in (folder / "cautions.yaml", folder_for(folder) / "cautions.yaml"):
        if not path.is_file():
            continue
        text = path.read_text(encoding="utf-8")
        loaded, lines = load_text(text, path.name), text.split("\n")
        assert isinstance(loaded.root, Mapping)
        relative = path.name if path.parent == folder else SHARED_CAUTIONS
        for name, entry in loaded.root.entries.items():
            signal = entry.value.get("signal") if isinstance(entry.value, Mapping) else None
            if name in shown and isinstance(signal, Text) and signal.value != words[-1]:
                weaker, span = words[words.index(signal.value) + 1], signal.span
                line = lines[span.line - 1]
                changed = line[: span.column - 1] + weaker + line[span.end_column - 1 :]
                mutated = "\n".join([*lines[: span.line - 1], changed, *lines[span.line :]])
                yield Fault("signal word lowered", relative, span.line, f"caution: {name}", mutated)


def _torques(folder: Path) -> Iterator[Fault]:
    text = (folder / "machine.yaml").read_text(encoding="utf-8")
    loaded = load_text(text, "machine.yaml")
    assert isinstance(loaded.root, Mapping)
    fasteners, lines = loaded.root.get("fasteners"), text.split("\n")
    for name, entry in fasteners.entries.items() if isinstance(fasteners, Mapping) else ():
        facts = entry.value
        if isinstance(facts, Mapping) and "torque" in facts.entries and not isinstance(facts.get("torque"), Listing):
            line = facts.entries["torque"].key.span.line
            if line != entry.key.span.line:
                mutated = "\n".join([*lines[: line - 1], *lines[line:]])
                yield Fault("torque dropped", "machine.yaml", line, f"torque of {name}", mutated)
