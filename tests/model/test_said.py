"""What an author said keeps its place, and a limit is read once."""

from __future__ import annotations

import copy
import pickle

import pytest

from putback.model.build_job import build_job
from putback.model.build_machine import build_machine
from putback.model.job import Job, Step
from putback.model.machine import Machine, Part
from putback.model.said import Limit, Said, said_in
from putback.model.thing import Thing
from putback.model.verbs.asking import Measure, Verify
from putback.source.finding import Finding
from putback.source.load import Mapping, Text, load_text
from putback.source.schema import FileKind, validate
from putback.source.span import Span

PLACE = Span("a.yaml", 1, 4, 1, 9)

JOB = """\
job: Look at it
purpose: So that it holds.
skill: "Anybody."
time: 5 min
waive: {no-final-test: looked at later}
sections:
  - title: The lid
    steps:
      - tighten: lid-bolts
        torque: 9 N·m
        text: Tighten the
          bolts.
        because: It rattles.
        note: |
          Mind the
          gasket.
        figure: {image: lid.svg, alt: The lid, caption: From above}
        waive: {torque-unlikely: it is plastic}
      - inspect: the whole lid
        for: [cracks, 'the owner''s marks']
      - measure: gap at the lid
        limit: ">= 0.3 mm"
        otherwise:
          - stop: Fit a new lid.
"""

MACHINE = """\
machine: Pump
kind: water pump
note: Cast iron.
parts:
  lid:
    name: lid
    note: Made of brass.
    wear: {measure: thickness, limit: ">= 6.4 mm"}
fasteners:
  lid-bolts: {count: 4, torque: 9 N·m, secures: lid, note: Of steel., stages: [snug, 4 N·m, 9 N·m]}
"""


def job_of(text: str) -> tuple[Job, list[Finding]]:
    loaded = load_text(text, "jobs/look.yaml")
    assert validate(loaded, FileKind.JOB) == []
    assert isinstance(loaded.root, Mapping)
    return build_job(loaded.root, loaded.path)


def machine_of(text: str) -> Machine:
    loaded = load_text(text, "machine.yaml")
    assert validate(loaded, FileKind.MACHINE) == []
    assert isinstance(loaded.root, Mapping)
    machine, faults = build_machine(loaded.root, loaded.path)
    assert faults == []
    return machine


def test_what_is_said_is_a_text_with_its_place() -> None:
    said = Said("Two words", PLACE, '"Two\n  words"')
    assert said == "Two words"
    assert (said.span, said.written) == (PLACE, '"Two\n  words"')
    assert Said("alone", PLACE).written == "alone"
    assert type(str(said)) is str


@pytest.mark.parametrize("name", ["span", "written"])
def test_the_place_cannot_be_set(name: str) -> None:
    with pytest.raises(AttributeError):
        setattr(Said("word", PLACE), name, "other")


@pytest.mark.parametrize("again", [copy.copy, copy.deepcopy, lambda said: pickle.loads(pickle.dumps(said))])
def test_a_copy_keeps_the_place(again: object) -> None:
    assert callable(again)
    said = again(Said("word", PLACE, "'word'"))
    assert type(said) is Said
    assert (said, said.span, said.written) == ("word", PLACE, "'word'")


def test_everything_that_is_said_in_a_job_is_found_with_its_field_and_its_place() -> None:
    job, faults = job_of(JOB)
    assert faults == []
    found = [*said_in(job, but=Step), *(pair for step in job.steps() for pair in said_in(step, but=Step))]
    assert sorted(found) == sorted(
        [
            ("title", "Look at it"),
            ("purpose", "So that it holds."),
            ("skill", "Anybody."),
            ("time", "5 min"),
            ("reason", "looked at later"),
            ("title", "The lid"),
            ("torque", "9 N·m"),
            ("text", "Tighten the bolts."),
            ("because", "It rattles."),
            ("note", "Mind the gasket."),
            ("alt", "The lid"),
            ("caption", "From above"),
            ("reason", "it is plastic"),
            ("things", "the whole lid"),
            ("for_", "cracks"),
            ("for_", "the owner's marks"),
            ("things", "gap at the lid"),
            ("limit", ">= 0.3 mm"),
            ("words", "Fit a new lid."),
        ]
    )
    for _, said in found:
        again = load_text(said.span.cut(JOB), "a.yaml").root
        assert isinstance(again, Text)
        assert " ".join(again.value.split()) == said


