"""The page of a machine, and the tables that prose pages can show of it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from docutils import nodes

from putback.guide.record import Guide
from putback.ledger.opened import Opened
from putback.model.called import title_of
from putback.model.machine import AnyThing, Control, Fastener, Fluid, Line, Machine, Part, kit_of
from putback.model.terms import Signal
from putback.prose.contents import jobs_in_order
from putback.sheet import sheet_of, wear_of
from putback.source.grammar import listed, unbroken
from putback.sphinxext import nodes as own
from putback.sphinxext.building import Cell, bullets, drawing, fact, link, paragraph, section, table
from putback.sphinxext.jobpage import due
from putback.sphinxext.safety import panel
from putback.words import catalogue
from putback.words.english import English
from putback.words.pieces import Role


def machine_page(opened: Opened, machine: Machine) -> nodes.section:
    """Return the page of a machine: what it is, its options, and every thing that jobs name."""
    words = catalogue(opened)
    machine = narrowed(machine, opened)
    page = section(f"The machine: {machine.name}", "machine", classes=["machine"])
    if machine.kind:
        page += paragraph(f"{machine.kind[0].upper()}{machine.kind[1:]}.")
    if machine.note:
        page += paragraph(machine.note)
    if machine.options:
        options = own.facts()
        for option, choices in machine.options.items():
            options += fact(option.replace("-", " ").capitalize(), listed([c.replace("-", " ") for c in choices], "or"))
        page += section("Options", "machine-options", options)
    for title, make in _TABLES.items():
        content = make(machine, words)
        if content is not None:
            page += section(title, nodes.make_id(f"machine-{title}"), content)
    orders = [drawn for thing in machine.things.values() if isinstance(thing, Fastener) and (drawn := drawing(thing))]
    if orders:
        page += section("Tightening orders", "machine-orders", *orders)
    return page


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
    return replace(machine, things=things, options=options)


def torques(machine: Machine, words: English) -> nodes.table | None:
    """Return the torque table by joint: fastener, thread and class, drive, thread condition, stages, torque."""
    joints: dict[str, list[Fastener]] = {}
    for thing in machine.things.values():
        if isinstance(thing, Fastener):
            joints.setdefault(_joint(thing, machine), []).append(thing)
    rows: list[list[Cell]] = []
    for joint, fasteners in joints.items():
        for thing in fasteners:
            size = ", ".join(part for part in (unbroken(thing.thread or ""), thing.grade) if part) or "–"
            threads = words.film(thing) or thing.condition_text or "–"
            name = _name(thing, words)
            if thing.count > 1:
                name.insert(0, nodes.Text(f"{thing.count} × "))
            rows.append([joint, name, size, thing.drive or "–", threads, _tightened(thing, words)])
    if not rows:
        return None
    heads = ["Joint", "Fastener", "Thread, class", "Drive", "Threads", "Torque"]
    return table(heads, rows, (17, 19, 14, 12, 15, 23), "torques")


def _joint(thing: Fastener, machine: Machine) -> str:
    """Return what a fastener holds together, in words: `pump cover to pump`."""

    def name(key: str) -> str:
        return machine.things[key].name if key in machine.things else key

    held = listed([name(ref.name) for ref in thing.holds])
    base = name(thing.to.name) if thing.to else ""
    return f"{held} to {base}" if held and base else held or (f"in {base}" if base else "–")


def _tightened(thing: Fastener, words: English) -> nodes.paragraph:
    """Return how a fastener is tightened: order, stages, torque in both units."""
    shown = nodes.paragraph()
    torque = words.torque(thing)
    if thing.stages:
        for piece in words.stages(thing):
            shown += own.torque(piece.text, piece.text) if piece.role is Role.TORQUE else nodes.Text(piece.text)
    elif torque:
        shown += own.torque(torque, torque)
    else:
        shown += nodes.Text(f"by hand: {thing.by_hand}" if thing.by_hand else thing.no_torque or "–")
    if thing.order and (torque or thing.stages):
        shown += nodes.Text(f", {thing.order}")
    return shown


def parts(machine: Machine, words: English) -> nodes.table | None:
    """Return the table of parts: name, number, kit, mass, and which are new every time."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Part):
            mass = words.quantity(thing.mass) if thing.mass else "–"
            rows.append(
                [
                    _name(thing, words),
                    thing.number or "–",
                    words.kit(kit_of(machine, thing)),
                    mass,
                    _remarks(thing, words),
                ]
            )
    return table(["Part", "Number", "Kit", "Mass", "Remarks"], rows, (30, 12, 13, 19, 26), "parts") if rows else None


