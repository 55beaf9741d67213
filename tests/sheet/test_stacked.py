"""Which stacks a job takes apart, what a drawing of them has, and in which order it comes off."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from putback.guide.reading import read_guide
from putback.ledger.opened import Opened, open_guide
from putback.sheet import sheet_of
from putback.sheet.stacked import MOST, TakenApart, stacks_of_job, stacks_of_machine
from putback.source.intake import Memory
from putback.sphinxext.drawn.stacks import is_drawn, stack_drawing
from putback.words import catalogue

MACHINE = """\
machine: Trial pump
options: {seal: [lip, face]}
places: {corner: 2}
parts:
  body: {}
  cover: {}
  gasket: {replace: always}
  impeller: {lubricant: paste, size: {outside: 50 mm, inside: 12 mm}}
  plate: {name: wear plate}
  lip-ring: {name: lip seal, when: {seal: lip}}
  liner: {}
  plug-washer: {name: washer of the plug}
  lever: {}
fasteners:
  screws: {name: cover screw, count: 4, thread: M6, length: 20 mm, drive: hex 10 mm, secures: [cover, plug-washer], to: body, torque: 9 N·m}
  wire: {name: lock wire, kind: wire, secures: screws}
  plate-nut: {name: plate nut, kind: nut, secures: plate, to: body, torque: 9 N·m}
stacks:
  - [cover, gasket, impeller, lip-ring, plate]
  - [cover, liner]
  - [lever, plate]
