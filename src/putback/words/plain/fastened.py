"""What is said of a fastener in a table, in flat sentences."""

from __future__ import annotations

from collections.abc import Iterator

from putback.model.machine import Fastener, Line, Part
from putback.model.screwed import left_handed
from putback.model.setting import Setting
from putback.units import Quantity
from putback.words.plain.drawings import PlainDrawings
from putback.words.plain.runs import ended
from putback.words.plain.sizes import HEADS
from putback.words.plain.stacks import PlainStacks
from putback.words.plain.tightening import PlainTightening


class PlainFastened(PlainDrawings, PlainStacks, PlainTightening):
    """What is said of the facts of fasteners."""

    def bought(self, thing: Fastener | Line) -> str:
        """Return how a thing is bought; nothing when that is not said."""
        kit = self.kit(self.kit_of(thing)) if thing.kit else ""
        if thing.number and kit:
            return self.say("remark", "Number {number}, kit: {kit}.", number=thing.number, kit=kit)
        if thing.number:
            return self.say("remark", "Number {number}.", number=thing.number)
        return self.say("remark", "Kit: {kit}.", kit=kit) if kit else ""

    def of_fastener(self, thing: Fastener) -> Iterator[str]:
        """Yield what is said of a fastener."""
        if thing.torque_confirmed:
            # Translators: an unusual torque is right; {source} are the author's words.
            yield self.say("remark", "Torque confirmed: {source}", source=ended(thing.torque_confirmed))
        if left_handed(thing):
            yield self.both_hands()
        if not isinstance(thing, Part):
            yield from filter(None, [self.bought(thing)])
        yield from self._of_joint(thing)
        if thing.positions and not thing.lengths:
            yield self.say("remark", "Places: {places}.", places=self.words(thing.positions))
        if thing.at:
            # Translators: a fastener holds one end of a hose or a cable, the one at this part.
            yield self.say("remark", "At the end: {part}.", part=self.listed([thing.at]))
        yield from self._of_thread(thing)
        yield from self._of_tightening(thing)

    def _of_thread(self, thing: Fastener) -> Iterator[str]:
        if thing.engagement:
            yield self.engaged(thing.engagement)
        if thing.hole == "blind":
            # Translators: a hole that does not go through.
            yield self.say("remark", "Screwed into a blind hole: nothing may be left at the bottom.")
        elif thing.hole:
            yield self.say("remark", "Screwed into a through hole.")
        if thing.insert:
            # Translators: a thread insert of wire; {insert} are the author's words.
            yield self.say("remark", "The thread has an insert: {insert}", insert=ended(self.written(thing.insert)))
        if thing.bore:
            # Translators: a hollow bolt, as of a banjo fitting, with the diameter of its hole.
            yield self.say("remark", "Hollow: bore {size}.", size=self.quantity(thing.bore))
        if thing.head:
            yield f"{self.telling.told(HEADS[thing.head])}."
        if thing.thread_length:
            yield self.say(
                "remark", "Length of the thread, from the end: {size}.", size=self.quantity(thing.thread_length)
            )
        if thing.shank:
            # Translators: of a waisted bolt.
            yield self.say("remark", "Shank at its thinnest: {size}.", size=self.quantity(thing.shank))

    def engaged(self, length: Quantity) -> str:
        """Return the length of thread that is engaged."""
        return self.say("remark", "Thread engagement: {size}.", size=self.quantity(length))

    def _of_tightening(self, thing: Fastener) -> Iterator[str]:
        """Yield what goes on a thread, with what a fastener is turned, and when once more."""
        if thing.running_torque:
            # Translators: of a self-locking nut, which turns heavily before it seats.
            yield self.say(
                "remark",
                "Before it seats, turning takes {torque}; the wrench is set higher by that much.",
                torque=self.quantity(thing.running_torque),
            )
        if thing.compound:
            # Translators: what goes on a thread, such as thread-locker.
            yield self.say("remark", "Put on the thread: {consumable}.", consumable=self.consumable(thing.compound))
        angle = self.at_angle(float(thing.wrench_angle.to("°").nominal or 0) if thing.wrench_angle else 0)
        if thing.tool:
            # Translators: a crowfoot or an extension, and how it stands: "at 90° to the wrench".
            yield self.say(
                "remark",
                "Turned through: {tool}, {angle}.",
                tool=self.entry(self.library.tools, thing.tool),
                angle=angle,
            )
        elif thing.wrench_angle:
            # Translators: a crowfoot spanner on a torque wrench; {angle} such as "at 90° to the wrench".
            yield self.say("remark", "A crowfoot spanner stands {angle}.", angle=angle)
        if thing.retighten_after and thing.slacken:
            yield self.say(
                "remark",
                "Tighten once more after {hours}; first loosen by {angle}.",
                hours=self.running_hours(thing.retighten_after),
                angle=self.quantity(thing.slacken),
            )
        elif thing.retighten_after:
            yield self.say(
                "remark", "Tighten once more after {hours}.", hours=self.running_hours(thing.retighten_after)
            )
        if thing.reuse:
            # Translators: {why} are the author's words.
            yield self.say("remark", "May be used again: {why}", why=ended(thing.reuse))

    def _of_joint(self, thing: Fastener) -> Iterator[str]:
        """Yield what is held while a fastener is turned, and while what it is held itself."""
        if thing.counterhold:
            # Translators: of a nut: its bolt is held while it is turned.
            yield self.say("remark", "While it is turned, hold: {things}.", things=self.listed([thing.counterhold]))
        if thing.held_for:
            # Translators: of a bolt: it is held while its nut is turned.
            yield self.say("remark", "Hold it while this is turned: {things}.", things=self.listed([thing.held_for]))
        settings = [ref for ref in thing.locks if isinstance(self.things.get(ref.name), Setting)]
        if held := [ref for ref in thing.locks if ref not in settings]:
            # Translators: of a lock nut; what it locks, such as an adjuster, is held meanwhile.
            yield self.say("remark", "Locks: {things}. Hold that while this is turned.", things=self.listed(held))
        if settings:
            # Translators: of a lock nut; {settings} such as "valve clearance".
            yield self.say("remark", "Locks the setting: {settings}.", settings=self.listed(settings))
