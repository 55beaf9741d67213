"""Outlines of pieces at true size."""

from __future__ import annotations

from typing import NamedTuple

from putback.drawings.canvas import Canvas
from putback.joints.drives import read_drive
from putback.model.machine import Fastener, Line, Part

_EDGE = 0.5


class Lying(NamedTuple):
    """One piece, lying flat with its axis across the page."""

    svg: str
    """The text of a standalone SVG."""
    width: float
    """mm."""
    height: float
    """mm."""
    place: str
    """The position of the piece, where the lengths differ by position."""
    alt: str
    """What it shows."""


def lying(thing: Part | Fastener | Line, title: str) -> tuple[Lying, ...]:
    """Return the outline of each different piece; none when no size is known."""
    if not isinstance(thing, Fastener) or thing.screw is None or thing.is_nut:
        return ()
    lengths = [("", thing.length)] if thing.length else list(thing.lengths)
    found = []
    for place, length in lengths:
        long = float(length.to("mm").nominal or 0)
        found.append(_bolt(thing, long, place, title))
    return tuple(found)


def _bolt(thing: Fastener, long: float, place: str, title: str) -> Lying:
    assert thing.screw is not None
    thick = thing.screw.diameter
    drive = read_drive(thing.drive) if thing.drive else None
    across = drive.size if drive and not drive.inside else 1.6 * thick
    head = 0.65 * thick
    width, height = head + long + 2 * _EDGE, max(across, thick) + 2 * _EDGE
    canvas, middle = Canvas(width, height), height / 2
    canvas.box((_EDGE, middle - across / 2), head, across)
    canvas.box((_EDGE + head, middle - thick / 2), long, thick)
    return Lying(canvas.svg(title, title), width, height, place, title)
