"""From a machine file to its record, with what is wrong with its values."""

from __future__ import annotations

import pytest

from putback.joints.friction import Film
from putback.model.build_machine import build_machine
from putback.model.called import noun
from putback.model.machine import Control, Fastener, Fluid, Line, Machine, Part
from putback.source.finding import Finding
from putback.source.load import Mapping, load_text
from putback.source.schema import FileKind, validate


def machine_of(text: str) -> tuple[Machine, list[Finding]]:
    loaded = load_text(text, "machine.yaml")
    assert isinstance(loaded.root, Mapping), loaded.faults
    assert validate(loaded, FileKind.MACHINE) == []
    return build_machine(loaded.root, "machine.yaml")


WHOLE = """
machine: Tarrick D2
kind: inboard diesel
note: Invented.
options: {drive: [belt, gear]}
exclude: [{drive: gear}]
controls:
  seacock: {positions: [open, closed], normal: open, note: Below the stair.}
parts:
  cam:
    name: cam
    plural: cams
    mass: 2.4 kg
    replace: always
    number: 0012
    kit: pump-kit
    adjustable: true
    rotation: clockwise
    wear: {measure: height at the peak, limit: ">= 6.4 mm"}
    tags: [sharp, hot]
    needs: {seacock: closed}
    when: {drive: belt}
  cover-gasket: {}
fasteners:
  screws: {kind: screw, count: 6, thread: M4 x 0.7, class: "8.8", length: 30 mm, drive: slot 6 mm, secures: cam,
           to: cover-gasket, torque: 1.8 N·m, condition: dry, order: crosswise, compound: grease}
  clamp: {secures: [hose, cam], releases-when: loose, no-torque: a spring}
  cap: {name: caps of the tank, by-hand: to the stop, positions: [left, right]}
lines:
  hose: {kind: hose, joins: [cam, cover-gasket]}
fluids:
  coolant: {grade: glycol 50 %, volume: 4.5 l, drains: [screws], fills: [cap], vents: [clamp]}
stacks:
  - [cam, cover-gasket]
  - {when: {drive: belt}, order: [cam]}
access-after:
  screws: [cam]
needs:
  run: {seacock: open}
"""


def test_everything_that_a_machine_can_say() -> None:
    machine, faults = machine_of(WHOLE)
    assert faults == []
    assert (machine.name, machine.kind, machine.note) == ("Tarrick D2", "inboard diesel", "Invented.")
    assert machine.options == {"drive": ("belt", "gear")}
    assert machine.span.cut(WHOLE) == "machine"
    assert list(machine.things) == ["seacock", "cam", "cover-gasket", "screws", "clamp", "cap", "hose", "coolant"]
    assert [[ref.name for ref in stack.order] for stack in machine.stacks] == [["cam", "cover-gasket"], ["cam"]]
    assert [stack.when is not None for stack in machine.stacks] == [False, True]
    assert [(inner.name, [ref.name for ref in outers]) for inner, outers in machine.access_after] == [
        ("screws", ["cam"])
    ]
    [need] = machine.verb_needs["run"]
    assert (need.control.name, need.position.name) == ("seacock", "open")
    assert len(machine.exclude) == 1
    assert [ref.name for ref in machine.tag_refs] == ["sharp", "hot"]


def test_a_control() -> None:
    seacock = machine_of(WHOLE)[0].things["seacock"]
    assert isinstance(seacock, Control)
    assert ([position.name for position in seacock.positions], seacock.normal.name) == (["open", "closed"], "open")
    assert seacock.note == "Below the stair."


def test_a_part() -> None:
    machine, _ = machine_of(WHOLE)
    cam, gasket = machine.things["cam"], machine.things["cover-gasket"]
    assert isinstance(cam, Part)
    assert (cam.name, cam.plural, cam.number, cam.kit, cam.rotation) == ("cam", "cams", "0012", "pump-kit", "clockwise")
    assert cam.single_use
    assert cam.adjustable
    assert cam.mass is not None
    assert cam.mass.text == "2.4 kg"
    assert cam.wear is not None
    assert cam.wear.measure == "height at the peak"
    assert [tag.name for tag in cam.tags] == ["sharp", "hot"]
    assert cam.needs[0].position.name == "closed"
    assert cam.when is not None
    assert isinstance(gasket, Part)
    assert (gasket.name, gasket.single_use, gasket.adjustable, gasket.mass) == ("cover gasket", False, False, None)


