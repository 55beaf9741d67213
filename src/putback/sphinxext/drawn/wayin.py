"""The way in to the main thing of a job, above the section in which it is opened."""

from __future__ import annotations

from collections.abc import Iterator

from putback.drawings.wayin import OffRow, WayBox, way_in_drawing
from putback.model.machine import AnyThing, Fastener, Line
from putback.sheet.reaching import LEAST, WayIn, way_in
from putback.sphinxext import nodes as own
from putback.sphinxext.building import paragraph
from putback.sphinxext.drawn.placed import OnPage
from putback.words import Language


def above_sections(page: OnPage) -> Iterator[tuple[int, own.drawing]]:
    """Yield the way in with the number, from 0, of the section in which most of it comes off."""
    graph, written = page.opened.graph, page.opened.written
    if graph is None or written is None:
        return
    found = way_in(page.job.title, page.sheet, graph, written)
    stacked = {one.key for stacks in page.stacks.values() for stack in stacks for one in stack.things}
    # What the drawings of stacks show needs no other.
    if found is not None and sum(name not in stacked for group in found.groups for name in group.things) >= LEAST:
        yield found.section, way_drawing(found, page.words)


def way_drawing(found: WayIn, words: Language) -> own.drawing:
    """Return the drawing of a way in."""
    things = words.things
    boxes = []
    for group in found.groups:
        known = [things[name] for name in group.things if name in things]
        limits = [words.only_when(thing.when) for thing in known]
        same = len(set(limits)) == 1
        rows = [OffRow(words.off_row(thing, limited=not same), _is_part(thing)) for thing in known]
        # What all of a box are limited to stands once, on top of it.
        rows[:0] = [OffRow(limits[0])] if same and limits[0] else []
        boxes.append(WayBox(tuple(rows), tuple(sorted(group.after))))
    said = words.way_in(things[found.reached], [(group.things, sorted(group.after)) for group in found.groups])
    svg = way_in_drawing(boxes, label=said.label, words=said.description)
    return own.drawing("", paragraph(said.caption), svg=svg, alt=said.alt)


def _is_part(thing: AnyThing) -> bool:
    return not isinstance(thing, Fastener | Line)
