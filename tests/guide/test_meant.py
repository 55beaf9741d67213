"""Names with a slip are told once, and the guide is read as it was meant."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.meant import read_as_meant
from putback.guide.reading import read_guide
from putback.lint.guides import lint
from putback.source.nearest import is_slip
from tests.conftest import Putback, Write

MACHINE = """
machine: Pump
options: {drive: [belt, gear]}
controls:
  tap: {positions: [open, closed], normal: open}
parts:
  lid: {needs: {tap: closed}}
  body: {}
fasteners:
  screws: {name: screw, count: 4, secures: lid, to: body, order: crosswise, no-torque: they only close it}
"""
JOB = """
job: Look
steps:
  - set: tap
    to: closed
  - remove: screws
  - remove: lid
  - install: lid
  - install: screws
  - tighten: screws
  - set: tap
    to: open
  - check: the lid
    limit: sits flat
    otherwise:
      - stop: Do the job again.
"""
FILES: dict[str, str | bytes | None] = {"pump/machine.yaml": MACHINE, "pump/jobs/look.yaml": JOB}


def told() -> list[str]:
    return [
        f"{finding.span.path.removeprefix('pump/')}:{finding.span.line} {finding.message}"
        for finding in lint([Path("pump")]).findings
    ]


def with_word(path: str, old: str, new: str, number: int = 1) -> dict[str, str | bytes | None]:
    text = FILES[path]
    assert isinstance(text, str)
    assert text.count(old) >= number
    return {**FILES, path: text.replace(old, new, number)}


def test_a_guide_without_a_slip_is_the_same(write_guide: Write) -> None:
    guide = read_guide(write_guide(FILES))
    assert told() == []
    assert read_as_meant(guide) == (guide, ())
    assert read_as_meant(guide)[0] is guide


@pytest.mark.parametrize(
    ("path", "old", "new", "message"),
    [
        ("pump/jobs/look.yaml", "remove: screws", "remove: scerws", "jobs/look.yaml:6 nothing is called 'scerws'"),
        ("pump/jobs/look.yaml", "set: tap", "set: tpa", "jobs/look.yaml:4 no control is called 'tpa'"),
        ("pump/jobs/look.yaml", "to: closed", "to: clsoed", "jobs/look.yaml:5 tap has no position 'clsoed'"),
        ("pump/machine.yaml", "secures: lid", "secures: ild", "machine.yaml:10 nothing is called 'ild'"),
        ("pump/machine.yaml", "tap: closed", "tpa: closed", "machine.yaml:7 nothing is called 'tpa'"),
        ("pump/machine.yaml", "normal: open", "normal: opne", "machine.yaml:5 tap has no position 'opne'"),
    ],
)
def test_one_slip_is_one_finding(path: str, old: str, new: str, message: str, write_guide: Write) -> None:
    write_guide(with_word(path, old, new))
    assert told() == [message]


@pytest.mark.parametrize(
    ("old", "new", "place", "wrong", "right", "count"),
    [
        ("  screws: {", "  scerws: {", 10, "scerws", "screws", 3),
        ("  tap: {", "  tpa: {", 5, "tpa", "tap", 3),
        ("  lid: {", "  ldi: {", 7, "ldi", "lid", 3),
        ("[open, closed]", "[open, clsoed]", 5, "clsoed", "closed", 2),
    ],
)
def test_a_name_that_is_given_with_a_slip_is_told_where_it_is_given(
    old: str, new: str, place: int, wrong: str, right: str, count: int, write_guide: Write
) -> None:
    write_guide(with_word("pump/machine.yaml", old, new))
    [finding] = lint([Path("pump")]).findings
    assert (finding.span.path, finding.span.line) == ("pump/machine.yaml", place)
    assert finding.message == f"nothing uses '{wrong}', but {count} places say '{right}'"
    # Obeyed, the hint leaves nothing to tell.
    assert finding.hint == f"did you mean '{right}'?"
    assert {also.span.path for also in finding.also} <= {"pump/machine.yaml", "pump/jobs/look.yaml"}


def test_an_option_that_is_given_with_a_slip(write_guide: Write) -> None:
    machine = MACHINE.replace("drive: [belt, gear]", "dirve: [belt, gear]").replace(
        "  body: {}", "  body: {}\n  belt: {when: {drive: belt}}\n  gear: {when: {drive: gear}}"
    )
    write_guide({**FILES, "pump/machine.yaml": machine})
    assert told() == ["machine.yaml:3 nothing uses 'dirve', but 2 places say 'drive'"]


def test_a_choice_that_is_given_with_a_slip(write_guide: Write) -> None:
    machine = MACHINE.replace("[belt, gear]", "[betl, gear]").replace(
        "  body: {}", "  body: {}\n  belt: {when: {drive: belt}}\n  guard: {when: {drive: belt}}"
    )
    write_guide({**FILES, "pump/machine.yaml": machine})
    assert told() == ["machine.yaml:3 nothing uses 'betl', but 2 places say 'belt'"]


@pytest.mark.parametrize(
    ("word", "hint"),
    [
        ("paste", "write 'copper-paste' or 'fine-blue-paste'; or add it to consumables.yaml"),
        ("blue-paste", "write 'fine-blue-paste'; or add it to consumables.yaml"),
        ("oil", "add it to consumables.yaml"),
        ("red-paste", "add it to consumables.yaml"),
        ("rag", "add it to consumables.yaml"),
    ],
)
def test_names_with_the_same_word_are_shown_when_they_are_few(word: str, hint: str, write_guide: Write) -> None:
    names = ["copper-paste", "fine-blue-paste", *(f"{kind}-oil" for kind in ("gear", "thin", "mill", "long", "lamp"))]
    listed = "".join(f"{name}: {{name: {name}}}\n" for name in names)
    job = JOB.replace("  - install: lid\n", f"  - clean: lid\n    with: {word}\n  - install: lid\n")
    write_guide({**FILES, "pump/consumables.yaml": listed, "pump/jobs/look.yaml": job})
    assert [each.hint for each in lint([Path("pump")]).findings if each.check == "unknown-name"] == [hint]


def test_a_thing_that_is_not_given_is_told_once_with_all_places(write_guide: Write, putback: Putback) -> None:
    steps = "  - inspect: lid\n    note: Look for cracks.\n  - remove: magneto\n  - install: magneto\n"
    other = "job: Other\nsteps:\n  - lift: magneto\n"
    write_guide({**FILES, "pump/jobs/look.yaml": f"job: Look\nsteps:\n{steps}", "pump/jobs/other.yaml": other})
    [finding] = [finding for finding in lint([Path("pump")]).findings if finding.check == "unknown-name"]
    assert (finding.span.line, finding.message) == (5, "nothing is called 'magneto'")
    assert [(also.span.path, also.span.line, also.message) for also in finding.also] == [
        ("pump/jobs/look.yaml", 6, "'magneto' is used here as well"),
        ("pump/jobs/other.yaml", 3, "'magneto' is used here"),
    ]
    # Asked for the other file alone, it is told as well.
    assert putback("lint", "pump/jobs/other.yaml").code == 1


def test_names_of_the_library_are_told_without_a_machine(write_guide: Write) -> None:
    job = (
        "job: Look\nsteps:\n  - caution: nothing-known\n  - inspect: lid\n    note: Look for cracks.\n    tool: soket\n"
    )
    write_guide({"pump/machine.yaml": "machine: [\n", "pump/jobs/look.yaml": job})
    assert told()[:2] == [
        "jobs/look.yaml:3 no caution is called 'nothing-known'",
        "jobs/look.yaml:6 no tool is called 'soket'",
    ]


def test_a_tag_that_is_nearly_one_of_a_hazard(write_guide: Write) -> None:
    hazards = "fuel: {name: fuel, signal-at-least: warning, tags: [fuel]}\n"
    machine = MACHINE.replace("  body: {}", "  body: {tags: [fule, own-word]}")
    write_guide({**FILES, "pump/machine.yaml": machine, "pump/hazards.yaml": hazards})
    assert told() == ["machine.yaml:8 no hazard has the tag 'fule'"]


SLIPS = [
    ("drain-plgu", "drain-plug", True),
    ("drainplug", "drain-plug", True),
    ("outlet-valve", "inlet-valve", False),
    ("upper-bolt", "lower-bolt", False),
    ("cylinder-3", "cylinder-2", False),
    ("of", "off", True),
    ("of", "on", False),
    ("oil-out", "oil-in", False),
    ("kye", "key", True),
    ("bits", "kits", False),
    ("inspekt", "inspect", True),
]


@pytest.mark.parametrize(("word", "name", "slip"), SLIPS)
def test_a_slip_is_no_other_word(word: str, name: str, slip: bool) -> None:
    assert is_slip(word, name) is slip
