"""What a job needs and counts, as both outputs print it."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.sheet import FollowUp, JobSheet, sheet_of, wear_of
from putback.words import as_text, catalogue

MACHINE = """\
machine: Test pump
controls:
  seacock: {positions: [open, closed], normal: open}
  switch: {positions: [on, off], normal: on}
parts:
  pump: {}
  tail: {}
  lid: {mass: 2 kg}
  seal: {replace: always, number: TP-1, kit: seal kit}
  rotor: {rotation: clockwise, replace: always}
  cam: {adjustable: true, wear: {measure: height at the peak, limit: ">= 6.4 mm"}}
fasteners:
  screws: {name: lid screw, count: 6, thread: M4 x 0.7, drive: slot 6 mm, secures: lid, to: pump, torque: 1.8 N·m,
           class: 8.8, order: crosswise, compound: glycerine}
  plug: {name: drain plug, thread: M10 x 1.0, length: 12 mm, drive: hex 12 mm, torque: 30 N·m}
  cap: {name: filler cap, by-hand: a quarter turn}
  pin: {name: cotter pin, replace: always}
  clamps: {name: hose clamp, count: 2, drive: slot 6 mm, no-torque: until the hose cannot be turned}
lines:
  hose: {kind: hose, joins: [pump, tail]}
fluids:
  coolant: {grade: glycol 50 %, volume: 4.5 l, drains: [plug], fills: [cap]}
