"""Which tools a job asks for: those of its steps, and those that its fasteners are turned and held with."""

from __future__ import annotations

from putback.joints.stages import torque_of
from putback.joints.wrench import Use, fewest, usable, wrench_of
from putback.ledger.entries import Entry
from putback.model.machine import Fastener
from putback.model.setting import Setting
from putback.model.turned import adjusting_tool, fitting_tool, held_with, holding_tool, is_locked, set_to, turning_tool
from putback.model.verbs.pieces import Install, Remove, Replace, Tighten
from putback.sheet.lines import SecondTool
from putback.sheet.survey import Branch, Survey
from putback.sheet.wanted import Wanted
from putback.units import Quantity
from putback.variants import NONE, VariantSet


class Tooling:
    """Notes the tools of one job."""

    def __init__(self, survey: Survey) -> None:
        """Take the book."""
        self.survey = survey
        self.machine = survey.book.graph.machine
        self.library = survey.book.library
        self.tools, self.seconds = Wanted[str](survey), Wanted[str](survey)
        self.drives = Wanted[tuple[str, bool]](survey)
        self.torques: list[tuple[Quantity, Branch, VariantSet]] = []

    def named(self, name: str, branch: Branch, variants: VariantSet) -> None:
        """Note a tool by its name in the library, or by other words."""
        tool = self.library.tools.get(name)
        self.tools.add(name, tool.name if tool else name, branch, variants)

    def turn(self, entry: Entry, thing: Fastener, branch: Branch, variants: VariantSet) -> None:
        """Note what turns a fastener, and what holds its counterpart."""
        action = entry.step.action
        named = (self.library.tools.get(tool.name) for tool in entry.step.tools)
        if thing.drive and not any(tool and tool.turns(thing.drive) for tool in named):
            self.drive(thing.drive, branch, variants, torqued=thing.last_torque is not None)
        self.hold(entry, thing, branch, variants)
        torque = action.shown(thing) if isinstance(action, Tighten) else thing.last_torque
        if isinstance(action, Tighten | Replace) and torque and variants != NONE:
            staged = isinstance(action, Tighten) and not (action.torque or action.stage or action.once_more)
            stages = [torque_of(stage, thing.due_torque) for stage in thing.stages] if staged else []
            for each in dict.fromkeys([torque, *filter(None, stages)]):
                self.torques.append((set_to(thing, each), branch, variants))
        if thing.tool and isinstance(action, Tighten):
            self.named(thing.tool.name, branch, variants)

    def adjust(self, entry: Entry, setting: Setting, branch: Branch, variants: VariantSet) -> None:
        """Note the tools that turn what a setting is adjusted by."""
        for ref, _ in setting.adjusted_by:
            thing = self.machine.things.get(ref.name)
            if isinstance(thing, Fastener) and thing.drive and thing.last_torque is None:
                here = self.survey.space.both(variants, self.survey.book.graph.present(thing.key))
                others = (each for each in self.machine.things.values() if isinstance(each, Fastener))
                nut = next((each for each in others if is_locked(thing, each)), thing)
                tool = adjusting_tool(thing, nut, self.library, entry.step.tools)
                key, name = (tool.key, tool.name) if tool else (f"for {thing.drive}", thing.drive)
                self.tools.add(key, name, branch, here)

    def hold(self, entry: Entry, thing: Fastener, branch: Branch, variants: VariantSet) -> None:
        """Note the tools that hold what is held while a fastener is turned."""
        if isinstance(entry.step.action, Install):
            return
        for held in held_with(thing, self.machine.things, comes_out=isinstance(entry.step.action, Remove | Replace)):
            tool = holding_tool(held, thing, self.library, entry.step.tools)
            turning = turning_tool(thing, self.library)
            if tool is not None:
                self.tools.add(tool.key, tool.name, branch, variants)
            elif isinstance(held, Fastener) and held.drive and is_locked(held, thing):
                self.tools.add(f"for {held.drive}", held.drive, branch, variants)
            elif turning and isinstance(held, Fastener) and turning.turns(held.drive):
                self.seconds.add(turning.key, SecondTool(turning.name), branch, variants)
            elif isinstance(held, Fastener) and held.drive and held.drive == thing.drive:
                self.seconds.add(held.drive, SecondTool(held.drive), branch, variants)
            elif isinstance(held, Fastener) and held.drive:
                self.drive(held.drive, branch, variants, torqued=False)

    def drive(self, drive: str, branch: Branch, variants: VariantSet, *, torqued: bool) -> None:
        """Note a drive."""
        self.drives.add(f"{drive} {torqued}", (drive, torqued), branch, variants)

    def needed_tools(self) -> None:
        """Add tools that fit the fasteners' drives, and the fewest torque wrenches that cover the torques."""
        tools = self.library.tools
        for (drive, torqued), uses in self.drives.uses.values():
            fitting = fitting_tool(drive, self.library, torqued=torqued)
            key, name = (fitting.key, fitting.name) if fitting else (f"for {drive}", drive)
            for branch, variants in uses.items():
                self.tools.add(key, name, branch, variants)
        known = [wrench_of(tool.key, tool.range) for tool in tools.values() if tool.range]
        chosen = fewest(known, list({torque.text: torque for torque, _, _ in self.torques}.values())).wrenches
        for torque, branch, variants in self.torques:
            fits = [wrench.key for wrench in chosen if usable(wrench, torque) is not Use.OUT]
            for key in fits[:1]:
                self.tools.add(key, tools[key].name, branch, variants)