def test_a_fastener() -> None:
    machine, _ = machine_of(WHOLE)
    screws, clamp, cap = (machine.things[key] for key in ("screws", "clamp", "cap"))
    assert isinstance(screws, Fastener)
    assert isinstance(clamp, Fastener)
    assert isinstance(cap, Fastener)
    assert (screws.kind, screws.count, screws.thread, screws.grade) == ("screw", 6, "M4 x 0.7", "8.8")
    assert (screws.drive, screws.condition.film, screws.order) == ("slot 6 mm", Film.DRY, "crosswise")
    assert screws.to is not None
    assert screws.compound is not None
    assert (screws.to.name, screws.compound.name) == ("cover-gasket", "grease")
    assert screws.torque_span is not None
    assert screws.torque_span.cut(WHOLE) == "1.8 N·m"
    assert [ref.name for ref in clamp.secures] == ["hose", "cam"]
    assert clamp.releases_when_loose
    assert not screws.releases_when_loose
    assert (cap.count, cap.positions) == (2, ("left", "right"))
    assert clamp.count == 1


@pytest.mark.parametrize(
    ("facts", "turned"),
    [
        ("thread: M6 x 1.0", True),
        ("torque: 9 N·m", True),
        ("drive: hex 10 mm", True),
        ("no-torque: why", True),
        ("kind: pin", False),
        ("thread: M6 x 1.0, by-hand: to the stop", False),
    ],
)
def test_what_is_turned_with_a_tool(facts: str, turned: bool) -> None:
    machine, _ = machine_of(f"machine: X\nfasteners:\n  f: {{{facts}}}\n")
    fastener = machine.things["f"]
    assert isinstance(fastener, Fastener)
    assert fastener.turned is turned


def test_a_line_and_a_fluid() -> None:
    machine, _ = machine_of(WHOLE)
    hose, coolant = machine.things["hose"], machine.things["coolant"]
    assert isinstance(hose, Line)
    assert isinstance(coolant, Fluid)
    assert (hose.kind, [ref.name for ref in hose.joins]) == ("hose", ["cam", "cover-gasket"])
    assert coolant.grade == "glycol 50 %"
    assert [[ref.name for ref in refs] for refs in (coolant.drains, coolant.fills, coolant.vents)] == [
        ["screws"], ["cap"], ["clamp"],
    ]  # fmt: skip
    assert [noun(thing) for thing in machine.things.values()] == [
        "control", "part", "part", "fastener", "fastener", "fastener", "line", "fluid",
    ]  # fmt: skip


def test_one_name_for_two_things() -> None:
    machine, [fault] = machine_of("machine: X\nparts:\n  a: {}\nfasteners:\n  a: {}\n")
    assert (fault.check, str(fault.span)) == ("same-name", "machine.yaml:5:3")
    assert fault.message == "'a' names a fastener, but is already the name of a part"
    assert [(str(also.span), also.message) for also in fault.also] == [("machine.yaml:3:3", "the part 'a'")]
    assert isinstance(machine.things["a"], Part)


def test_quantities_that_are_wrong() -> None:
    _, faults = machine_of("""machine: X
parts:
  a: {mass: 3}
  b: {mass: 3 N·m}
fasteners:
  f: {torque: 18}
""")
    assert [(fault.check, str(fault.span)) for fault in faults] == [
        ("bare-number", "machine.yaml:3:13"),
        ("bad-quantity", "machine.yaml:4:13"),
        ("bare-number", "machine.yaml:6:15"),
    ]
    assert faults[0].message == "'3' has no unit"


def test_the_least_that_a_machine_says() -> None:
    machine, faults = machine_of("machine: X\n")
    assert faults == []
    assert (machine.things, machine.options, machine.stacks, machine.access_after, machine.exclude) == (
        {},
        {},
        (),
        (),
        (),
    )
