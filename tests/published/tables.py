"""Whole published torque tables, and the slips that an author can make when copying one."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any, NamedTuple

from ruamel.yaml import YAML

from putback.joints.friction import NOT_STATED, Condition, Film, read_condition
from putback.joints.joint import Joint
from putback.joints.members import read_material
from putback.joints.preload import Judgement, Wrong, is_loose_on_purpose, judge
from putback.joints.strength import read_class
from putback.joints.threads import read_thread
from putback.joints.usual import unusual

FOLDER = Path(__file__).parent / "torques"
EXPLAINED = Path(__file__).parent / "explained.yaml"

IN_NM = {"N·m": 1.0, "lbf·ft": 1.3558179483, "lbf·in": 0.1129848290, "kgf·m": 9.80665}
"""N·m, NIST SP 811."""


@dataclass(frozen=True, slots=True)
class Published:
    """One torque of a published table."""

    table: str
    """The file's stem."""
    column: int
    """From 0."""
    row: int
    """From 0."""
    torque: tuple[float, float]
    """Least and greatest, N·m."""
    joint: Joint
    """What the table says of it."""
    single: bool
    """Whether the table is a list of single parts, whose sizes are no series."""
    later: bool
    """Whether the table was looked for after the limits were set, and so had no part in them."""

    def __str__(self) -> str:
        strength = self.joint.strength.name if self.joint.strength else "no class"
        low, high = self.torque
        span = f"{low:.4g}" if low == high else f"{low:.4g} to {high:.4g}"
        return ", ".join([self.table, self.joint.thread.text, strength, str(self.joint.condition), f"{span} N·m"])

    @property
    def has_class(self) -> bool:
        """Whether the table states the class."""
        return self.joint.strength is not None

    def judged(self, times: float = 1.0, *, joint: Joint | None = None) -> Judgement:
        """Return the judgement of this torque, multiplied, in its joint or another."""
        judgement = judge((self.torque[0] * times, self.torque[1] * times), joint or self.joint)
        assert judgement is not None, f"{self}: nothing is judged of it"
        return judgement

    def is_unlikely(self, times: float = 1.0, *, joint: Joint | None = None) -> bool:
        """Whether this torque, multiplied, in its joint or another, is called unlikely: an error."""
        judged = self.judged(times, joint=joint)
        return judged.wrong is not None and not (judged.wrong is Wrong.LOW and is_loose_on_purpose(joint or self.joint))

    def is_told(self, times: float = 1.0, *, joint: Joint | None = None) -> bool:
        """Whether it is called unlikely or unusual: an error or advice."""
        torque = (self.torque[0] * times, self.torque[1] * times)
        return self.is_unlikely(times, joint=joint) or unusual(torque, joint or self.joint) is not None


def _joint(thread: str, column: dict[str, Any]) -> Joint:
    return Joint(
        read_thread(thread),
        read_class(column["class"]) if "class" in column else None,
        read_condition(column["condition"]) if "condition" in column else NOT_STATED,
        read_material(column["material"]) if "material" in column else None,
        seals=column.get("seals", False),
        thin=column.get("thin", False),
    )


def read_table(path: Path) -> Iterator[Published]:
    """Yield the torques of one file, in its order."""
    table = YAML(typ="safe").load(path)
    factor = IN_NM[table["unit"]]
    for row, (thread, *values) in enumerate(table["rows"]):
        assert len(values) == len(table["columns"]), f"{path.name}: {thread}"
        for column, value in enumerate(values):
            if value is None:
                continue
            low, high = value if isinstance(value, list) else (value, value)
            joint = _joint(str(thread), table["columns"][column])
            marks = table.get("parts", False), table.get("later", False)
            yield Published(path.stem, column, row, (low * factor, high * factor), joint, *marks)


def read_all() -> list[Published]:
    """Return the torques of all tables."""
    return [torque for path in sorted(FOLDER.glob("*.yaml")) for torque in read_table(path)]


def explained() -> dict[str, str]:
    """Return the published torques that are called unlikely, each with the reason why that is right or borne."""
    return {entry["torque"]: entry["reason"] for entry in YAML(typ="safe").load(EXPLAINED)}


def strain(torque: Published, stress: float) -> tuple[float, float]:
    """Return the least and the greatest preload of a torque, as shares of the stress area under a stress, N/mm²."""
    load, area = torque.judged().preload, torque.joint.thread.stress_area
    assert area is not None
    return load.low / (area * stress), load.high / (area * stress)


