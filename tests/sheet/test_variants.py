"""What a sheet says where variants differ, and where only a branch does something."""

from __future__ import annotations

from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.ledger.opened import open_guide
from putback.sheet import JobSheet, sheet_of
from putback.source.intake import Memory
from putback.words import Language, as_text, catalogue

MACHINE = """\
machine: Trial engine
options:
  cylinders: [one, two]
  drive: [belt, gear]
controls:
  tap: {positions: [open, closed], normal: open}
  switch: {positions: [on, off], normal: on, when: {drive: gear}}
kits:
  seal-kit: {name: set of seals, number: T-900}
parts:
  first-cap: {name: rod cap of cylinder 1}
  second-cap: {name: rod cap of cylinder 2, when: {cylinders: two}}
  cover: {}
  seal: {replace: always, kit: seal-kit}
  ring: {kit: ring-pack, tags: [sharp-waste]}
  filter: {replace: always, tags: [oily]}
fasteners:
  bolts: {name: cover bolt, count: 5, secures: cover, torque: 9 N·m, condition: oiled,
          retighten-after: 10 h, slacken: 90°}
  places: {name: nut, count: 2, positions: [left, right], torque: 9 N·m}
lines:
  hose: {joins: [cover, first-cap]}
fluids:
  oil: {drains: [bolts], tags: [oily]}
"""
HAZARDS = "oil-waste: {name: oil, signal-at-least: caution, tags: [oily], waste: To the collection point.}\n"
HAZARDS += "let-out: {name: oil let out, signal-at-least: caution, verbs: [drain], waste: Into a can.}\n"
HAZARDS += "scrap: {name: scrap, signal-at-least: caution, tags: [sharp-waste], waste: To the scrap bin.}\n"


def sheet(steps: str, **files: str) -> tuple[JobSheet, Language]:
    texts = {"guide.yaml": "title: T\n", "machine.yaml": MACHINE, "hazards.yaml": HAZARDS, "jobs/j.yaml": steps}
    texts |= {f"blocks/{name}.yaml": text for name, text in files.items()}
    if not steps.startswith("job:"):
        texts["jobs/j.yaml"] = f"job: J\nsteps:\n{steps}"
    guide = read_guide(Path("/g"), store=Memory({Path("/g", name): text for name, text in texts.items()}))
    assert guide.faults == ()
    opened = open_guide(guide)
    found = sheet_of(guide.jobs["j"], opened)
    assert found is not None
    return found, catalogue(opened)


def rows(steps: str) -> list[str]:
    found, words = sheet(steps)
    return [
        f"{words.row(row.thing.key, row.when, row.only_if)}: {row.out} {row.back} {row.new}" for row in found.count_back
    ]


ONE_TWO = """\
  - {remove: bolts, count: 2, when: {cylinders: one}}
  - {remove: bolts, count: 3, when: {cylinders: two}}
  - install: bolts
"""
SOMETIMES = "  - {remove: cover, when: {drive: belt}}\n  - install: cover\n"
BY_TURNS = "  - {remove: bolts, count: 2}\n  - install: bolts\n" * 3
RENEWED_LATE = "  - remove: ring\n  - check: ring\n    otherwise: [{install: ring, new: true}]\n  - install: ring\n"
OFF_LATER = "  - check: x\n    otherwise: [{remove: cover}, {install: cover}]\n  - remove: cover\n  - install: cover\n"
OFF_IN_BOTH = """\
  - check: x
    otherwise: [{remove: cover}, {install: cover}]
  - check: y
    otherwise: [{remove: cover}, {install: cover}]
"""
STOPPED = "  - check: x\n    otherwise: [{remove: cover}, {stop: Call.}]\n"
ONE_HOSE = "  - {disconnect: hose, at: cover}\n  - {disconnect: hose, at: first-cap}\n  - connect: hose\n"
GOES_BACK = "  - {check: x, name: look, otherwise: [{remove: cover}, {back-to: look}]}\n  - install: cover\n"


