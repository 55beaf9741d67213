"""The page of a machine, and the tables that prose pages can show of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from docutils import nodes

from putback.guide.record import Guide
from putback.ledger.opened import Opened
from putback.model.kits import kit_of
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Machine, Part
from putback.model.said import source_of
from putback.model.screwed import AlikeParts
from putback.model.setting import Setting
from putback.prose.contents import jobs_in_order
from putback.sheet import sheet_of
from putback.source.grammar import unbroken
from putback.sphinxext import nodes as own
from putback.sphinxext.building import Cell, Noted, bullets, link, paragraph, section, table
from putback.sphinxext.drawn import drawings_of
from putback.sphinxext.optionstable import choices_of, options
from putback.sphinxext.pointers import Pointers
from putback.sphinxext.things import see_elsewhere, shown_elsewhere
from putback.words import Language, catalogue
from putback.words.labels import MachineLabels
from putback.words.pieces import Role


def machine_page(opened: Opened, machine: Machine) -> nodes.section:
    """Return the page of a machine: what it is, its options, and every thing that jobs name."""
    words = catalogue(opened)
    labels = words.labels.machine
    machine = narrowed(machine, opened)
    page = section(labels.title.format(machine=machine.name), "machine", classes=["machine"])
    if machine.kind:
        page += paragraph(f"{machine.kind[0].upper()}{machine.kind[1:]}.")
    if machine.note:
        page += paragraph(machine.note)
    shown = shown_elsewhere(opened.guide)
    if machine.options:
        told = None if "options" in shown else options(machine, words)
        block = section(labels.options, "machine-options", told or choices_of(machine, words))
        if machine.exclude:
            block += paragraph(labels.never_built, "leads-in")
            block += bullets(map(words.never_built, machine.exclude))
        page += block
    elsewhere: dict[str, str] = {}
    for ident, (title, make) in _TABLES.items():
        content = make(machine, words)
        if content is not None and ident in shown:
            elsewhere[title(labels)] = _first_thing(content)
        elif content is not None:
            page += section(title(labels), f"machine-{ident}", content)
    if elsewhere:
        page.insert(_after_note(page), see_elsewhere(elsewhere, words))
    sheets = [sheet for job in jobs_in_order(opened.guide) if (sheet := sheet_of(job, opened))]
    page += list(drawings_of(machine, sheets, words))
    Pointers(opened, words).put_in(page)
    return page


def _after_note(page: nodes.section) -> int:
    """Return the place before the first section of a page."""
    return next((at for at, child in enumerate(page.children) if isinstance(child, nodes.section)), len(page))


def _first_thing(content: nodes.Element) -> str:
    """Return the name of the first thing that a table describes; nothing when it describes none."""
    return next((node["putback_thing"] for node in content.findall(nodes.paragraph) if "putback_thing" in node), "")


def narrowed(machine: Machine, opened: Opened) -> Machine:
    """Return a machine with only those things and options that the chosen variants have."""
    graph = opened.graph
    if not opened.only or graph is None:
        return machine
    things = {key: thing for key, thing in machine.things.items() if graph.applies(thing.when)}
    options = {
        option: tuple(choice for choice in choices if graph.space.possible(option, choice))
        for option, choices in machine.options.items()
    }
    stacks = tuple(stack for stack in machine.stacks if graph.applies(stack.when))
    return replace(machine, things=things, options=options, stacks=stacks)


def torques(machine: Machine, words: Language) -> nodes.table | None:
    """Return the torque table by joint: fastener with its joint, size and drive, thread condition, torque, remarks."""
    joints: dict[str, list[Fastener]] = {}
    for thing in machine.things.values():
        if isinstance(thing, Fastener) and not isinstance(thing, AlikeParts):
            joints.setdefault(_joint(thing, machine, words), []).append(thing)
    rows: list[list[Cell]] = []
    for joint, fasteners in joints.items():
        for thing in fasteners:
            screwed = isinstance(thing, Part)
            name = _name(thing, words, target=not screwed)
            if times := _times(thing, words):
                name.insert(0, nodes.Text(times))
            cell = [name, paragraph(joint, "joint")] if joint else [name]
            threads = words.thread_state(thing) or "–"
            remarks = _remarks(thing, words, of_thread=screwed)
            rows.append(Noted([cell, _size(thing, words), threads, _tightened(thing, words)], remarks))
    if not rows:
        return None
    labels = words.labels.machine
    heads = [labels.fastener, labels.size, labels.threads, labels.torque]
    return table(heads, rows, (32, 22, 18, 28), "torques")


def _times(thing: Fastener, words: Language) -> str:
    """Return how many pieces there are, in front of their name: `2 × `; `2 or 3 × ` where that differs by variant."""
    counts = sorted({count for _, count in thing.counts}) or [thing.count]
    return f"{words.choices([str(count) for count in counts])} × " if max(counts) > 1 else ""


def _size(thing: Fastener, words: Language) -> str:
    """Return the thread, class, length and drive of a fastener: `M6 x 1.0, 8.8, 16 mm, hex 10 mm`.

    What kind of piece it is stands first, where its name does not tell.
    """
    kind = words.kind(thing.kind) if thing.kind and thing.kind not in source_of(thing.name) else ""
    facts = (kind, unbroken(thing.thread or ""), thing.grade, *words.lengths(thing), words.driven(thing))
    return ", ".join(filter(None, facts)) or "–"


def _joint(thing: Fastener, machine: Machine, words: Language) -> str:
    """Return what a fastener holds together, in words: `pump cover to pump`."""

    def name(key: str) -> str:
        return machine.things[key].name if key in machine.things else key

    return words.joint(thing, [name(ref.name) for ref in thing.secures], name(thing.to.name) if thing.to else None)


def _tightened(thing: Fastener, words: Language) -> nodes.paragraph:
    """Return how a fastener is tightened: order, stages, torque in both units."""
    shown = nodes.paragraph()
    for piece in words.how_tight(thing):
        shown += own.torque(piece.text, piece.text) if piece.role is Role.TORQUE else nodes.Text(piece.text)
    return shown


def parts(machine: Machine, words: Language) -> nodes.table | None:
    """Return the table of parts: name, number, kit, mass, and which are new every time."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Part):
            mass = words.quantity(thing.mass) if thing.mass else "–"
            name = _name(thing, words)
            if isinstance(thing, AlikeParts) and (times := _times(thing, words)):
                name.insert(0, nodes.Text(times))
            facts: list[Cell] = [name, thing.number or "–", words.kit(kit_of(machine, thing)), mass]
            rows.append(Noted(facts, _remarks(thing, words)))
    labels, job = words.labels.machine, words.labels.job
    heads = [job.part, job.number, job.kit, labels.mass]
    return table(heads, rows, (34, 18, 26, 22), "parts") if rows else None


