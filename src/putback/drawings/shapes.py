"""What parts of each shape look like: simple, and told apart at a glance."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from putback.drawings import bodies, rings
from putback.drawings.sketch import Body, Sketch
from putback.model.forms import PartShape


@dataclass(frozen=True, slots=True)
class Look:
    """How a shape is drawn, and how large it is when nobody says."""

    draw: Callable[[Sketch, Body], None]
    """Draws it."""
    radius: float
    """Its radius in parts of the largest one."""
    hole: float
    """The radius of its hole in parts of its own radius; 0 for none."""
    high: float
    """Its thickness in parts of the radius of the largest one."""
    least: float = 0.7
    """The least thickness that can be drawn, mm."""


def sketch_of(body: Body) -> Sketch:
    """Return what a part looks like."""
    sketch = Sketch()
    LOOKS[body.shape].draw(sketch, body)
    return sketch


LOOKS: dict[PartShape, Look] = {
    PartShape.BALL: Look(bodies.ball, 0.22, 0, 0.4),
    PartShape.BEARING: Look(rings.bearing, 0.6, 0.42, 0.22, 1.6),
    PartShape.BLOCK: Look(bodies.block, 0.8, 0, 0.3, 1.5),
    PartShape.BOLT: Look(bodies.bolt, 0.17, 0, 0.55, 3.2),
    PartShape.BOWL: Look(bodies.bowl, 0.75, 0, 0.6, 4),
    PartShape.BUSH: Look(rings.tube, 0.34, 0.72, 0.34, 1.5),
    PartShape.CAP: Look(bodies.cap, 0.6, 0, 0.36, 2),
    PartShape.CIRCLIP: Look(rings.circlip, 0.5, 0.82, 0.04),
    PartShape.COLLAR: Look(rings.tube, 0.4, 0.5, 0.2, 1.2),
    PartShape.COVER: Look(bodies.cover, 1, 0, 0.3, 2.4),
    PartShape.DIAPHRAGM: Look(rings.diaphragm, 0.9, 0, 0.04),
    PartShape.DISC: Look(rings.tube, 0.8, 0.3, 0.12, 1),
    PartShape.ELEMENT: Look(bodies.element, 0.6, 0.5, 0.7, 4),
    PartShape.GASKET: Look(rings.gasket, 1, 0.66, 0.03, 0.5),
    PartShape.GEAR: Look(rings.gear, 0.75, 0.3, 0.2, 1.2),
    PartShape.GROMMET: Look(rings.grommet, 0.4, 0.5, 0.36, 2.4),
    PartShape.HOUSING: Look(bodies.housing, 1, 0.3, 0.5, 3.5),
    PartShape.IMPELLER: Look(bodies.impeller, 0.72, 0.18, 0.32, 1.8),
    PartShape.KEY: Look(bodies.key, 0.14, 0, 0.08, 1.2),
    PartShape.LINER: Look(rings.tube, 0.66, 0.86, 0.42, 2),
    PartShape.NUT: Look(bodies.nut, 0.2, 0.5, 0.16, 1.5),
    PartShape.O_RING: Look(rings.o_ring, 0.62, 0.86, 0.06),
    PartShape.PIN: Look(rings.tube, 0.09, 0, 0.5, 2.5),
    PartShape.PLATE: Look(rings.plate, 1, 0.24, 0.05),
    PartShape.PROPELLER: Look(bodies.propeller, 1, 0.12, 0.34, 2.4),
    PartShape.PULLEY: Look(rings.pulley, 0.8, 0.2, 0.3, 2.4),
    PartShape.RING: Look(rings.tube, 0.6, 0.8, 0.12, 0.9),
    PartShape.ROD: Look(rings.tube, 0.1, 0, 0.6, 3),
    PartShape.SCREW: Look(bodies.screw, 0.15, 0, 0.45, 2.8),
    PartShape.SEAL: Look(rings.seal, 0.5, 0.5, 0.18, 1.4),
    PartShape.SHAFT: Look(rings.tube, 0.16, 0, 0.7, 4),
    PartShape.SPACER: Look(rings.tube, 0.36, 0.6, 0.3, 1.4),
    PartShape.SPRING: Look(rings.spring, 0.4, 0, 0.7, 5),
    PartShape.SPRING_WASHER: Look(rings.spring_washer, 0.36, 0.6, 0.06),
    PartShape.STRAINER: Look(bodies.strainer, 0.6, 0, 0.5, 3),
    PartShape.STUD: Look(bodies.stud, 0.09, 0, 0.6, 3),
    PartShape.WASHER: Look(rings.tube, 0.42, 0.48, 0.05),
    PartShape.WAVE_WASHER: Look(rings.wave_washer, 0.42, 0.48, 0.04, 0.5),
}
"""Every shape; sizes that nobody gave are guesses of ours, made to look right."""
