"""Published torques with an angle, and whether they are called too far."""

from __future__ import annotations

from pathlib import Path
from typing import NamedTuple

from ruamel.yaml import YAML

from putback.joints.joint import Joint
from putback.joints.stages import read_stage
from putback.joints.strength import read_class
from putback.joints.threads import read_thread
from putback.joints.turning import Elongation, stretch

FILE = Path(__file__).parent / "angles.yaml"


class Turned(NamedTuple):
    """A bolt that is tightened to a torque, and then by an angle."""

    thread: str
    grade: str | None
    """Its class."""
    length: float | None
    """mm."""
    torque: float
    """N·m."""
    angle: float
    """All angles together, degrees."""

    def __str__(self) -> str:
        long = f" x {self.length:g}" if self.length else ""
        return f"{self.thread}{long}, {self.torque:g} N·m + {self.angle:g}°"

    def stretch(self) -> Elongation:
        """Return how far it is stretched."""
        strength = read_class(self.grade) if self.grade else None
        joint = Joint(read_thread(self.thread), strength, length=self.length)
        found = stretch([read_stage(f"{self.torque:g} N·m"), read_stage(f"{self.angle:g}°")], None, joint)
        assert found is not None
        return found


def read_angles() -> list[Turned]:
    """Return the published bolts, in the order of the file."""
    sources = YAML(typ="safe").load(FILE)
    return [
        Turned(bolt["thread"], bolt.get("class"), bolt.get("length"), bolt["torque"], bolt["angle"])
        for source in sources
        for bolt in source["bolts"]
    ]


def turned_too_far(bolt: Turned) -> bool:
    """Tell whether a bolt is called too far stretched."""
    return bolt.stretch().too_far