def parts_to_buy(machine: Machine, words: Language, opened: Opened) -> nodes.table | None:
    """Return the table of what has a number or is single-use: parts, fasteners and lines.

    Where one job takes more of them than there are on the machine, both numbers stand there.
    """
    labels, job = words.labels.machine, words.labels.job
    rows: list[list[Cell]] = []
    sheets = [sheet for each in opened.guide.jobs.values() if (sheet := sheet_of(each, opened))]
    most: dict[str, int] = {}
    for bought in (bought for sheet in sheets for bought in sheet.set_up.parts):
        most[bought.thing.key] = max(bought.count, most.get(bought.thing.key, 0))
    for thing in machine.things.values():
        if isinstance(thing, Part | Fastener | Line) and (thing.number or thing.single_use):
            count = (_times(thing, words).removesuffix(" × ") or "1") if isinstance(thing, Fastener) else "1"
            new = labels.every_time if thing.single_use else labels.when_worn
            if thing.single_use and count.isdigit() and most.get(thing.key, 0) > int(count):
                count = labels.in_one_job.format(count=count, most=most[thing.key])
            rows.append(
                [_name(thing, words, target=False), thing.number or "–", words.kit(kit_of(machine, thing)), count, new]
            )
    heads = [job.part, job.number, job.kit, labels.fitted, labels.new]
    return table(heads, rows, (36, 18, 18, 10, 18), "parts") if rows else None


