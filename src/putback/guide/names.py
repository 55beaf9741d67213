"""Every name that a guide uses, and what it may stand for.

The check `unknown-name` compares the two; an editor completes with them.
"""

from __future__ import annotations

from collections.abc import Iterator

from putback.guide.paths import shown_path
from putback.guide.record import Guide
from putback.guide.step_names import sequence_uses
from putback.guide.use import NameUse, when_uses
from putback.model.control import OPEN, SHUT
from putback.model.job import Sequence
from putback.model.library import Library
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Machine, Part
from putback.model.needed import KINDS, OF_EQUIPMENT, words_for
from putback.model.said import Said
from putback.model.setting import Setting
from putback.model.supplies import Supplies
from putback.model.terms import Need, Ref
from putback.model.verb import MEASURABLE, PIECES, SOLID
from putback.model.verbs.blocks import Do, Reverse
from putback.source.nearest import nearest

PARTS = ("part",)


def uses_of(guide: Guide) -> Iterator[NameUse]:
    """Yield every use of a name in the guide's files, and in the shared blocks that it does."""
    machine = guide.machine
    if machine:
        yield from _machine_uses(machine, guide.library)
    yield from _hazard_uses(guide, machine)
    yield from _equipment_uses(guide, machine)
    tags = tuple(dict.fromkeys(tag for hazard in guide.library.hazards.values() for tag in hazard.tags))
    shelves = (guide.library.consumables, guide.library.tools, guide.library.equipment)
    carried = [tag for shelf in shelves for entry in shelf.values() for tag in entry.tags]
    for tag in (*(machine.tag_refs if machine else ()), *carried):
        yield NameUse(tag, ("tag",), "no hazard has the tag", free=True, known=tags)
    for message in guide.library.cautions.values():
        for ref in message.covers:
            yield NameUse(ref, ("hazard",), "covers", free=True)
    for job in guide.jobs.values():
        for named in (job.after, job.before):
            if named is not None:
                yield NameUse(named, ("job",), "no job is called", known=tuple(guide.jobs))
        yield from _listed_uses(job.supplies)
    for symptom in guide.symptoms.values():
        yield from when_uses(machine, symptom.when)
        for cause in symptom.causes:
            yield from when_uses(machine, cause.when)
            if cause.job is not None:
                yield NameUse(cause.job, ("job",), "no job is called", known=tuple(guide.jobs))
    for sequence in _sequences(guide):
        yield from sequence_uses(sequence, machine, guide.library.blocks)


def _listed_uses(supplies: Supplies | None) -> Iterator[NameUse]:
    """Yield the names in what an author lists for a job."""
    for packed in supplies.parts if supplies else ():
        yield NameUse(packed.thing, (*SOLID, "kit"), "parts")
    for fluid, _ in supplies.fluids if supplies else ():
        yield NameUse(fluid, ("fluid",), "fluids")
    for key, refs in supplies.named.items() if supplies else ():
        for ref in refs:
            yield NameUse(ref, (key.removesuffix("s"),), key)


def _sequences(guide: Guide) -> Iterator[Sequence]:
    """The guide's own, then shared blocks that these do, each once."""
    waiting = list(guide.sequences())
    seen = {id(sequence) for sequence in waiting}
    while waiting:
        sequence = waiting.pop(0)
        yield sequence
        for step in sequence.steps():
            if isinstance(step.action, Do | Reverse):
                for ref in step.things:
                    block = guide.library.blocks.get(ref.name)
                    if block is not None and id(block) not in seen:
                        seen.add(id(block))
                        waiting.append(block)


def _hazard_uses(guide: Guide, machine: Machine | None) -> Iterator[NameUse]:
    """Yield what hazards ask of a machine that may lack it.

    Those of the library are shared by many machines, which may call a state otherwise. What is there only while
    something is as it never is, is never told at all.
    """
    own = shown_path(guide.root / "hazards.yaml")
    for hazard in guide.library.hazards.values():
        for key, needs in (("while", hazard.while_), ("safe-when", hazard.safe_when)):
            for need in needs:
                if hazard.span.path == own:
                    yield from _need(machine, guide.library, need, key, free=True)
                elif key == "while" or machine is None or need.control.name not in machine.things:
                    yield from _state(machine, guide.library, need)


def _equipment_uses(guide: Guide, machine: Machine | None) -> Iterator[NameUse]:
    """Yield what the guide's own equipment keeps; that of the library may keep what a machine lacks."""
    own = shown_path(guide.root / "equipment.yaml")
    for equipment in guide.library.equipment.values():
        if equipment.span.path == own:
            for ref in equipment.stills:
                yield NameUse(ref, PARTS, "keeps")
            for need in equipment.keeps:
                yield from _need(machine, guide.library, need, "keeps")


def _machine_uses(machine: Machine, library: Library) -> Iterator[NameUse]:
    for thing in machine.things.values():
        yield from (use._replace(owner=thing.key) for use in _thing_uses(machine, thing))
        yield from _needs(machine, library, thing.needs)
    for stack in machine.stacks:
        yield from when_uses(machine, stack.when)
        for ref in stack.order:
            yield NameUse(ref, SOLID, "stacks")
    for ref in (ref for some in machine.together for ref in some):
        yield NameUse(ref, PIECES, "renew-together")
    for inner, outers in machine.access_after:
        yield NameUse(inner, MEASURABLE, "access-after")
        for outer in outers:
            yield NameUse(outer, SOLID, "access-after")
    for case in (*machine.exclude, *(when for when, _ in machine.told_by)):
        yield from when_uses(machine, case)
    for ref in (packed.thing for kit in machine.kits.values() for packed in kit.contents):
        yield NameUse(ref, SOLID, "contents")
    for needs in machine.verb_needs.values():
        yield from _needs(machine, library, needs)
    for way in machine.can_start:
        for need in way:
            yield from _need(machine, library, need, "can-start")
    for made in machine.verb_results.values():
        for need in made:
            yield NameUse(need.control, ("control",), "results-in")
            yield from _position(machine, need.control.name, need.position)