"""


def guide_with(tmp_path: Path, job: str, **blocks: str) -> Guide:
    (tmp_path / "jobs").mkdir()
    (tmp_path / "blocks").mkdir()
    (tmp_path / "guide.yaml").write_text("title: Test\n", encoding="utf-8")
    (tmp_path / "machine.yaml").write_text(MACHINE, encoding="utf-8")
    (tmp_path / "jobs" / "job.yaml").write_text(f"job: Test\n{job}", encoding="utf-8")
    for name, text in blocks.items():
        (tmp_path / "blocks" / f"{name}.yaml").write_text(f"block: {name}\n{text}", encoding="utf-8")
    guide = read_guide(tmp_path)
    assert guide.faults == ()
    return guide


def sheet(guide: Guide) -> JobSheet:
    found = sheet_of(guide.jobs["job"], open_guide(guide))
    assert found is not None
    return found


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("remove: lid", "Remove the lid."),
        ("remove: screws", "Remove the six lid screws (M4 x 0.7, 6 mm slot)."),
        ("{remove: screws, count: 2}", "Remove two of the six lid screws (M4 x 0.7, 6 mm slot)."),
        ("remove: plug", "Remove the drain plug (M10 x 1.0, 12 mm, 12 mm hex)."),
        ("remove: [lid, seal, rotor]", "Remove the lid, the seal and the rotor."),
        ("install: lid", "Install the lid."),
        ("{install: seal, new: true}", "Install a new seal (part number TP-1)."),
        (
            "{install: rotor, new: true, turn: clockwise}",
            "Install a new rotor while you turn the shaft clockwise, never anticlockwise.",
        ),
        ("install: screws", "Install the six lid screws (M4 x 0.7, 6 mm slot) hand-tight."),
        ("{install: screws, new: true}", "Install six new lid screws (M4 x 0.7, 6 mm slot) hand-tight."),
        ("install: cap", "Install the filler cap by hand: a quarter turn."),
        ("{install: pin, new: true}", "Install a new cotter pin."),
        ("replace: seal", "Replace the seal (part number TP-1) with a new one."),
        ("loosen: clamps", "Loosen the two hose clamps (6 mm slot). Leave them on."),
        ("loosen: plug", "Loosen the drain plug (M10 x 1.0, 12 mm, 12 mm hex). Leave it in."),
        ("tighten: screws", "Tighten the six lid screws crosswise to 1.8 N·m (16 lbf·in)."),
        ("{tighten: screws, torque: 2 N·m}", "Tighten the six lid screws crosswise to 2 N·m (18 lbf·in)."),
        ("tighten: clamps", "Tighten the two hose clamps until the hose cannot be turned."),
        ("disconnect: hose", "Disconnect the hose."),
        ("{connect: hose, at: pump}", "Connect the hose to the pump."),
        ("drain: coolant", "Let the coolant drain, about 4.5 l (1.2 US gal)."),
        ("fill: coolant", "Fill with coolant: glycol 50 %, 4.5 l (1.2 US gal)."),
        ("{fill: coolant, volume: 1 l}", "Fill with coolant: glycol 50 %, 1 l (1.06 US qt)."),
        ("{set: seacock, to: closed}", "Close the seacock."),
        ("place: engine-stand", "Put the engine stand in place."),
        ("{place: engine-stand, at: under the pump}", "Put the engine stand under the pump."),
        ("take-away: engine-stand", "Take the engine stand away."),
        ("mark: cam", "Mark the position of the cam."),
        ("{mark: cam, against: the pump}", "Mark the position of the cam against the pump."),
        ("align: cam", "Align the cam with its mark."),
        ("{apply: glycerine, to: rotor}", "Apply glycerine to the rotor."),
        ("{clean: pump, with: rag}", "Clean the pump with lint-free rags."),
        ("clean: the sealing faces", "Clean the sealing faces."),
        ("{inspect: lid, for: [cracks, scratches]}", "Inspect the lid for cracks or scratches."),
        ("measure: cam", "Measure the height at the peak of the cam: it must be at least 6.4 mm (0.252 in)."),
        ('{measure: gap, limit: "0.2 mm .. 0.4 mm"}', "Measure the gap: it must be 0.2–0.4 mm (0.0079–0.0157 in)."),
        (
            "{check: cooling-water outlet, limit: water within 20 s}",
            "Check the cooling-water outlet: water within 20 s.",
        ),
        ("{run: engine, at: idle, for: 5 min}", "Run the engine at idle for 5 min."),
        ("lift: lid", "Lift the lid. It weighs 2 kg (4.4 lb)."),
        ("wait: 10 min", "Wait 10 min."),
        ("{wait: 10 min, until: the engine is cold}", "Wait 10 min, until the engine is cold."),
        ("stop: Call a workshop.", "Stop here. Call a workshop."),
        ("{remove: lid, text: Take the lid off.}", "Take the lid off."),
    ],
)
def test_sentences(tmp_path: Path, step: str, sentence: str) -> None:
    guide = guide_with(tmp_path, f"steps:\n  - {step}\n")
    words = as_text(catalogue(open_guide(guide)).step(guide.jobs["job"].sections[0].steps[0]))
    assert words.replace("\N{NO-BREAK SPACE}", " ") == sentence


def test_lines_are_numbered_through_and_blocks_written_out(tmp_path: Path) -> None:
    guide = guide_with(
        tmp_path,
        """\
sections:
  - title: One
    steps:
      - do: open-up
      - measure: cam
        otherwise:
          - mark: cam
          - note: Take care.
          - stop: Call a workshop.
  - title: Two
    steps:
      - reverse: open-up
""",
        **{"open-up": "ends-with: [screws, lid]\nsteps:\n  - remove: screws\n  - remove: lid\n"},
    )
    words = catalogue(open_guide(guide))
    found = [
        (step.number, as_text(words.step(step.step)).replace("\N{NO-BREAK SPACE}", " ")) for step in sheet(guide).walk()
    ]
    assert found == [
        ("1", "Remove the six lid screws (M4 x 0.7, 6 mm slot)."),
        ("2", "Remove the lid."),
        ("3", "Measure the height at the peak of the cam: it must be at least 6.4 mm (0.252 in)."),
        ("3a", "Mark the position of the cam."),
        ("", "Take care."),
        ("3b", "Stop here. Call a workshop."),
        ("4", "Install the lid."),
        ("5", "Apply glycerine to the six lid screws."),
        ("6", "Install the six lid screws (M4 x 0.7, 6 mm slot) hand-tight."),
        ("7", "Tighten the six lid screws crosswise to 1.8 N·m (16 lbf·in)."),
    ]


JOB = """\
sections:
  - title: Make safe
    steps:
      - set: seacock
        to: closed
  - title: Work
    steps:
      - caution: [sharp-edges, fuel]
      - set: switch
        to: "off"
      - remove: screws
      - remove: lid
      - remove: seal
        tool: seal-puller
      - measure: cam
        otherwise:
          - replace: cam
      - {install: seal, new: true}
      - install: lid
      - install: screws
      - tighten: screws
      - replace: pin
      - remove: plug
      - install: plug
      - tighten: plug
      - place: engine-stand
      - take-away: engine-stand
      - fill: coolant
