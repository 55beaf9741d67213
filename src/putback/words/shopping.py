"""A shopping list in words: its labels, and each row as the terminal, a table of values and a page show it."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from putback.ledger.opened import Opened
from putback.model.details import Kit
from putback.model.library import Equipment, Tool
from putback.model.machine import Fastener, Fluid, Line, Part
from putback.sheet.lines import SecondTool
from putback.sheet.supply import ShoppingList, Supply, SupplyKind
from putback.source.plainly import printable
from putback.words.language import Language


class ShownSupply(NamedTuple):
    """A row of a shopping list, in words."""

    supply: Supply
    """What it is about."""
    amount: str
    """How many, or how much; nothing for what is not counted."""
    name: str
    """What it is, without the variants."""
    number: str
    """Its part number; nothing when it has none."""
    variants: str
    """For which variants it is; nothing for all."""
    only_if: str
    """On which steps of which jobs it hangs; nothing for what is needed in any case."""
    remark: str
    """In which kit it is as well, or what is left over of it."""

    @property
    def limits(self) -> str:
        """All that limits it, and the remark, as it stands in brackets or in a column."""
        return "; ".join(filter(None, (self.variants, self.only_if, self.remark)))


class ShownPart(NamedTuple):
    """The rows under one heading."""

    title: str
    """The heading."""
    rows: tuple[ShownSupply, ...]
    """The rows."""


def shown_list(wanted: ShoppingList, opened: Opened, words: Language) -> Iterator[ShownPart]:
    """Yield the parts of a list that have something in them; what only branches need comes last."""
    for kind in SupplyKind:
        rows = tuple(shown(each, opened, words) for each in wanted.needed if each.kind is kind)
        if rows:
            yield ShownPart(heading(kind, words), rows)
    if wanted.perhaps:
        yield ShownPart(words.labels.supplies.perhaps, tuple(shown(each, opened, words) for each in wanted.perhaps))


def heading(kind: SupplyKind, words: Language) -> str:
    """Return the heading of the rows of one kind."""
    job = words.labels.job
    return {
        SupplyKind.KIT: words.labels.supplies.kits,
        SupplyKind.PART: job.new_parts,
        SupplyKind.FLUID: words.labels.machine.fluids,
        SupplyKind.CONSUMABLE: job.consumables,
        SupplyKind.TOOL: job.tools,
        SupplyKind.EQUIPMENT: job.equipment,
        SupplyKind.WEAR: job.wear,
    }[kind]


def shown(supply: Supply, opened: Opened, words: Language) -> ShownSupply:
    """Return a row in words."""
    titles = {key: job.title for key, job in opened.guide.jobs.items()}
    what, labels = supply.what, words.labels.supplies
    amount = words.count(supply.count, varies=supply.varies) if supply.count else ""
    remark = labels.over.format(names=words.left_over(supply.over)) if supply.over else ""
    number = ""
    match what:
        case Kit():
            name, number = what.name, what.number or ""
        case Part() | Fastener() | Line():
            name, number = words.title_of(what), what.number or ""
            remark = labels.in_kit.format(kit=words.kit(supply.kit)) if supply.kit else ""
            amount = "" if isinstance(what, Fastener) and what.uncounted else amount
        case Fluid():
            name, amount = words.fluid(what, None), words.quantity(supply.volume) if supply.volume else ""
        case _:
            name = laid_out_name(what, words)
    only_if = words.only_in([(titles.get(each.job, each.job), each.steps) for each in supply.only_if])
    name = name[:1].upper() + name[1:]  # as the names of parts stand at the head of a row
    return ShownSupply(supply, amount, name, number, words.only_for(supply.when), only_if, remark)


def laid_out_name(what: str, words: Language) -> str:
    """Return what a tool or a piece of equipment is called, with what is known of it; other words as they are."""
    shelves = (words.library.equipment.values(), words.library.tools.values())
    known: dict[str, Tool | Equipment] = {each.name: each for shelf in shelves for each in shelf}
    drives = {each.drive for each in words.things.values() if isinstance(each, Fastener)}
    entry = known.get(str(what))
    match entry:
        case Tool():
            name = words.tool(entry)
        case Equipment():
            name = words.equipment(entry)
        case _:
            name = words.tool_for(str(what)) if str(what) in drives else str(what)
    return words.second_tool(name) if isinstance(what, SecondTool) else name


def heads_of(wanted: ShoppingList, opened: Opened, words: Language) -> tuple[str, list[str]]:
    """Return the title of a list, and the lines below it: for which jobs it is, and for which variants alone."""
    labels, machine = words.labels.supplies, opened.guide.machine
    lines = [f"{labels.jobs}: {words.names([job.title for job in wanted.jobs])}"]
    if opened.only:
        only = [f"{words.option(option)} = {words.position_name(choice)}" for option, choice in opened.only]
        lines.append(f"{labels.only}: {words.names(only)}")
    return labels.title.format(machine=machine.name if machine else ""), lines


def as_text(wanted: ShoppingList, opened: Opened, words: Language) -> str:
    """Return a list for a terminal."""
    labels = words.labels.supplies
    title, heads = heads_of(wanted, opened, words)
    lines = [title, *heads]
    parts = list(shown_list(wanted, opened, words))
    for part in parts:
        width = max(len(row.amount) for row in part.rows)
        lines += ["", part.title]
        for row in part.rows:
            number = f"  {row.number}" if row.number else ""
            limits = f"  ({row.limits})" if row.limits else ""
            lines.append(f"  {row.amount:>{width}}{'  ' if width else ''}{row.name}{number}{limits}")
    lines += ["", labels.lead if parts else labels.nothing]
    return "".join(f"{printable(line)}\n" for line in lines)