def lines(machine: Machine, words: Language) -> nodes.table | None:
    """Return the table of hoses, pipes, cables and linkages."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Line):
            ends = [machine.things[ref.name].name if ref.name in machine.things else ref.name for ref in thing.joins]
            remarks = " ".join(filter(None, (words.bought(thing), _remarks(thing, words)))).removesuffix(" –")
            rows.append(
                [_name(thing, words), words.kind(thing.kind) if thing.kind else "–", words.names(ends), remarks]
            )
    labels = words.labels.machine
    heads = [labels.line, labels.kind, labels.joins, labels.remarks]
    return table(heads, rows, (26, 14, 32, 28), "lines") if rows else None


def fluids(machine: Machine, words: Language) -> nodes.table | None:
    """Return the table of fluids: grade, volume, where they drain and fill."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Fluid):

            def names(refs: tuple[object, ...]) -> str:
                keys = [getattr(ref, "name", "") for ref in refs]
                return words.names([machine.things[key].name if key in machine.things else key for key in keys]) or "–"

            volume = words.quantity(thing.volume) if thing.volume else "–"
            ways = [names(thing.drains), names(thing.fills)]
            rows.append(Noted([_name(thing, words), thing.grade or "–", volume, *ways], _remarks(thing, words)))
    labels = words.labels.machine
    heads = [labels.fluid, labels.grade, labels.volume, labels.drains_at, labels.fills_at]
    return table(heads, rows, (18, 26, 22, 17, 17), "fluids") if rows else None


def controls(machine: Machine, words: Language) -> nodes.table | None:
    """Return the table of controls: positions, and the normal one."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Control):
            normal = words.position_name(thing.normal.name)
            rows.append([_name(thing, words), words.positions(thing), normal, _remarks(thing, words)])
    labels = words.labels.machine
    heads = [labels.control, labels.positions, labels.normal, labels.remarks]
    return table(heads, rows, (20, 34, 12, 34), "controls") if rows else None


def settings(machine: Machine, words: Language) -> nodes.table | None:
    """Return the table of settings: limit, what disturbs them, what adjusts them."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Setting):
            limit = words.limit(thing.limit) if thing.limit else "–"
            by = [words.disturbers(each) or "–" for each in (thing.disturbed_by, thing.adjusted_by)]
            rows.append(Noted([_name(thing, words), limit, *by], _remarks(thing, words)))
    labels = words.labels.machine
    heads = [labels.setting, labels.limit, labels.disturbed_by, labels.adjusted_by]
    return table(heads, rows, (24, 24, 30, 22), "settings") if rows else None


_TABLES: Mapping[str, tuple[Callable[[MachineLabels], str], Callable[[Machine, Language], nodes.table | None]]] = {
    "controls": (lambda labels: labels.controls, controls),
    "parts": (lambda labels: labels.parts, parts),
    "fasteners-and-torques": (lambda labels: labels.fasteners, torques),
    "lines": (lambda labels: labels.lines, lines),
    "fluids": (lambda labels: labels.fluids, fluids),
    "settings": (lambda labels: labels.settings, settings),
}
"""The tables of the page, each by the end of its address, with its title."""


def _name(thing: AnyThing, words: Language, *, target: bool = True) -> nodes.paragraph:
    """A thing's name; on the machine's own page it is what references lead to."""
    node = nodes.paragraph()
    if target:
        node["ids"] = [thing_id(thing.key)]
        node["putback_thing"] = thing.key
    else:
        node += link("thing", thing.key, words.title_of(thing))
        return node
    name, row = words.title_of(thing), words.row(words.title_of(thing), thing.when)
    node += nodes.Text(name)
    if row != name:
        limit = row.removeprefix(name).strip()
        node += [nodes.Text(" "), nodes.emphasis(limit, limit)]
    return node


def thing_id(key: str) -> str:
    """Return the id of a thing on its machine's page."""
    # Not `thing-KEY`: Sphinx's search shortens an anchor that is made so, and writes another one in its place.
    return nodes.make_id(f"{key}-thing")


def _remarks(thing: AnyThing, words: Language, *, of_thread: bool = False) -> str:
    return " ".join(words.remarks(thing, of_thread=of_thread)) or "–"


def job_table(guide: Guide, words: Language) -> nodes.Node:
    """Return the table of jobs: what, when due, how long, how many people."""
    rows: list[list[Cell]] = []
    for job in jobs_in_order(guide):
        name = nodes.paragraph()
        name += link("job", job.key, job.title)
        interval = words.due(job.interval)
        rows.append([name, interval, words.quantity(job.time) if job.time else "–", str(job.people)])
    if not rows:
        return paragraph(words.labels.machine.no_job)
    labels = words.labels.job
    heads = [words.labels.machine.job, labels.due, labels.time, labels.people]
    return table(heads, rows, (44, 32, 12, 12), "jobs")
