"""What the sheet of a job lists of the whole of it: torques, controls, pieces with their steps."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence

from docutils import nodes

from putback.model.library import Tool
from putback.model.machine import Fastener
from putback.model.turned import dial_of, set_to
from putback.model.verbs.pieces import Tighten
from putback.sheet import CountBack, JobSheet, SheetStep
from putback.sphinxext import nodes as own
from putback.sphinxext.building import NONE, Cell, inlines, paragraph, table
from putback.sphinxext.countback import pieces_of
from putback.sphinxext.stepfacts import wrenches_of
from putback.sphinxext.tables import BOX
from putback.units import Quantity
from putback.words import Language


def torque_table(sheet: JobSheet, words: Language, wrenches: Sequence[Tool]) -> nodes.table | None:
    """Return the torques of a job in the order of its steps; None when it has none."""
    rows = [row for line in sheet.walk() for row in _torques(line, words, wrenches)]
    labels = words.labels
    heads = [labels.job.at_step, labels.machine.fastener, labels.bench.torque, labels.bench.wrench, labels.upkeep.done]
    return table(heads, rows, (8, 36, 28, 20, 8), "torques") if rows else None


def _torques(line: SheetStep, words: Language, wrenches: Sequence[Tool]) -> Iterator[list[Cell]]:
    action = line.step.action
    for ref in line.step.things if isinstance(action, Tighten) else ():
        thing = words.things.get(ref.name)
        assert isinstance(action, Tighten)
        torque = action.shown(thing) if isinstance(thing, Fastener) else None
        if not isinstance(thing, Fastener) or torque is None:
            continue
        count = action.count or thing.count
        name = words.title_of(thing) + (f" × {count}" if count > 1 else "")
        size = words.facts(thing).strip(" ()")
        named = words.row(name, line.when)
        what = [paragraph(f"{named}: {size}" if size else named)]
        strong = nodes.paragraph()
        if thing.stages and action.torque is None:
            strong += inlines(words.stages(thing))
        else:
            strong += own.torque(words.quantity(torque), words.quantity(torque))
        with_tool = list(_wrench(line, thing, torque, words, wrenches))
        film = words.film(thing)
        strong += [nodes.Text(f", {film}")] if film else []
        yield [line.number, what, [strong], with_tool or NONE, BOX]


def _wrench(
    line: SheetStep, thing: Fastener, torque: Quantity, words: Language, wrenches: Sequence[Tool]
) -> Iterator[nodes.paragraph]:
    """Yield the torque wrench, and what is set on it where that is not the torque."""
    labels = words.labels.bench
    dial = dial_of(thing, torque, words.library, line.step.tools)
    setting = dial.setting if dial and dial.wrench.lever else set_to(thing, torque)
    named = [words.library.tools[ref.name] for ref in line.step.tools if ref.name in words.library.tools]
    # What holds or levers while one tightens is no wrench, and is told at the step.
    tools = [
        *(tool for tool in named if tool.range or tool.extends or tool.drives),
        *wrenches_of(line.step, words, wrenches),
    ]
    for tool in tools:
        yield paragraph(tool.name)
    if words.quantity(setting) != words.quantity(torque):
        yield paragraph(labels.setting.format(setting=words.quantity(setting)))


def control_table(sheet: JobSheet, words: Language) -> nodes.table:
    """Return the controls that a job moves, with their positions before and after it."""
    labels, rows = words.labels, list[list[Cell]]()
    for row in sheet.controls:
        said = [
            labels.bench.position_at.format(position=words.choices([position]), step=number)
            for number, position in row.steps
        ]
        name = words.row(words.title_of(row.control), row.when)
        rows.append([name, words.choices([row.before]), "; ".join(said), words.choices([row.after]), BOX])
    heads = [labels.machine.control, labels.bench.before, labels.bench.set_at, labels.bench.after, labels.upkeep.done]
    return table(heads, rows, (26, 14, 34, 14, 12), "controls")


def pieces_table(rows: Sequence[CountBack], place: Callable[[CountBack], str], words: Language) -> nodes.table:
    """Return the count-back, each piece with its size, where it lies, and at which steps it comes off and goes back.

    How many go back is said where not all do.
    """
    labels, bench = words.labels.job, words.labels.bench
    left = any(row.back != row.out for row in rows if row.out)
    body: list[list[Cell]] = []
    for row in rows:
        size = words.facts(row.thing).strip(" ()") if isinstance(row.thing, Fastener) else ""
        named = words.row(words.title_of(row.thing), row.when, row.only_if)
        what = [paragraph(f"{named}: {size}" if size else named)]
        off = ", ".join(row.off) or ("–" if not row.out else bench.already)
        on = ", ".join(row.on) or ("–" if not row.out else bench.stays_off)
        counts = [row.out, *([row.back] if left else []), row.new]
        body.append(
            [what, *(pieces_of(row.thing, each, row.varies, words) for each in counts), place(row), off, on, BOX]
        )
    back = [labels.back] if left else []
    heads = [
        labels.piece,
        labels.out,
        *back,
        labels.new,
        words.labels.tray.field,
        bench.off_at,
        bench.on_at,
        words.labels.upkeep.done,
    ]
    return table(heads, body, (40, *(8 for _ in heads[1:])), "count-back")