"""


def test_what_is_set_for_a_run_is_not_set_first(tmp_path: Path) -> None:
    started = JOB.replace("  - title: Work\n    steps:\n", "  - title: Work\n    steps:\n      - run: engine\n")
    assert started != JOB
    assert sheet(guide_with(tmp_path, started)).set_up.positions == ()


def test_what_wants_equipment_first_is_not_set_first(tmp_path: Path) -> None:
    """Whoever goes by the list alone would let the load go with nothing under it."""
    guide = guide_with(
        tmp_path, JOB.replace("    steps:\n      - set", "    steps:\n      - place: engine-stand\n      - set", 1)
    )
    machine = tmp_path / "machine.yaml"
    assert [row.what[1] for row in sheet(guide).set_up.positions] == ["closed"]
    wanting = MACHINE.replace(
        "[open, closed], normal: open", "[open, closed], normal: open, needs: {engine-stand: placed}"
    )
    machine.write_text(wanting, encoding="utf-8")
    assert sheet(read_guide(tmp_path)).set_up.positions == ()


def test_what_to_lay_out(tmp_path: Path) -> None:
    set_up = sheet(guide_with(tmp_path, JOB)).set_up
    assert [(row.what[0].key, row.what[1]) for row in set_up.positions] == [("seacock", "closed")]
    assert [(new.thing.key, new.count, new.only_if) for new in set_up.parts] == [
        ("seal", 1, ()),
        ("cam", 1, ("6",)),
        ("pin", 1, ()),
    ]
    tools = [row.what for row in set_up.tools]
    assert tools[0] == "seal puller"
    assert {"torque screwdriver", "torque wrench", "12 mm socket"} <= set(tools)
    assert [row.what for row in set_up.consumables] == ["glycerine"]
    assert [row.what for row in set_up.equipment] == ["engine stand"]
    assert [row.what[0].key for row in set_up.fluids] == ["coolant"]
    assert [row.what.key for row in set_up.cautions] == ["fuel", "sharp-edges"]


def test_what_is_counted_back(tmp_path: Path) -> None:
    rows = sheet(guide_with(tmp_path, JOB)).count_back
    assert [(row.thing.key, row.out, row.back, row.new, row.only_if) for row in rows] == [
        ("screws", 6, 6, 0, ()),
        ("lid", 1, 1, 0, ()),
        ("seal", 1, 1, 1, ()),
        ("cam", 1, 1, 1, ("6",)),
        ("pin", 1, 1, 1, ()),
        ("plug", 1, 1, 0, ()),
    ]


def settling(tmp_path: Path, steps: str, settles: str = "10 h") -> list[FollowUp]:
    guide = guide_with(tmp_path, f"steps:\n{steps}")
    machine = tmp_path / "machine.yaml"
    words = machine.read_text(encoding="utf-8").replace(
        "order: crosswise,", f"order: crosswise, retighten-after: {settles},"
    )
    machine.write_text(words, encoding="utf-8")
    guide = read_guide(tmp_path)
    assert guide.faults == ()
    return list(sheet(guide).follow_ups)


OPENED = "  - remove: screws\n  - install: screws\n"


def test_what_settles_is_tightened_once_more(tmp_path: Path) -> None:
    (row,) = settling(tmp_path, f"{OPENED}  - tighten: screws\n  - tighten: plug\n")
    assert (row.thing.key, row.count, row.steps, row.only_if) == ("screws", 6, ("3",), ())
    assert row.torque is not None
    assert row.torque.text == "1.8 N·m"


def test_a_branch_that_tightens_to_another_torque_has_a_follow_up_of_its_own(tmp_path: Path) -> None:
    branch = "  - check: lid\n    limit: dry\n    otherwise:\n      - tighten: screws\n        torque: 2 N·m\n"
    usual, led = settling(tmp_path, f"{OPENED}  - tighten: screws\n{branch}")
    assert [row.torque.text if row.torque else None for row in (usual, led)] == ["1.8 N·m", "2 N·m"]
    assert (usual.only_if, led.only_if) == ((), ("4",))


def test_a_group_that_is_tightened_bit_by_bit_is_one_follow_up(tmp_path: Path) -> None:
    bits = "  - {tighten: screws, count: 4, torque: 2 N·m}\n  - {tighten: screws, count: 4, torque: 2 N·m}\n"
    (row,) = settling(tmp_path, OPENED + bits)
    assert (row.count, row.steps) == (6, ("3", "4"))
    assert row.torque is not None
    assert row.torque.text == "2 N·m"


def test_a_joint_that_stays_closed_is_its_own_follow_up(tmp_path: Path) -> None:
    one_by_one = "  - {loosen: screws, count: 1}\n  - {tighten: screws, count: 1}\n"
    assert settling(tmp_path, one_by_one * 6) == []


def test_a_joint_that_is_loosened_as_a_whole_settles_anew(tmp_path: Path) -> None:
    (row,) = settling(tmp_path, "  - loosen: screws\n  - tighten: screws\n")
    assert (row.count, row.steps) == (6, ("2",))


def test_a_follow_up_of_a_branch_says_on_which_step_it_hangs(tmp_path: Path) -> None:
    branch = "  - measure: cam\n    otherwise:\n      - loosen: screws\n      - tighten: screws\n"
    (row,) = settling(tmp_path, branch)
    assert (row.steps, row.only_if) == (("1b",), ("1",))


def test_a_joint_that_a_branch_opens_and_later_steps_tighten(tmp_path: Path) -> None:
    steps = "  - measure: cam\n    otherwise:\n      - loosen: screws\n  - tighten: screws\n"
    (row,) = settling(tmp_path, steps)
    assert (row.steps, row.only_if) == (("2",), ("1",))


@pytest.mark.parametrize(
    ("settles", "said"),
    [("10 h", "10 running hours"), ("1 h", "1 running hour"), ("90 min", "1.5 running hours")],
)
def test_running_hours_in_words(tmp_path: Path, settles: str, said: str) -> None:
    (row,) = settling(tmp_path, "  - loosen: screws\n  - tighten: screws\n", settles)
    words = catalogue(open_guide(read_guide(tmp_path))).once_more(
        row.thing, row.count, row.hours, row.torque, row.steps
    )
    assert f"once more after {said}, in the same order as in step 2, to 1.8" in as_text(words)


WASTE = """\
sections:
  - title: One
    steps:
      - measure: cam
        otherwise:
          - remove: plug
      - remove: plug
      - drain: coolant
      - disconnect: hose
  - title: Two
    steps:
      - clean: pump
        with: solvent
      - loosen: plug