"""  # noqa: E501
OFF = ["wire", "screws", "plug-washer", "cover", "gasket", "impeller", "lip-ring", "plate-nut", "plate", "liner"]


def opened(machine: str, job: str) -> Opened:
    texts = {"guide.yaml": "title: T\n", "machine.yaml": machine, "jobs/j.yaml": f"job: J\nsteps:\n{job}"}
    texts["consumables.yaml"] = "paste: {name: rubber paste}\n"
    guide = read_guide(Path("/g"), store=Memory({Path("/g", name): text for name, text in texts.items()}))
    assert guide.faults == ()
    return open_guide(guide)


def of_job(steps: list[str], machine: str = MACHINE) -> list[TakenApart]:
    found = opened(machine, "".join(f"  - {step}\n" for step in steps))
    sheet = sheet_of(found.guide.jobs["j"], found)
    assert sheet is not None
    assert found.guide.machine is not None
    return list(stacks_of_job(sheet, found.guide.machine))


def said(stack: TakenApart) -> str:
    return " ".join(f"{one.key}:{one.turn or '-'}" for one in stack.things)


def test_a_stack_has_what_comes_off_with_its_fasteners_and_what_it_sits_on() -> None:
    (stack,) = of_job([f"remove: {key}" for key in OFF])
    assert said(stack) == (
        "wire:1 screws:2 plug-washer:3 cover:4 liner:10 gasket:5 impeller:6 lip-ring:7 plate-nut:8 plate:9 body:-"
    )
    assert stack.steps == {0}


def test_what_stays_on_is_the_last() -> None:
    (stack,) = of_job(["remove: screws", "remove: cover", "remove: gasket", "remove: impeller", "install: impeller"])
    assert said(stack) == "screws:1 cover:2 gasket:3 impeller:4 lip-ring:-"
    assert stack.steps == {0, 4}


def test_a_job_that_only_puts_together_has_the_same_numbers() -> None:
    (stack,) = of_job([f"install: {key}" for key in ("impeller", "gasket", "cover", "screws")])
    assert said(stack) == "screws:1 cover:2 gasket:3 impeller:4 lip-ring:-"
    assert stack.steps == {0}


@pytest.mark.parametrize("steps", [["cover", "gasket"], ["cover", "liner"], ["gasket, count: 1", "cover", "impeller"]])
def test_less_than_three_parts_are_no_stack(steps: list[str]) -> None:
    assert of_job([f"remove: {step}" if "," not in step else f"{{remove: {step}}}" for step in steps]) == []


def test_two_stacks_that_end_alike_are_two_drawings_and_the_second_has_it_in_place() -> None:
    machine = MACHINE.replace("[lever, plate]", "[lever, disc, ring, plate]").replace(
        "  lever: {}\n", "  lever: {}\n  disc: {}\n  ring: {}\n"
    )
    found = opened(machine, "  - remove: screws\n").guide.machine
    assert found is not None
    assert [said(stack).split()[-1] for stack in stacks_of_machine(found)] == ["body:-", "plate:-"]


def test_fasteners_that_hold_each_other_and_long_stacks_do_no_harm() -> None:
    machine = MACHINE.replace("kind: wire, secures: screws", "kind: wire, secures: [screws, pin]").replace(
        "stacks:", "  pin: {kind: pin, secures: wire}\nstacks:"
    )
    found = opened(machine, "  - remove: screws\n").guide.machine
    assert found is not None
    assert [said(stack).count("pin:") for stack in stacks_of_machine(found)] == [1]
    names = [f"ring-{k}" for k in range(MOST + 1)]
    long = "machine: M\nparts:\n" + "".join(f"  {name}: {{}}\n" for name in names) + f"stacks: [[{', '.join(names)}]]\n"
    tall = opened(long, "  - remove: ring-1\n").guide.machine
    assert tall is not None
    assert list(stacks_of_machine(tall)) == []


def test_the_words_of_a_stack() -> None:
    found = opened(MACHINE, "".join(f"  - remove: {key}\n" for key in OFF))
    words, sheet = catalogue(found), sheet_of(found.guide.jobs["j"], found)
    assert sheet is not None
    assert found.guide.machine is not None
    (stack,) = stacks_of_job(sheet, found.guide.machine)
    told = words.stack(stack)
    assert told.caption == (
        "Parts from the cover to the wear plate. They come off in the order of the numbers, and go back from 10 to 1. "
        "A white number on black: fit a new one. A drop: put on what is named."
    )
    assert [piece.told.replace("\xa0", " ") for piece in told.pieces] == [
        "1: lock wire", "2: 4 cover screws (M6, 20 mm, 10 mm hex)", "3: washer of the plug", "4: cover", "10: liner",
        "5: gasket (new)", "6: impeller (rubber paste)", "7: lip seal (only with a lip seal)", "8: plate nut",
        "9: wear plate", "body, in place",
    ]  # fmt: skip
    drawing = stack_drawing(stack, words)
    drawn = "".join(re.findall(r">([^<]+)</text>", drawing["svg"] + "".join(svg for svg, _ in drawing["more"])))
    assert all(re.sub(r"\s", "", piece.name) in re.sub(r"\s", "", drawn) for piece in told.pieces)


def test_stacks_of_other_variants_are_drawings_of_their_own() -> None:
    machine = MACHINE.replace("[cover, liner]", "{when: {seal: face}, order: [cover, disc, ring, body]}")
    machine = machine.replace("  lever: {}\n", "  lever: {}\n  disc: {}\n  ring: {}\n")
    found = opened(machine, "  - remove: screws\n")
    assert found.guide.machine is not None
    stacks = list(stacks_of_machine(found.guide.machine))
    assert [[one.key for one in stack.things if one.key in ("gasket", "ring")] for stack in stacks] == [
        ["gasket"],
        ["ring"],
    ]
    assert ". Only with a face seal. They" in catalogue(found).stack(stacks[1]).caption


def test_a_stack_of_unknown_shapes_is_not_drawn() -> None:
    machine = "machine: M\nparts: {a: {}, b: {}, c: {}}\nstacks: [[a, b, c]]\n"
    for parts, drawn in (("b: {shape: ring}, c: {shape: disc}", True), ("b: {shape: ring}, c: {}", False)):
        found = opened(machine.replace("b: {}, c: {}", parts), "  - remove: a\n")
        assert found.guide.machine is not None
        (stack,) = stacks_of_machine(found.guide.machine)
        assert is_drawn(stack, catalogue(found)) is drawn


NOUNS = ["cover", "gasket", "o-ring", "wave-washer", "impeller", "key", "plate", "spring", "bearing", "collar", "lever"]


@settings(max_examples=25, deadline=None)
@given(st.lists(st.sampled_from(NOUNS), min_size=1, max_size=30), st.data())
def test_every_thing_of_a_random_machine_is_in_its_drawing(nouns: list[str], data: st.DataObject) -> None:
    names = [f"a{k}-{noun}" for k, noun in enumerate(nouns)]
    held = sorted(data.draw(st.sets(st.sampled_from(names), max_size=8)))
    machine = "machine: M\nparts:\n  base: {}\n" + "".join(
        f"  {name}: {{replace: always}}\n" if data.draw(st.booleans()) else f"  {name}: {{}}\n" for name in names
    )
    machine += "fasteners:\n  foot: {to: base, torque: 9 N·m}\n" + "".join(
        f"  {name}-screws: {{count: 2, secures: {name}, to: base, torque: 9 N·m}}\n" for name in held
    )
    found = opened(machine + f"stacks: [[{', '.join(names)}, base]]\n", f"  - remove: {names[0]}\n")
    assert found.guide.machine is not None
    stacks = list(stacks_of_machine(found.guide.machine))
    assert len(stacks) == (len(names) >= 3)
    for stack in stacks:
        assert {one.key for one in stack.things} == {*names, *(f"{name}-screws" for name in held), "base"}
        turns = [one.turn for one in stack.things if one.turn]
        assert turns == list(range(1, len(names) + len(held) + 1))
        drawing = stack_drawing(stack, catalogue(found))
        alts = " ".join([drawing["alt"], *(alt for _, alt in drawing["more"])])
        assert all(name.replace("-", " ") in alts for name in names)