def test_everything_that_is_said_in_a_machine_is_found() -> None:
    machine = machine_of(MACHINE)
    assert said_in(machine, but=Thing) == [("name", "Pump"), ("kind", "water pump"), ("note", "Cast iron.")]
    lid, bolts = machine.things.values()
    assert said_in(lid) == [
        ("name", "lid"), ("note", "Made of brass."), ("measure", "thickness"), ("limit", ">= 6.4 mm"),
    ]  # fmt: skip
    assert said_in(bolts) == [
        ("note", "Of steel."), ("torque", "9 N·m"), ("quantity", "4 N·m"), ("quantity", "9 N·m"),
    ]  # fmt: skip
    assert said_in(machine)[3:] == [*said_in(lid), *said_in(bolts)]


def limits_of(*limits: str) -> tuple[list[Limit | None], list[Finding]]:
    """Return the limits of a job that measures once for each."""
    steps = "".join(f"  - measure: gap\n    limit: {limit}\n" for limit in limits)
    job, faults = job_of(f"job: Look\nsteps:\n{steps}")
    return [step.action.limit for step in job.steps() if isinstance(step.action, Measure)], faults


def test_a_limit_is_a_quantity_or_words_and_has_its_place() -> None:
    (number, words, quoted), faults = limits_of("0.3 .. 0.5 mm", "no play", '"< 2 mm"')
    assert faults == []
    assert number is not None
    assert number.quantity is not None
    assert (number.text, number.quantity.unit, number.quantity.text) == ("0.3 .. 0.5 mm", "mm", "0.3 .. 0.5 mm")
    assert number.span == ("jobs/look.yaml", 4, 12, 4, 25)
    assert words == Limit(Said("no play", PLACE))
    assert quoted is not None
    assert (quoted.text, quoted.span[1:]) == ("< 2 mm", (8, 12, 8, 20))


def test_a_bare_number_is_no_limit_of_a_measurement() -> None:
    (bare, turned), faults = limits_of("3", "5 .. 2 mm")
    assert [(fault.check, fault.span.line) for fault in faults] == [("bare-number", 4), ("bad-quantity", 6)]
    assert bare == Limit(Said("3", PLACE), unread=True)
    assert turned == Limit(Said("5 .. 2 mm", PLACE), unread=True)


def test_a_check_may_have_a_number_for_its_limit() -> None:
    job, faults = job_of("job: Look\nsteps:\n  - check: drops in a minute\n    limit: 3\n")
    (step,) = job.steps()
    assert faults == []
    assert isinstance(step.action, Verify)
    assert step.action.limit == Limit(Said("3", PLACE))


def test_the_limit_of_wear_is_a_quantity() -> None:
    lid, _ = machine_of(MACHINE).things.values()
    assert isinstance(lid, Part)
    assert lid.wear is not None
    assert lid.wear.limit is not None
    assert lid.wear.limit.quantity is not None
    assert lid.wear.limit.quantity.unit == "mm"
    assert lid.wear.limit.span.cut(MACHINE) == '">= 6.4 mm"'
    loaded = load_text(MACHINE.replace('">= 6.4 mm"', "thick enough"), "machine.yaml")
    assert isinstance(loaded.root, Mapping)
    machine, (fault,) = build_machine(loaded.root, loaded.path)
    assert fault.check == "bad-quantity"
    lid = machine.things["lid"]
    assert isinstance(lid, Part)
    assert lid.wear is not None
    assert lid.wear.limit is not None, "there is one, and so nobody asks for it"
    assert lid.wear.limit.quantity is None