"""


def test_waste_is_told_once_to_all_who_read_it(tmp_path: Path) -> None:
    guide = guide_with(tmp_path, WASTE)
    machine = tmp_path / "machine.yaml"
    words = machine.read_text(encoding="utf-8")
    words = words.replace("fills: [cap]}", "fills: [cap], tags: [antifreeze]}")
    words = words.replace("joins: [pump, tail]}", "joins: [pump, tail], tags: [antifreeze]}")
    machine.write_text(words, encoding="utf-8")
    guide = read_guide(tmp_path)
    assert guide.faults == ()
    told = {step.number: step.waste for step in sheet(guide).walk() if step.waste}
    coolant, solvent = (guide.library.hazards[name].waste for name in ("antifreeze", "solvent"))
    # Not all come to 1a, so that 2 says it again; then nobody needs it a second time.
    assert told == {"1a": (coolant,), "3": (coolant,), "5": (solvent,)}


def test_protective_equipment_of_a_message_and_its_hazards_each_once(tmp_path: Path) -> None:
    library = guide_with(tmp_path, "steps:\n  - note: x\n").library
    assert wear_of(library.cautions["running-engine"], library) == ("ear protection", "eye protection")
    assert wear_of(library.cautions["fuel"], library) == ("eye protection", "fuel-resistant gloves")


@pytest.mark.parametrize(
    ("step", "licensed"),
    [
        ("{set: switch, to: 'off'}", []),
        ("check: switch", []),
        ("inspect: lid", []),
        ("remove: lid", ["mains"]),
        ("loosen: plug", ["refrigerant"]),
        ("caution: mains-electricity", ["mains"]),
    ],
)
def test_what_needs_a_licence_is_what_opens_it(tmp_path: Path, step: str, licensed: list[str]) -> None:
    guide_with(tmp_path, f"steps:\n  - {step}\n")
    machine = tmp_path / "machine.yaml"
    words = machine.read_text(encoding="utf-8").replace("fills: [cap]}", "fills: [cap], tags: [refrigerant]}")
    words = words.replace("normal: on}", "normal: on, tags: [mains]}").replace(
        "mass: 2 kg}", "mass: 2 kg, tags: [mains]}"
    )
    machine.write_text(words, encoding="utf-8")
    guide = read_guide(tmp_path)
    assert guide.faults == ()
    assert [row.what.key for row in sheet(guide).set_up.licensed] == licensed


def test_a_message_of_a_block_is_not_printed_again_in_a_section_that_shows_it(tmp_path: Path) -> None:
    guide = guide_with(
        tmp_path,
        """\