@pytest.mark.parametrize(
    ("steps", "wanted"),
    [
        ("  - remove: [first-cap, second-cap]\n  - install: [first-cap, second-cap]\n",
         ["first-cap: 1 1 0", "second-cap (only with two cylinders): 1 1 0"]),
        (ONE_TWO, ["bolts (only with one cylinder): 2 2 0", "bolts (only with two cylinders): 3 3 0"]),
        (SOMETIMES, ["cover (only with belt drive): 1 1 0"]),
        (BY_TURNS, ["bolts: 2 2 0"]),
        ("  - {remove: places, at: left}\n  - install: places\n  - {remove: places, at: right}\n  - install: places\n",
         ["places: 2 2 0"]),
        ("  - replace: places\n", ["places: 2 2 2"]),
        ("  - replace: seal\n  - replace: seal\n", ["seal: 2 2 2"]),
        (RENEWED_LATE, ["ring: 1 1 0", "ring (only if step 2 asks for it): 0 0 1"]),
        (OFF_LATER, ["cover: 1 1 0"]),
        (OFF_IN_BOTH, ["cover (only if step 1 or 2 asks for it): 1 1 0"]),
        (STOPPED, ["cover (only if step 1 asks for it): 1 0 0"]),
        (GOES_BACK, ["cover (only if step 1 asks for it): 1 1 0"]),
        (ONE_HOSE, ["hose: 1 1 0"]),
        ("  - install: cover\n", []),
    ],
    ids=["of one variant", "counts differ", "the step's own when", "by turns", "by places", "nuts renewed", "twice",
         "renewed in a branch", "off later", "in two branches", "stopped", "goes back", "one hose", "nothing off"],
)  # fmt: skip
def test_what_is_counted(steps: str, wanted: list[str]) -> None:
    assert rows(steps) == wanted