def _thing_uses(machine: Machine, thing: AnyThing) -> Iterator[NameUse]:
    yield from when_uses(machine, thing.when)
    for ref in thing.instead_of:
        yield NameUse(ref, MEASURABLE, "instead-of")
    for ref in thing.turns_with if isinstance(thing, Part) else ():
        yield NameUse(ref, PARTS, "turns-with")
    for need, _ in thing.rotations if isinstance(thing, Part) else ():
        yield NameUse(need.control, ("control",), "rotation")
        yield from _position(machine, need.control.name, need.position)
    if thing.each:
        yield NameUse(thing.each, ("place",), "each")
    for ref in thing.clean_before:
        yield NameUse(ref, SOLID, "clean-before")
    if isinstance(thing, Part) and thing.lubricant:
        yield NameUse(thing.lubricant, ("consumable",), "lubricant")
    kit = getattr(thing, "kit", None)
    if isinstance(kit, Said):  # a kit that the file does not describe has its name alone
        yield NameUse(Ref(kit, kit.span), ("kit",), "no kit is called", free=True, known=tuple(machine.kits))
    for ref in thing.assembly if isinstance(thing, Part) else ():
        yield NameUse(ref, SOLID, "assembly")
    match thing:
        case Fastener():
            for when, _ in thing.counts:
                yield from when_uses(machine, when, "count")
            for ref in thing.secures:
                yield NameUse(ref, SOLID, "secures")
            for ref in thing.locks:
                yield NameUse(ref, (*SOLID, "setting"), "locks")
            if thing.counterhold:
                yield NameUse(thing.counterhold, ("fastener",), "counterhold")
            if thing.tightened_after:
                yield NameUse(thing.tightened_after, ("fastener",), "tightened-after")
            if thing.to:
                yield NameUse(thing.to, PARTS, "to")
            if thing.at:
                lines = [held for ref in thing.secures if isinstance(held := machine.things.get(ref.name), Line)]
                ends = tuple(end.name for line in lines for end in line.joins)
                yield NameUse(thing.at, ("end",), f"what {thing.key} secures has no end", known=ends)
            if thing.compound:
                yield NameUse(thing.compound, ("consumable",), "compound")
            if thing.tool:
                yield NameUse(thing.tool, ("tool",), "tool")
        case Line():
            for ref in thing.joins:
                yield NameUse(ref, SOLID, "joins")
        case Fluid():
            for key, refs in (("drains", thing.drains), ("fills", thing.fills), ("vents", thing.vents)):
                for ref in refs:
                    yield NameUse(ref, (*SOLID, "control"), key)
            yield from _marks(thing)
        case Control():
            positions = tuple(position.name for position in thing.positions)
            yield NameUse(thing.normal, ("position",), f"{thing.key} has no position", known=positions)
            for ref in thing.positions if thing.looks == "tap" else ():
                # Whose normal position is spelt right has misspelt it here, and is told that.
                if nearest(ref.name, [*OPEN, *SHUT]) != thing.normal.name:
                    yield NameUse(ref, ("position",), "a tap has no position", known=(*OPEN, *SHUT))
        case Setting():
            yield from _disturbers(machine, thing)
        case _:
            pass


def _marks(fluid: Fluid) -> Iterator[NameUse]:
    if fluid.level is None:
        return
    for ref in fluid.level.marks if fluid.level.at == "hole" else ():
        yield NameUse(ref, ("mark",), "a hole has no mark", known=())
    if fluid.level.to:
        known = tuple(ref.name for ref in fluid.level.marks)
        yield NameUse(fluid.level.to, ("mark",), f"{fluid.key} has no mark", known=known)


def _disturbers(machine: Machine, setting: Setting) -> Iterator[NameUse]:
    for key, disturbers, kinds in (
        ("disturbed-by", setting.disturbed_by, (*SOLID, "setting")),
        ("adjusted-by", setting.adjusted_by, ("fastener",)),
    ):
        for ref, at in disturbers:
            yield NameUse(ref, kinds, key)
            group = machine.things.get(ref.name)
            known = group.positions if isinstance(group, Fastener) else ()
            for place in at if group else ():
                yield NameUse(place, ("position",), f"{ref.name} has no position", known=known)


def _needs(machine: Machine, library: Library, needs: tuple[Need, ...]) -> Iterator[NameUse]:
    for need in needs:
        yield from _need(machine, library, need, "needs")


def _need(machine: Machine | None, library: Library, need: Need, user: str, *, free: bool = False) -> Iterator[NameUse]:
    yield NameUse(need.control, KINDS, user, free=free)
    yield from _state(machine, library, need)


def _state(machine: Machine | None, library: Library, need: Need) -> Iterator[NameUse]:
    thing = machine.things.get(need.control.name) if machine else None
    if isinstance(thing, Control):
        yield from _position(machine, thing.key, need.position)
    else:
        equipment = OF_EQUIPMENT if need.control.name in library.equipment else ()
        known = words_for(thing) if thing is not None else equipment
        if known:
            yield NameUse(need.position, ("state",), f"{need.control.name} is never", known=known)


def _position(machine: Machine | None, control: str, position: Ref) -> Iterator[NameUse]:
    thing = machine.things.get(control) if machine else None
    if isinstance(thing, Control):
        positions = tuple(ref.name for ref in thing.positions)
        yield NameUse(position, ("position",), f"{control} has no position", known=positions)
