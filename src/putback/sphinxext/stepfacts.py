"""What stands below the sentence of a step: the author's note and reason, tools, masses, time, lines to write on."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from docutils import nodes

from putback.joints.wrench import Use, usable, wrench_of
from putback.model.good import limit_of
from putback.model.job import Step
from putback.model.library import Library, Tool
from putback.model.machine import Fastener
from putback.model.readings import readings_of
from putback.model.turned import dial_of, set_to
from putback.model.verbs.adjusting import Adjust
from putback.model.verbs.asking import Measure
from putback.model.verbs.pieces import Tighten
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.units import Quantity
from putback.words import Language


def step_facts(step: Step, words: Language, wrenches: Sequence[Tool]) -> Iterator[nodes.Node]:
    """Yield what an author says of a step beside its sentence, a paragraph each.

    `wrenches` are the torque wrenches that are laid out for the job.
    """
    if step.note:
        yield paragraph(step.note, "note")
    if step.because:
        yield paragraph(words.reason(step.because), "because")
    library = words.library
    torque = next(_torques(step, words), None)
    tools = [_tool(ref.name, library, words, torque) for ref in step.tools]
    tools += [words.tool(tool, briefly=True, torque=torque) for tool in wrenches_of(step, words, wrenches)]
    if tools:
        labels = words.labels.job
        one = labels.tool.format(name=tools[0])
        yield paragraph(one if len(tools) == 1 else labels.several_tools.format(names="; ".join(tools)), "tool")
    facts = " ".join(words.step_facts(step))
    if facts:
        yield paragraph(facts, "facts")


def blanks(action: Measure | Adjust, words: Language) -> Iterator[own.blank]:
    """Yield a line to write on for each reading, and one for what is worked out of them."""
    limit, measured = limit_of(action, words.things), words.labels.job.measured
    if limit is None and isinstance(action, Measure):
        limit = action.difference
    unit = words.unit_of(limit.quantity) if limit and limit.quantity else ""
    lines = [measured]
    if isinstance(action, Measure):
        lines = [words.reading(name) if name else measured for name in readings_of(action, words.things)]
        lines += words.worked_out(action)
    for label in lines:
        yield own.blank(label=label, unit=unit)


def _tool(name: str, library: Library, words: Language, torque: Quantity | None) -> str:
    return words.tool(library.tools[name], briefly=True, torque=torque) if name in library.tools else name


def _torques(step: Step, words: Language) -> Iterator[Quantity]:
    """Yield the torque of each fastener that a step tightens to one."""
    for ref in step.things if isinstance(step.action, Tighten) else ():
        thing = words.things.get(ref.name)
        assert isinstance(step.action, Tighten)
        torque = step.action.shown(thing) if isinstance(thing, Fastener) else None
        if torque is not None:
            yield torque


def wrenches_of(step: Step, words: Language, wrenches: Sequence[Tool]) -> Iterator[Tool]:
    """Yield the torque wrenches that a step takes and does not name, by what is set on each."""
    if not isinstance(step.action, Tighten) or any(_is_wrench(ref.name, words.library) for ref in step.tools):
        return
    found: list[Tool] = []
    for ref in step.things:
        thing = words.things.get(ref.name)
        torque = step.action.shown(thing) if isinstance(thing, Fastener) else None
        if not isinstance(thing, Fastener) or torque is None:
            continue
        dial = dial_of(thing, torque, words.library, step.tools)
        tool = dial.wrench if dial and dial.wrench.lever else _covering(set_to(thing, torque), wrenches)
        if tool is not None and tool not in found:
            found.append(tool)
    yield from found


def _is_wrench(name: str, library: Library) -> bool:
    return name in library.tools and library.tools[name].range is not None


def _covering(torque: Quantity, wrenches: Sequence[Tool]) -> Tool | None:
    """Return the wrench laid out that shows a torque best, and of those alike the smallest."""
    uses = [
        (use is Use.LOWEST_FIFTH, wrench.high, tool)
        for tool in wrenches
        if tool.range is not None and (use := usable(wrench := wrench_of(tool.key, tool.range), torque)) is not Use.OUT
    ]
    return min(uses, key=lambda each: each[:2])[2] if uses else None