def parts_to_buy(machine: Machine, words: English) -> nodes.table | None:
    """Return the table of what has a number or is single-use: parts, fasteners and lines."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Part | Fastener | Line) and (thing.number or thing.single_use):
            count = str(thing.count) if isinstance(thing, Fastener) else "1"
            new = "every time" if thing.single_use else "when worn"
            rows.append(
                [_name(thing, words, target=False), thing.number or "–", words.kit(kit_of(machine, thing)), count, new]
            )
    return table(["Part", "Number", "Kit", "Count", "New"], rows, (36, 18, 18, 10, 18), "parts") if rows else None


def lines(machine: Machine, words: English) -> nodes.table | None:
    """Return the table of hoses, pipes, cables and linkages."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Line):
            ends = [machine.things[ref.name].name if ref.name in machine.things else ref.name for ref in thing.joins]
            rows.append([_name(thing, words), thing.kind or "–", listed(ends), _remarks(thing, words)])
    return table(["Line", "Kind", "Joins", "Remarks"], rows, (26, 14, 32, 28), "lines") if rows else None


def fluids(machine: Machine, words: English) -> nodes.table | None:
    """Return the table of fluids: grade, volume, where they drain and fill."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Fluid):

            def names(refs: tuple[object, ...]) -> str:
                keys = [getattr(ref, "name", "") for ref in refs]
                return listed([machine.things[key].name if key in machine.things else key for key in keys]) or "–"

            volume = words.quantity(thing.volume) if thing.volume else "–"
            rows.append([_name(thing, words), thing.grade or "–", volume, names(thing.drains), names(thing.fills)])
    heads = ["Fluid", "Grade", "Volume", "Drains at", "Fills at"]
    return table(heads, rows, (18, 26, 20, 18, 18), "fluids") if rows else None


def controls(machine: Machine, words: English) -> nodes.table | None:
    """Return the table of controls: positions, and the one they rest in."""
    rows: list[list[Cell]] = []
    for thing in machine.things.values():
        if isinstance(thing, Control):
            positions = listed([ref.name.replace("-", " ") for ref in thing.positions], "or")
            rest = thing.rest.name.replace("-", " ")
            rows.append([_name(thing, words), positions, rest, _remarks(thing, words)])
    return table(["Control", "Positions", "At rest", "Remarks"], rows, (22, 26, 14, 38), "controls") if rows else None


_TABLES: Mapping[str, Callable[[Machine, English], nodes.table | None]] = {
    "Controls": controls,
    "Parts": parts,
    "Fasteners and torques": torques,
    "Lines": lines,
    "Fluids": fluids,
}


def _name(thing: AnyThing, words: English, *, target: bool = True) -> nodes.paragraph:
    """A thing's name; on the machine's own page it is what references lead to."""
    node = nodes.paragraph()
    if target:
        node["ids"] = [thing_id(thing.key)]
        node["putback_thing"] = thing.key
    else:
        node += link("thing", thing.key, title_of(thing))
        return node
    node += nodes.Text(title_of(thing))
    limit = words.only_when(thing.when)
    if limit:
        words_ = f" ({limit[0].lower()}{limit[1:]})"
        node += nodes.emphasis(words_, words_)
    return node


def thing_id(key: str) -> str:
    """Return the id of a thing on its machine's page."""
    # Not `thing-KEY`: Sphinx's search shortens an anchor that is made so, and writes another one in its place.
    return nodes.make_id(f"{key}-thing")


def _remarks(thing: AnyThing, words: English) -> str:
    remarks = []
    if isinstance(thing, Part):
        if thing.single_use:
            remarks.append("New every time.")
        if thing.adjustable:
            remarks.append("Mark its position before it comes off.")
        if thing.wear and thing.wear.limit:
            remarks.append(f"{(thing.wear.measure or 'wear').capitalize()}: {words.limit(thing.wear.limit)}.")
    if thing.note:
        remarks.append(thing.note)
    return " ".join(remarks) or "–"


def job_table(guide: Guide, words: English) -> nodes.Node:
    """Return the table of jobs: what, when due, how long, how many people."""
    rows: list[list[Cell]] = []
    for job in jobs_in_order(guide):
        name = nodes.paragraph()
        name += link("job", job.key, job.title)
        interval = due(job.interval) if job.interval else "when needed"
        rows.append([name, interval, words.quantity(job.time) if job.time else "–", str(job.people)])
    if not rows:
        return paragraph("This guide has no job yet.")
    return table(["Job", "Due", "Time", "People"], rows, (44, 32, 12, 12), "jobs")


def caution_panels(opened: Opened) -> list[nodes.Node]:
    """Return the safety messages that the guide's jobs show, gravest first."""
    guide, words = opened.guide, catalogue(opened)
    sheets = [sheet for job in guide.jobs.values() if (sheet := sheet_of(job, opened))]
    messages = {message.key: message for sheet in sheets for message in sheet.set_up.cautions}
    grave = list(Signal)
    result: list[nodes.Node] = []
    for message in sorted(messages.values(), key=lambda message: grave.index(message.signal)):
        node = panel(message, words.wear(wear_of(message, guide.library)))
        node["ids"] = [nodes.make_id(f"{message.key}-caution")]
        node["putback_caution"] = message.key
        result.append(node)
    return result or [bullets(["None."])]