class Slip(NamedTuple):
    """One wrong torque, made from a right one."""

    kind: str
    """What went wrong."""
    torque: Published
    """The right one."""
    found: bool
    """Whether it is called unlikely, which is an error."""
    told: bool
    """Whether it is called unlikely or unusual, an error or advice."""


FACTORS = {
    "decimal point to the right (× 10)": 10.0,
    "decimal point to the left (÷ 10)": 0.1,
    "lbf·in written as N·m (× 8.85)": IN_NM["N·m"] / IN_NM["lbf·in"],
    "N·m written as lbf·in (÷ 8.85)": IN_NM["lbf·in"] / IN_NM["N·m"],
    "lbf·in written as lbf·ft (× 12)": 12.0,
    "lbf·ft written as lbf·in (÷ 12)": 1 / 12,
    "kgf·m written as N·m (÷ 9.81)": 1 / IN_NM["kgf·m"],
    "N·m written as kgf·m (× 9.81)": IN_NM["kgf·m"],
    "N·m written as N·cm (÷ 100)": 0.01,
    "N·cm written as N·m (× 100)": 100.0,
    "N·m written as lbf·ft (× 1.36)": IN_NM["lbf·ft"],
    "lbf·ft written as N·m (÷ 1.36)": 1 / IN_NM["lbf·ft"],
}
"""By how much a torque is wrong when its number is kept, and its point or its unit is not."""

ROWS = {"one size up": 1, "two sizes up": 2, "one size down": -1, "two sizes down": -2}
"""From which row of the same column the number is taken."""

DRY, GREASED = "dry value, greased thread", "lubricated value, dry thread"


def _sizes(torques: list[Published]) -> dict[tuple[str, int], list[float]]:
    """Return the diameters of each column that is a series, in order."""
    sizes: dict[tuple[str, int], set[float]] = {}
    for torque in torques:
        if not torque.single:
            sizes.setdefault((torque.table, torque.column), set()).add(torque.joint.thread.diameter)
    return {column: sorted(diameters) for column, diameters in sizes.items()}


def _wrong_rows(torques: list[Published]) -> Iterator[Slip]:
    """Yield slips of the row: a size's torque from the same column and, where there is one, the same series."""
    sizes = _sizes(torques)
    for torque in torques:
        diameters = sizes.get((torque.table, torque.column))
        if diameters is None:
            continue
        place = diameters.index(torque.joint.thread.diameter)
        for name, step in ROWS.items():
            if not 0 <= place + step < len(diameters):
                continue
            others = [
                other
                for other in torques
                if (other.table, other.column) == (torque.table, torque.column)
                and other.joint.thread.diameter == diameters[place + step]
            ]
            series = torque.joint.thread.series
            taken = next((other for other in others if other.joint.thread.series == series), others[0])
            wrong = replace(torque, torque=taken.torque)
            yield Slip(f"{name} in the table", torque, wrong.is_unlikely(), wrong.is_told())


def _wrong_conditions(torques: list[Published]) -> Iterator[Slip]:
    for torque in torques:
        film, finish = torque.joint.condition
        if film is Film.DRY:
            joint = replace(torque.joint, condition=Condition(Film.GREASED, finish))
            yield Slip(DRY, torque, torque.is_unlikely(joint=joint), torque.is_told(joint=joint))
        elif film is Film.OILED:
            joint = replace(torque.joint, condition=Condition(Film.DRY, finish))
            yield Slip(GREASED, torque, torque.is_unlikely(joint=joint), torque.is_told(joint=joint))


def forgotten(torques: list[Published]) -> Iterator[tuple[str, list[Published]]]:
    """Yield the torques whose class is stated, as they are, and as if the author had left things out."""
    stated = [torque for torque in torques if torque.has_class]

    def without(**changes: Any) -> list[Published]:
        return [replace(torque, joint=replace(torque.joint, **changes)) for torque in stated]

    yield "nothing left out", stated
    yield "condition left out", without(condition=NOT_STATED)
    yield "class left out", without(strength=None)
    yield "both left out", without(strength=None, condition=NOT_STATED)


def slips(torques: list[Published]) -> Iterator[Slip]:
    """Yield every slip of every kind, put into every torque that can have it."""
    for kind, factor in FACTORS.items():
        for torque in torques:
            yield Slip(kind, torque, torque.is_unlikely(factor), torque.is_told(factor))
    yield from _wrong_rows(torques)
    yield from _wrong_conditions(torques)