def test_a_count_that_no_row_can_say_is_the_most(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("putback.variants.conditions.MOST_OPTIONS", 0)
    found, words = sheet(
        "  - {remove: bolts, count: 2}\n  - {remove: bolts, count: 1, when: {drive: gear}}\n  - install: bolts\n"
    )
    [row] = found.count_back
    assert (row.out, row.back, row.when, row.varies) == (3, 3, None, True)
    assert words.count(row.out, varies=row.varies) == "up to 3"
    assert words.count(0) == "–"


def test_what_a_branch_needs_is_laid_out_only_if_it_asks() -> None:
    found, words = sheet("""\
  - {remove: cover, tool: puller}
  - check: x
    otherwise: [{replace: ring, tool: press}, {clean: cover, with: rag, when: {drive: belt}}, {place: engine-stand}]
  - {install: cover, tool: puller, when: {drive: gear}}
  - {clean: cover, with: rag, when: {drive: gear}}
""")
    set_up = found.set_up
    assert [words.row(row.what, row.when, row.only_if) for row in set_up.tools] == [
        "puller",
        "press (only if step 2 asks for it)",
    ]
    assert [words.row(row.what, row.when, row.only_if) for row in set_up.consumables] == [
        "lint-free rags (only with gear drive)",
        "lint-free rags (only if step 2 asks for it; only with belt drive)",
    ]
    assert [words.row(row.what, row.when, row.only_if) for row in set_up.equipment] == [
        "engine stand (only if step 2 asks for it)"
    ]
    assert [(row.thing.key, row.only_if, words.kit(row.kit)) for row in set_up.parts] == [("ring", ("2",), "ring pack")]


@pytest.mark.parametrize(
    ("text", "said"),
    [("the thread is old", "Why: the thread is old."), ("A loose nut rattles", "A loose nut rattles."),
     ("The key shears. Then it stops.", "The key shears. Then it stops.")],
)  # fmt: skip
def test_a_reason_reads_as_a_sentence(text: str, said: str) -> None:
    assert sheet("  - check: x\n")[1].reason(text) == said


def test_a_kit_is_printed_with_its_number() -> None:
    found, words = sheet("  - replace: seal\n")
    assert [words.kit(row.kit) for row in found.set_up.parts] == ["set of seals (T-900)"]


@pytest.mark.parametrize(
    ("steps", "wanted"),
    [
        ("  - {set: tap, to: closed}\n  - remove: cover\n", ["tap closed"]),
        ("  - {set: tap, to: closed, when: {drive: belt}}\n", ["tap closed (only with belt drive)"]),
        ("  - {set: switch, to: 'off'}\n", ["switch off (only with gear drive)"]),
        ("  - {set: tap, to: closed}\n  - {set: tap, to: open}\n", []),
        ("  - remove: cover\n  - {set: tap, to: closed}\n", []),
        ("  - {remove: cover, when: {drive: belt}}\n  - {set: tap, to: closed}\n",
         ["tap closed (only with gear drive)"]),
        ("  - check: x\n    otherwise: [{set: tap, to: closed}]\n", []),
        ("  - {set: tap, to: closed}\n  - act: Pull the rope.\n  - run: pump\n", []),
        ("  - {set: tap, to: closed}\n  - remove: cover\n  - install: cover\n  - run: pump\n", ["tap closed"]),
    ],
)  # fmt: skip
def test_what_is_set_first(steps: str, wanted: list[str]) -> None:
    found, words = sheet(steps)
    assert [words.row(" ".join((row.what[0].key, row.what[1])), row.when) for row in found.set_up.positions] == wanted


TITLED = """\
job: J
sections:
  - {title: A, when: {cylinders: one}, steps: [{set: tap, to: closed}, {remove: cover}]}
  - {title: B, when: {cylinders: two}, steps: [{set: tap, to: closed}, {remove: cover}]}
  - {title: C, steps: [{install: cover}, {set: switch, to: "off"}]}
"""


def test_the_first_section_of_each_variant_says_what_is_set_first() -> None:
    found, _ = sheet(TITLED)
    assert [(row.what[0].key, row.what[1], row.when) for row in found.set_up.positions] == [("tap", "closed", None)]


@pytest.mark.parametrize(
    ("steps", "wanted"),
    [
        ("  - {remove: bolts, count: 2}\n  - remove: bolts\n  - {install: bolts, count: 4}\n  - install: bolts\n", [
            "1. Remove two of the five cover bolts.", "2. Remove three of the five cover bolts.",
            "3. Install four of the five cover bolts hand-tight.", "4. Install one of the five cover bolts hand-tight.",
        ]),
        ("  - {remove: bolts, count: 2, when: {drive: belt}}\n  - {remove: bolts, text: Take them out.}\n", [
            "1. Only with belt drive. Remove two of the five cover bolts.",
            "2. Only with belt drive. Take them out. Three pieces.",
            "3. Only with gear drive. Take them out. Five pieces.",
        ]),
        ("  - {remove: places, at: left}\n  - remove: places\n  - install: places\n", [
            "1. Remove the nut at left.", "2. Remove the nut at right.", "3. Install the two nuts hand-tight.",
        ]),
        ("  - check: x\n    otherwise: [{remove: bolts, count: 1}]\n  - remove: bolts\n", [
            "1. Check the x.", "1a. Remove one of the five cover bolts.", "2. Remove the five cover bolts.",
        ]),
    ],
    ids=["the rest", "by variant", "by places", "it depends on an answer"],
)  # fmt: skip
def test_a_step_without_a_count_says_how_many_are_left(steps: str, wanted: list[str]) -> None:
    found, words = sheet(steps)
    told = [
        " ".join(filter(None, (f"{line.number}.", words.only_when(line.when), as_text(words.step(line.step)))))
        for line in found.walk()
    ]
    assert told == wanted


def test_who_came_to_a_stop_reads_no_other_step_for_it() -> None:
    found, _ = sheet(
        "  - stop: Enough.\n    when: {drive: belt, cylinders: one}\n"
        "  - remove: bolts\n    count: 2\n  - install: bolts\n  - tighten: bolts\n"
    )
    _, _, install, tighten = found.walk()
    assert install.variants == tighten.variants


def test_a_question_on_things_of_some_variants_is_asked_once() -> None:
    found, words = sheet("""\
  - inspect: [first-cap, second-cap]
    for: scores
    otherwise: [{replace: ring}, {remove: bolts}, {install: bolts}, {tighten: bolts}]
""")
    [section] = found.sections
    assert [(line.number, words.only_when(line.when), as_text(words.step(line.step))) for line in section.steps] == [
        ("1", "Only with one cylinder.", "Inspect the rod cap of cylinder 1 for scores."),
        (
            "2",
            "Only with two cylinders.",
            "Inspect the rod cap of cylinder 1 and the rod cap of cylinder 2 for scores.",
        ),
    ]
    assert [(row.thing.key, row.only_if, row.when) for row in found.count_back] == [
        ("ring", ("1", "2"), None),
        ("bolts", ("1", "2"), None),
    ]
    assert [row.only_if for row in found.follow_ups] == [("1", "2")]


def test_a_text_on_things_of_some_variants_stands_once_for_each_variant() -> None:
    found, words = sheet("  - {clean: [first-cap, second-cap], text: Wipe both ends.}\n")
    assert [(words.only_when(line.when), as_text(words.step(line.step))) for line in found.walk()] == [
        ("Only with one cylinder.", "Wipe both ends."),
        ("Only with two cylinders.", "Wipe both ends."),
    ]


def test_what_is_out_already_does_not_come_off_once_more() -> None:
    out = "  - {remove: places, at: left}\n  - {replace: places, at: left}\n"
    assert rows(out) == ["places: 1 0 0"]
    assert rows(f"{out}  - {{install: places, at: left}}\n") == ["places: 1 1 1"]


CONDEMNED = """\
  - remove: [bolts, ring]
  - {check: a, otherwise: [{replace: bolts, count: 2}]}
  - {measure: b, limit: "< 4 mm", outcomes: [{found: ">= 4 mm", steps: [{replace: ring}]}]}
  - install: bolts
  - install: ring
  - remove: cover
  - replace: cover
  - install: cover
"""


def test_what_is_condemned_on_the_bench_comes_back_new() -> None:
    found, words = sheet(CONDEMNED)
    assert [row for row in rows(CONDEMNED) if "only" in row or row.startswith("cover")] == [
        "bolts (only if step 2 asks for it): 0 0 2",
        "ring (only if step 3 asks for it): 0 0 1",
        "cover: 1 1 1",
    ]
    assert [words.new_if(line.step, line.new_if) for line in found.walk() if line.new_if] == [
        "Fit new ones if step 2 condemned them.",
        "Fit a new one if step 3 condemned it.",
    ]
    said = [as_text(words.step(line.step)) for line in found.walk() if line.step.things[0].name in ("ring", "cover")]
    assert said == [
        "Lay out a new ring to go back, and discard the old one.", "Install the ring.",
        "Remove the cover.", "Lay out a new cover to go back, and discard the old one.", "Install a new cover.",
    ]  # fmt: skip


def test_a_fluid_is_laid_out_as_much_as_is_filled_in() -> None:
    found, words = sheet("  - {fill: oil, volume: 800 ml}\n  - {fill: oil, volume: 50 ml, when: {drive: gear}}\n")
    assert [words.row(words.fluid(*row.what), row.when) for row in found.set_up.fluids] == [
        "oil: 800\N{NO-BREAK SPACE}ml (27\N{NO-BREAK SPACE}US fl oz) (only with belt drive)",
        "oil: 850\N{NO-BREAK SPACE}ml (28.7\N{NO-BREAK SPACE}US fl oz) (only with gear drive)",
    ]


def test_safety_lists_say_for_which_variants() -> None:
    found, words = sheet("""\
  - {caution: [mains-electricity, sharp-edges], when: {drive: gear}}
  - check: x
    otherwise: [{caution: [sharp-edges, crushing]}]
""")
    set_up = found.set_up
    assert [words.row(row.what.key, row.when) for row in set_up.cautions] == [
        "mains-electricity (only with gear drive)", "sharp-edges", "crushing",
    ]  # fmt: skip
    assert [words.row(row.what.key, row.when) for row in set_up.licensed] == ["mains (only with gear drive)"]
    assert "insulating gloves (only with gear drive)" in [words.row(row.what, row.when) for row in set_up.wear]
    assert "cut-resistant gloves" in [words.row(row.what, row.when) for row in set_up.wear]


@pytest.mark.parametrize(
    ("when", "said"),
    [
        ("{drive: belt, cylinders: one}", "only with one cylinder and belt drive"),
        ("{drive: [belt, gear], mount: [a, b]}", "only with belt or gear drive, and mount: a or b"),
        ("[{drive: belt, mount: a}, {drive: gear, mount: b}]",
         "only with belt drive and mount: a, or with gear drive and mount: b"),
        ("[{cylinders: one}, {drive: [belt, gear], mount: b}]",
         "only with one cylinder; or with belt or gear drive, and mount: b"),
    ],
    ids=["in the order of the options", "several choices", "several cases", "several of both"],
)  # fmt: skip
def test_a_condition_says_what_goes_together(monkeypatch: pytest.MonkeyPatch, when: str, said: str) -> None:
    options = "  drive: [belt, gear, none]\n  mount: [a, b, c]\n"
    monkeypatch.setattr(f"{__name__}.MACHINE", MACHINE.replace("  drive: [belt, gear]\n", options))
    found, words = sheet(f"  - {{check: x, when: {when}}}\n")
    assert [words.row("", line.when) for line in found.walk()] == [f" ({said})"]


@pytest.mark.parametrize(
    ("steps", "oiled"),
    [
        ("  - tighten: bolts\n", False),
        ("  - loosen: bolts\n  - tighten: bolts\n", False),
        ("  - remove: bolts\n  - install: bolts\n  - tighten: bolts\n", True),
        ("  - remove: bolts\n  - install: bolts\n  - tighten: bolts\n  - tighten: bolts\n", False),
        ("  - remove: bolts\n  - install: bolts\n  - tighten: bolts\n  - loosen: bolts\n  - tighten: bolts\n", False),
        ("  - {remove: bolts, when: {drive: belt}}\n  - install: bolts\n  - tighten: bolts\n", True),
        ("  - check: x\n    otherwise: [{remove: bolts}, {install: bolts}, {tighten: bolts}]\n", True),
    ],
)
def test_the_state_of_the_threads_is_said_of_bolts_that_went_in(steps: str, oiled: bool) -> None:
    found, words = sheet(steps)
    last = list(found.walk())[-1]
    assert ("threads oiled" in as_text(words.step(last.step, last.stays_in))) is oiled


def test_how_a_settled_joint_is_tightened_once_more() -> None:
    found, words = sheet("  - remove: bolts\n  - install: bolts\n  - tighten: bolts\n")
    [due] = found.follow_ups
    said = as_text(words.once_more(due.thing, due.count, due.hours, due.torque, due.steps, due.slacken))
    assert said.replace("\N{NO-BREAK SPACE}", " ") == (
        "After 10 running hours, loosen the five cover bolts by 90° and tighten them again, one at a time, as in "
        "step 3, to 9 N·m (6.6 lbf·ft)."
    )
    assert words.if_led(["3", "5"]) == "Only if the steps under step 3 or 5 were done."


@pytest.mark.parametrize(
    ("steps", "told"),
    [
        ("  - remove: filter\n  - {install: filter, new: true}\n", {"1": "To the collection point."}),
        ("  - remove: filter\n  - install: filter\n", {}),
        ("  - remove: bolts\n  - install: bolts\n", {"1": "To the collection point."}),
        ("  - loosen: bolts\n", {}),
        ("  - remove: ring\n  - check: ring\n    otherwise: [{install: ring, new: true}]\n  - install: ring\n",
         {"2a": "To the scrap bin."}),
        ("  - check: ring\n    otherwise: [{remove: ring}, {install: ring, new: true}]\n", {"1a": "To the scrap bin."}),
        ("  - replace: filter\n  - replace: filter\n", {"1": "To the collection point."}),
        ("  - {replace: filter, when: {drive: belt}}\n  - replace: filter\n",
         dict.fromkeys(("1", "2"), "To the collection point.")),
    ],
    ids=["renewed", "put back", "drained", "not out yet", "renewed in a branch", "all in a branch", "once", "to all"],
)  # fmt: skip
def test_what_is_waste(steps: str, told: dict[str, str]) -> None:
    found, _ = sheet(steps)
    assert {step.number: " ".join(step.waste) for step in found.walk() if step.waste} == told


def test_steps_say_for_whom_they_are_as_their_authors_wrote_it() -> None:
    found, words = sheet(
        """\
job: J
sections:
  - title: A
    when: {cylinders: two}
    steps:
      - remove: second-cap
      - {do: inner, when: {drive: belt}}
  - title: B
    steps:
      - {check: x, when: {drive: belt}, otherwise: [{remove: cover, when: {drive: belt}}, {install: cover}]}
      - remove: [cover, second-cap]
""",
        inner="block: I\nsteps:\n  - remove: cover\n  - {install: cover, when: {cylinders: [one, two]}}\n",
    )
    assert [words.only_when(section.when) for section in found.sections] == ["Only with two cylinders.", None]
    assert [(step.number, words.only_when(step.when)) for step in found.walk()] == [
        ("1", None),
        ("2", "Only with belt drive."),
        ("3", "Only with belt drive."),
        ("4", "Only with belt drive."),
        ("4a", None),
        ("4b", None),
        ("5", None),
        ("6", "Only with two cylinders."),
    ]


def test_waste_of_a_hazard_without_tags_is_told_at_what_has_it() -> None:
    found, _ = sheet("  - {remove: bolts}\n  - {drain: oil}\n")
    assert [line.waste for line in found.walk()] == [(), ("To the collection point.", "Into a can.")]
    found, _ = sheet("  - {drain: oil}\n")
    assert [line.waste for line in found.walk()] == [("To the collection point.", "Into a can.")]
