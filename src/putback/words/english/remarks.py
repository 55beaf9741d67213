"""What is said of a thing or a tool in a table, in English: each fact that an author gave, once."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from putback.model.called import named
from putback.model.details import Wear
from putback.model.library import Equipment, LibraryEntry, Tool
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Part
from putback.model.said import Limit
from putback.model.screwed import left_handed
from putback.model.setting import Disturber, Setting
from putback.model.terms import Ref, When
from putback.source.grammar import counted_word, unbroken
from putback.units import Quantity, both_as, printed_alike, show
from putback.words.english.built import built_so
from putback.words.english.checking import Checking
from putback.words.english.drawn import OfDrawings
from putback.words.english.listing import Gathering
from putback.words.english.safety import LEFT_HAND
from putback.words.english.several import of_several
from putback.words.english.sizes import HEADS
from putback.words.english.stacks import OfStacks
from putback.words.english.things import at_angle, ended, joined, sentence, spaced


class Remarks(Gathering, OfDrawings, OfStacks, Checking):
    """What a catalogue of words says of facts that no sentence has."""

    # Of a thing, on the machine's page.

    def remarks(self, thing: AnyThing, *, of_thread: bool = False) -> Iterator[str]:
        """Yield what a table has no column for, a sentence each; the author's note comes last.

        With `of_thread`, it is said of how a part is screwed on; the rest stands in another table.
        """
        if of_thread and isinstance(thing, Fastener):
            yield from self._of_fastener(thing)
            return
        if isinstance(thing, Part | Fastener | Line) and thing.single_use:
            new = "new ones whenever they have" if self.several(thing) else "a new one whenever it has"
            yield f"Fit {new} been off."
        if isinstance(thing, Part | Fastener) and thing.uses:
            yield f"It may be fitted {self.how_often(thing)} before a new one is due."
        yield from self.renewed_with(thing)
        yield from of_several(thing, self.machine, self.own)
        match thing:
            case Part():
                yield from self._of_part(thing)
            case Fastener():
                yield from self._of_fastener(thing)
            case Line(adjustable=True):
                yield _MARKED
            case Fluid():
                yield from self._of_fluid(thing)
            case Setting(measured=str() as measured):
                yield sentence(f"Measured {measured}")
            case Control(guard=True):
                yield f"A guard: nothing runs unless it is {spaced(thing.normal.name)}."
            case Line() | Control() | Setting():
                pass
        several = self.several(thing)
        if thing.inspect_when_off:
            be = "they are" if several else "it is"
            yield f"Whenever {be} off, look for {joined(thing.inspect_when_off, 'or')}."
        if thing.clean_before:
            before = self._going_on(thing.clean_before)
            yield f"Clean {'them' if several else 'it'} before {before}."
        if thing.check_when_back:
            one = "filled" if isinstance(thing, Fluid) else "put back"
            been = f"{'they have' if several else 'it has'} been {one}"
            yield f"Whenever {been}, {self._is_good(thing, thing.check_when_back)}"
        yield from self._in_runs(thing)
        if thing.instead_of:
            take = "They take" if self.several(thing) else "It takes"
            yield f"{take} the place of {self._replaced(thing)}."
        if thing.note:
            yield sentence(thing.note)

    def _in_runs(self, thing: AnyThing) -> Iterator[str]:
        """Yield how a thing must be before a run, and in one."""
        if thing.check_before_run:
            yield f"Before each run, {self._is_good(thing, thing.check_before_run)}"
        if thing.check_in_run:
            yield f"During a run, {self._is_good(thing, thing.check_in_run)}"
        elif isinstance(thing, Setting) and thing.watched:
            yield "Check it during a run."

    def _is_good(self, thing: AnyThing, limit: Limit) -> str:
        return self.is_good("they" if self.several(thing) else "it", limit)

    def bought(self, thing: Fastener | Line) -> str:
        """Return how a thing is bought: `Number AG-2205, kit big-end kit (AG-2200).`; nothing when that is not said."""
        number = f"number {thing.number}" if thing.number else ""
        kit = f"kit {self.kit(self.kit_of(thing))}" if thing.kit else ""
        return sentence(", ".join(filter(None, (number, kit)))) if number or kit else ""

    def disturbers(self, disturbers: Sequence[Disturber]) -> str:
        """Return what disturbs a setting, or adjusts it: `cylinder head, rocker lock nut at inlet`."""
        return ", ".join(self._disturber(ref, at) for ref, at in disturbers)

    def _disturber(self, ref: Ref, at: Sequence[Ref]) -> str:
        thing = self.things.get(ref.name)
        name = named(thing, len(at) or None) if thing else ref.name
        return f"{name} at {joined([spaced(place.name) for place in at])}" if at else name

    def _of_part(self, thing: Part) -> Iterator[str]:
        if thing.material:
            yield self.own(f"Of {thing.material.name}.")
        yield from filter(None, [self.size_of(thing)])
        if thing.assembly:
            yield f"Comes off as one with the {self._listed(thing.assembly)}."
        if thing.adjustable:
            yield _MARKED
        if thing.loosen_evenly:
            yield "It warps unless its fasteners are loosened a little at a time, in the opposite order."
        if thing.turns_with:
            yield f"It turns with the {self._listed(thing.turns_with)}."
        if thing.guard:
            yield "A guard: nothing runs without it."
        if thing.lubricant:
            goes = ("them", "they go") if self.several(thing) else ("it", "it goes")
            yield f"Put {self._entry(self.library.consumables, thing.lubricant)} on {goes[0]} before {goes[1]} on."
        yield from self._rotation(thing)
        if thing.hangs:
            yield "Only its fasteners hold it up: it falls when they are out."
        if thing.wear:
            yield self.wear_limit(thing.wear)

    def _rotation(self, thing: Part) -> Iterator[str]:
        """Yield which way a part is turned: `Turn it clockwise only, seen from above.`"""
        seen = f", seen from {self.place(thing.seen_from)}" if thing.seen_from else ""
        if thing.rotation:
            yield f"Turn it {self.own(thing.rotation)} only{seen}: the other way may damage it, or what it turns."
        for need, way in thing.rotations:
            where = f"With the {self._listed([need.control])} in {spaced(need.position.name)}"
            yield f"{where}, turn it {self.own(way.name)} only{seen}."
        if thing.rotations:
            yield "Otherwise it turns freely, and nothing turns with it."

    def wear_limit(self, wear: Wear) -> str:
        """Return what is measured on a part, and its limit: `Height at the peak: ≥ 6.4 mm (0.252 in).`"""
        measure = wear.measure or "wear"
        new = f"new, {self.limit(wear.new)}" if wear.new else ""
        if not wear.limit:
            return sentence(f"what is measured: {measure}{new and f' ({new})'}")
        return sentence(f"{measure}: {self.limit(wear.limit)}{new and f'; {new}'}")

    def _of_fluid(self, thing: Fluid) -> Iterator[str]:
        if thing.vents:
            yield f"Air goes in and out at the {self._listed(thing.vents)}."
        if thing.level:
            yield sentence(f"its level is right {self.level_at(thing)}")
        if thing.settles:
            yield f"Check its level again after it has stood for {self.quantity(thing.settles)}."

    def _holes(self, thing: Fastener) -> str:
        """Return what a fastener is screwed into: `a blind hole`, `through holes`."""
        one = f"{'a ' if thing.count == 1 else ''}{thing.hole} {'hole' if thing.count == 1 else 'holes'}"
        return f"{one}: nothing may be left at the bottom" if thing.hole == "blind" else one

    def _of_fastener(self, thing: Fastener) -> Iterator[str]:
        if thing.torque_confirmed:
            yield f"Torque confirmed: {ended(thing.torque_confirmed)}"
        if left_handed(thing):
            yield self.own(LEFT_HAND)
        if not isinstance(thing, Part):
            yield from filter(None, [self.bought(thing)])
        yield from self._of_joint(thing)
        if thing.positions and not thing.lengths:
            places = joined([place.replace("-", " ") for place in thing.positions])
            yield f"{counted_word(len(thing.positions), 'place').capitalize()}: {places}."
        if thing.at:
            yield f"At the {self._listed([thing.at])} end."
        if thing.engagement:
            yield self.engaged(thing.engagement)
        if thing.hole:
            yield f"Screwed into {self._holes(thing)}."
        if thing.insert:
            yield f"The thread has an insert: {ended(thing.insert)}"
        if thing.bore:
            yield f"It is hollow: bore {self.quantity(thing.bore)}."
        if thing.head:
            yield f"{HEADS[thing.head]}."
        if thing.thread_length:
            threads = "Their threads are" if thing.count > 1 else "Its thread is"
            yield f"{threads} {self.quantity(thing.thread_length)} long, from the end."
        if thing.shank:
            yield f"Its shank is {self.quantity(thing.shank)} at its thinnest."
        yield from self._of_tightening(thing)

    def _of_tightening(self, thing: Fastener) -> Iterator[str]:
        """Yield what goes on a thread, with what a fastener is turned, and when once more."""
        if thing.running_torque:
            running = self.quantity(thing.running_torque)
            one = "one" if thing.count > 1 else "it"
            yield f"It takes {running} to turn {one} before it seats; the wrench is set higher by that much."
        if thing.compound:
            thread = "their threads" if thing.count > 1 else "its thread"
            yield f"Put {self._entry(self.library.consumables, thing.compound)} on {thread}."
        if thing.tool:
            yield f"It is turned through the {self._entry(self.library.tools, thing.tool)}, {self.held(thing)}."
        elif thing.wrench_angle:
            yield f"{self.own('A crowfoot spanner')} stands {self.held(thing)}."
        if thing.retighten_after:
            them = "them" if thing.count > 1 else "it"
            first = f"; loosen {them} by {self.quantity(thing.slacken)} first" if thing.slacken else ""
            yield f"Tighten {them} once more after {self.running_hours(thing.retighten_after)}{first}."
        if thing.reuse:
            yield f"It may be used again: {ended(thing.reuse)}"

    def _of_joint(self, thing: Fastener) -> Iterator[str]:
        """Yield what is held while a fastener is turned, and while what it is held itself."""
        turned = f"the {named(thing)} {'are' if thing.count > 1 else 'is'} turned"
        if thing.counterhold:
            yield f"Hold the {self._listed([thing.counterhold])} while {turned}."
        if thing.held_for:
            them = "them" if thing.count > 1 else "it"
            yield f"Hold {them} while the {self._listed([thing.held_for])} {self._are([thing.held_for])} turned."
        locks = "They lock" if thing.count > 1 else "It locks"
        settings = [ref for ref in thing.locks if isinstance(self.things.get(ref.name), Setting)]
        if held := [ref for ref in thing.locks if ref not in settings]:
            yield f"{locks} the {self._listed(held)}, which {self._are(held)} held while {turned}."
        if settings:
            yield f"{locks} the {self._listed(settings)}."

    def held(self, thing: Fastener) -> str:
        """Return how a crowfoot is held by the wrench: `in line with the wrench`, `at 90° to the wrench`."""
        angle = thing.wrench_angle.to("°").nominal if thing.wrench_angle else None
        return at_angle(float(angle or 0))

    def engaged(self, length: Quantity) -> str:
        """Return the length of thread that is engaged."""
        return f"Thread engagement: {self.quantity(length)}."

    def _entry(self, entries: Mapping[str, LibraryEntry], ref: Ref) -> str:
        entry = entries.get(ref.name)
        return entry.name if entry else ref.name

    def never_built(self, combination: When) -> str:
        """Return a combination that no machine has: `With recoil start and solenoid fuel shutoff.`"""
        clauses = [clause for case in combination.cases for clause in case]
        return sentence(
            built_so([(spaced(each.option.name), [spaced(c.name) for c in each.choices]) for each in clauses])
        )

    # Of tools and equipment, in the block that opens a job.

    def tool(self, tool: Tool, *, briefly: bool = False, torque: Quantity | None = None) -> str:
        """Return a tool with what tells it from others: `torque wrench, 20–110 N·m (15–81 lbf·ft)`.

        What is not said briefly is the step of its scale, its lever, and how far a crowfoot reaches; nor its range
        beside a `torque` that is printed in other units: nobody converts at the bench.
        """
        alike = not (torque and tool.range) or printed_alike(tool.range, torque, self.first, self.second)
        facts = [self.quantity(tool.range)] if tool.range and alike else []
        if briefly:
            return ", ".join([unbroken(tool.name), *facts])
        if tool.step:
            step = both_as(tool.step, tool.range, self.first, self.second) if tool.range else self.quantity(tool.step)
            facts += [f"in steps of {step}"]
        facts += [f"lever {show(tool.lever)}"] if tool.lever else []
        facts += [f"reach {show(tool.extends)}"] if tool.extends else []
        reads = "read" if tool.name.lower().split(" of ")[0].endswith("s") else "reads"
        facts += [f"{reads} to {joined([self.quantity(each) for each in tool.reads])}"] if tool.reads else []
        return ", ".join([unbroken(tool.name), *facts])

    def equipment(self, equipment: Equipment) -> str:
        """Return a piece of equipment with its rated load: `hoist, rated load 250 kg (550 lb)`."""
        facts = [equipment.thread] if equipment.thread else []
        facts += [f"{self.quantity(equipment.length)} long"] if equipment.length else []
        facts += [f"rated load {self.quantity(equipment.rated_load)}"] if equipment.rated_load else []
        facts += [f"keeps the {self._listed(equipment.stills)} from turning"] if equipment.stills else []
        facts += [f"keeps the {self._listed([kept])} {spaced(how.name)}" for kept, how in equipment.keeps]
        return ", ".join([equipment.name, *facts])


_MARKED = "Mark its position before it comes off."
