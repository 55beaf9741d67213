"""What is laid out, and when a job is due, in flat words: tools, equipment, intervals."""

from __future__ import annotations

from putback.joints.drives import read_drive
from putback.model.interval import CALENDAR, Interval, Lapse
from putback.model.library import Equipment, Tool
from putback.source.grammar import unbroken
from putback.units import Quantity, printed_alike
from putback.words.english import LEAST_HEAD, SCREWDRIVER
from putback.words.plain.naming import PlainNames


class PlainOutfit(PlainNames):
    """What is said of tools, equipment and intervals."""

    def tool(self, tool: Tool, *, briefly: bool = False, torque: Quantity | None = None) -> str:
        """Return a tool with what tells it from others; of a wrench, no range in other units than the torque."""
        alike = not (torque and tool.range) or printed_alike(tool.range, torque, self.first, self.second)
        facts = [self.quantity(tool.range)] if tool.range and alike else []
        if briefly:
            return ", ".join([unbroken(tool.name), *facts])
        if tool.step:
            same = tool.range
            step = self.telling.like(tool.step, same, self.first, self.second) if same else self.quantity(tool.step)
            # Translators: how fine the scale of a tool is.
            facts += [self.say("tool", "in steps of {step}", step=step)]
        if tool.lever:
            # Translators: the length of a torque wrench from the middle of its handle to its square.
            facts += [self.say("tool", "lever {length}", length=self.as_marked(tool.lever))]
        if tool.extends:
            # Translators: by how much a crowfoot or an extension makes a torque wrench longer.
            facts += [self.say("tool", "reach {length}", length=self.as_marked(tool.extends))]
        if tool.reads:
            # Translators: to which value a gauge can be read.
            reads = self.telling.listed([self.quantity(each) for each in tool.reads])
            facts += [self.say("tool", "reads to {value}", value=reads)]
        return ", ".join([unbroken(tool.name), *facts])

    def equipment(self, equipment: Equipment) -> str:
        """Return a piece of equipment with its rated load."""
        facts = [equipment.thread] if equipment.thread else []
        if equipment.length:
            facts += [self.say("equipment", "{length} long", length=self.quantity(equipment.length))]
        if equipment.rated_load:
            facts += [self.say("equipment", "rated load {load}", load=self.quantity(equipment.rated_load))]
        if equipment.stills:
            # Translators: a holder that keeps things such as a flywheel from turning.
            facts += [self.say("equipment", "keeps from turning: {things}", things=self.listed(equipment.stills))]
        for kept, how in equipment.keeps:
            thing, position = self.listed([kept]), self.word(how.name)
            # Translators: equipment that keeps a control in a position, such as a padlock on a switch.
            facts += [self.say("equipment", "keeps: {thing} – {position}", thing=thing, position=position)]
        return ", ".join([equipment.name, *facts])

    def tool_for(self, drive: str) -> str:
        """Return the name of a tool that the library has none of, by the drive that it turns."""
        hexagon, said = read_drive(drive), self.drive_said(drive)
        if hexagon is not None and hexagon.inside:
            return self.say("tool", "key or bit: {drive}", drive=said)
        if hexagon is not None and (hexagon.inside is False or hexagon.size >= LEAST_HEAD):
            return self.say("tool", "socket or spanner: {drive}", drive=said)
        if hexagon is None and any(word in drive.lower().split() for word in SCREWDRIVER):
            return self.say("tool", "screwdriver or bit: {drive}", drive=said)
        # Translators: some tool, by what it turns.
        return self.say("tool", "tool: {drive}", drive=said)

    def second_tool(self, name: str) -> str:
        """Return the name of one of two alike tools: the other turns, this one holds."""
        return self.say("tool", "{tool}, a second one to hold with", tool=name)

    # Intervals.

    def due(self, interval: Interval | None) -> str:
        """Return when a job is due."""
        if interval is None:
            return self.labels.job.when_needed
        every, first = self.lapses(interval), self.lapses(interval.first) if interval.first else ""
        several = len(list(interval.lapses())) > 1 or (interval.first and len(list(interval.first.lapses())) > 1)
        parts = [self._due(every, first)] if every or first else []
        if several:
            # Translators: after two intervals, such as "300 running hours or 24 months".
            parts.append(self.say("due", "whichever comes first"))
        said, also = ", ".join(parts), (interval.also or "").rstrip(".")
        if said and also:
            # Translators: {also} are the author's words, such as "before storage".
            return self.say("due", "{interval}; also: {also}", interval=said, also=also)
        return said or also

    def _due(self, every: str, first: str) -> str:
        if not first:
            # Translators: {interval} such as "300 running hours or 24 months".
            return self.say("due", "every {interval}", interval=every)
        if not every:
            # Translators: a job that is done once only; {interval} such as "10 running hours".
            return self.say("due", "once, after: {first}", first=first)
        return self.say("due", "first after: {first}; then every {interval}", first=first, interval=every)

    def lapses(self, interval: Interval, *, calendar: bool | None = None) -> str:
        """Return how much goes by until a job is due: by the meter, on the calendar, or both; nothing for nothing."""
        found = [(unit, lapse) for unit, lapse in interval.lapses() if calendar in (None, unit in CALENDAR)]
        return self.telling.either([self.lapse(unit, lapse) for unit, lapse in found]) if found else ""

    def lapse(self, unit: str, lapse: Lapse) -> str:
        """Return how much of one thing goes by."""
        least, most = self.telling.number(lapse.least), self.telling.number(lapse.most)
        if lapse.least != lapse.most:
            return self._span(unit, least, most)
        if lapse.most != int(lapse.most):
            return self._span(unit, "", most)
        match unit:
            case "hours":
                return self.say_count("due", "{count} running hour", "{count} running hours", int(lapse.most))
            case "months":
                return self.say_count("due", "{count} month", "{count} months", int(lapse.most))
            case "years":
                return self.say_count("due", "{count} year", "{count} years", int(lapse.most))
            case _:
                return f"{most} {unit}"

    def _span(self, unit: str, least: str, most: str) -> str:
        """Return a range of what goes by, or a number that is not whole."""
        span = f"{least}–{most}" if least else most
        match unit:
            case "hours":
                return self.say("due", "{span} running hours", span=span)
            case "months":
                return self.say("due", "{span} months", span=span)
            case "years":
                return self.say("due", "{span} years", span=span)
            case _:
                return f"{span} {unit}"