sections:
  - title: One
    steps:
      - caution: fuel
      - do: open-up
      - do: open-up
      - caution: fuel
  - title: Two
    steps:
      - do: open-up
""",
        **{"open-up": "steps:\n  - caution: fuel\n  - inspect: lid\n"},
    )
    verbs = [[step.step.verb.name for step in section.steps] for section in sheet(guide).sections]
    assert verbs == [["caution", "inspect", "inspect", "caution"], ["caution", "inspect"]]


def test_a_block_that_does_itself_in_an_otherwise_is_not_written_out(tmp_path: Path) -> None:
    again = "steps:\n- inspect: lid\n  otherwise: [{do: again}, {do: other}]\n"
    other = "steps:\n- inspect: cam\n  otherwise: [{do: again}]\n"
    guide = guide_with(tmp_path, "steps:\n- do: again\n", again=again, other=other)
    assert sheet_of(guide.jobs["job"], open_guide(guide)) is None


BACK_TO = """\
steps:
  - remove: screws
  - remove: lid
  - remove: seal
  - name: fit
    install: seal
    new: true
  - install: lid
  - install: screws
  - tighten: screws
  - check: for leaks
    otherwise:
      - remove: screws
      - remove: lid
      - remove: seal
      - back-to: fit
"""


def test_what_goes_in_new_goes_in_new_again(tmp_path: Path) -> None:
    found = sheet(guide_with(tmp_path, BACK_TO))
    assert [(row.thing.key, row.out, row.back, row.new, row.only_if) for row in found.count_back] == [
        ("screws", 6, 6, 0, ()),
        ("lid", 1, 1, 0, ()),
        ("seal", 1, 1, 1, ()),
        ("seal", 1, 1, 1, ("8",)),
    ]
    assert [(row.thing.key, row.count, row.only_if) for row in found.set_up.parts] == [
        ("seal", 1, ()),
        ("seal", 1, ("8",)),
    ]
    assert [step.goes_to for step in found.walk()][-1] == "4"
