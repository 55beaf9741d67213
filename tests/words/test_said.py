# ruff: noqa: E501 - a sentence stands whole on one line
"""An author's own text never loses what its step must say."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.model.job import Step
from putback.model.verbs import VERBS
from putback.words import as_text
from putback.words.english import English
from putback.words.fact import Fact, FactKind
from putback.words.facts import facts_of
from tests.guard import assert_none
from tests.sphinxext.projects import write

MACHINE = """\
machine: Test engine
controls:
  tap: {positions: [open, closed], normal: closed}
parts:
  block: {}
  head: {name: cylinder head, loosen-evenly: true, mass: 24 kg}
  seal: {number: TE-11, replace: always}
  rotor: {rotation: clockwise, number: TE-12}
  cam: {wear: {measure: height at the peak, limit: ">= 6.4 mm"}}
  fan-wheel: {name: fan wheel, thread: M10 x 1.25 LH, drive: hex 17 mm, torque: 30 N·m, condition: dry, mass: 2 kg}
  filter: {name: oil filter, by-hand: until its gasket touches, past-hand-tight: 3/4 turn, replace: always, number: TE-13}
fasteners:
  head-bolts: {name: head bolt, count: 6, thread: M8 x 1.25, length: 80 mm, drive: hex 13 mm, secures: head, to: block,
               passes: 2, condition: oiled,
               torque: 24 N·m, layout: "rows 2 x 3, 120 mm x 70 mm", number: TE-21}
  cover-screws: {name: cover screw, positions: [front, aft], length: {front: 30 mm, aft: 45 mm}, thread: M6, torque: 8 N·m .. 10 N·m}
  rod-bolts: {name: rod bolt, count: 2, thread: M7 x 1.0, stages: [12 N·m, 90°]}
  side-nut: {name: side nut, kind: nut, thread: M8, to: block, torque: 18 N·m, tool: crowfoot, condition: dry}
  lug-nuts: {name: lug nut, kind: nut, count: 2, thread: M8, drive: hex 13 mm, torque: 18 N·m, counterhold: lug-bolts}
  lug-bolts: {name: lug bolt, kind: bolt, count: 2, thread: M8, drive: hex 14 mm, secures: head}
  lock-nuts: {name: lock nut, kind: nut, count: 2, positions: [front, aft], torque: 14 N·m, locks: adjusters, condition: dry}
  adjusters: {name: adjuster, kind: screw, count: 2, positions: [front, aft], drive: hex 7 mm, no-torque: until it clicks}
  cap: {name: filler cap, by-hand: until it stops}
  pipe-plug: {name: pipe plug, thread: 1/4 NPT, past-hand-tight: 1.5 .. 3 turns, condition: sealant}
  strap: {name: strap, drive: hex 7 mm, no-torque: until the hose cannot be turned}
lines:
  pipe: {joins: [block, head], number: TE-31}
settings:
  gap: {name: points gap, limit: 0.3 mm .. 0.4 mm, measured: at the widest}
fluids:
  oil: {name: engine oil, grade: SAE 30, volume: 2 l}
"""

LIBRARY = {
    "tools.yaml": """\
wrench: {name: torque wrench, range: 10 N·m .. 60 N·m, lever: 360 mm}
crowfoot: {name: crowfoot, extends: 40 mm}
""",
    "consumables.yaml": "rag: {name: rags}\n",
    "equipment.yaml": "hoist: {name: hoist}\n",
    "cautions.yaml": "hot: {signal: warning, hazard: It is hot., avoid: [Wait.]}\n",
}

STEPS = [
    "adjust: gap",
    "remove: head-bolts",
    "{remove: head-bolts, count: 2}",
    "{remove: cover-screws, at: front}",
    "loosen: head-bolts",
    "remove: lug-nuts",
    "tighten: lug-nuts",
    "{tighten: lug-nuts, torque: 9 N·m}",
    "{tighten: lug-nuts, torque: 50 %}",
    "{tighten: lug-nuts, torque: snug}",
    "{tighten: rod-bolts, torque: 90°}",
    "{loosen: lock-nuts, at: front}",
    "{tighten: lock-nuts, count: 1}",
    "{loosen: head-bolts, count: 1}",
    "{install: seal, new: true}",
    "{install: head-bolts, new: true}",
    "{install: rotor, new: true, turn: clockwise}",
    "{install: rotor, turn: anticlockwise}",
    "install: cap",
    "install: cover-screws",
    "remove: fan-wheel",
    "loosen: fan-wheel",
    "install: fan-wheel",
    "tighten: fan-wheel",
    "replace: fan-wheel",
    "{install: filter, new: true}",
    "replace: filter",
    "tighten: filter",
    "tighten: pipe-plug",
    "replace: seal",
    "replace: head-bolts",
    "replace: cap",
    "tighten: head-bolts",
    "{tighten: head-bolts, count: 4}",
    "{tighten: head-bolts, torque: 30 N·m}",
    "{tighten: head-bolts, once-more: true}",
    "tighten: cover-screws",
    "tighten: rod-bolts",
    "tighten: side-nut",
    "tighten: cap",
    "tighten: strap",
    "disconnect: pipe",
    "{connect: pipe, at: head}",
    "{drain: oil, volume: 1.5 l}",
    "drain: oil",
    "fill: oil",
    "{fill: oil, volume: 1.5 l}",
    "{set: tap, to: open}",
    "{place: hoist, at: over the head}",
    "take-away: hoist",
    "{mark: head, against: the block}",
    "{align: head, against: the block}",
    "adjust: gap",
    "{adjust: gap, limit: 0.32 mm .. 0.36 mm}",
    "measure: gap",
    "check: gap",
    "{apply: rag, to: head}",
    "{clean: head, with: rag}",
    "{inspect: head, for: [a crack, a scratch]}",
    "measure: cam",
    "{measure: slit, limit: 0.2 mm .. 0.4 mm}",
    "{measure: slit, limit: as on the plate}",
    "{measure: slit, limit: 0.2 mm .. 0.4 mm, readings: 3, difference: <= 0.05 mm}",
    "{measure: slit, limit: 0.2 mm .. 0.4 mm, readings: [left, right], judge: average}",
    "{check: tell-tale, limit: water within 20 s}",
    "{check: pressure, limit: '>= 2 bar'}",
    "{run: engine, at: 1500 rpm, for: 5 min}",
    "{run: engine, at: idle}",
    "{lift: head, people: 2}",
    "{turn: rotor, way: clockwise, seen-from: the rear, by: 2 turns}",
    "{turn: rotor, by: 90°, until: it clicks}",
    "{wait: 10 min, until: it is cold}",
    "{act: Bleed it, on: [rotor, hoist]}",
    "caution: hot",
    "note: Mind the edges.",
    "stop: Call a workshop.",
]
"""Every verb that is printed as a step, with all that it can say."""

NOT_PRINTED = {"do", "reverse", "back-to", "each"}
"""`do` and `reverse` are written out, `back-to` names a step, and `each` leads in to steps."""


def guide_in(folder: Path, steps: str) -> Guide:
    files = {"guide.yaml": "title: Test\n", "machine.yaml": MACHINE, "jobs/job.yaml": f"job: Test\nsteps:\n{steps}"}
    write(folder / "guide", files)
    write(folder / "shared", LIBRARY)
    guide = read_guide(folder / "guide")
    assert [fault.message for fault in guide.faults] == []
    return guide


def with_text(step: str, text: str) -> str:
    return f"{step[:-1]}, text: {text}}}" if step.startswith("{") else f"{{{step}, text: {text}}}"


def said(folder: Path, step: str) -> tuple[English, Step, str]:
    guide = guide_in(folder, f"  - {step}\n")
    english = English(open_guide(guide))
    found = guide.jobs["job"].sections[0].steps[0]
    return english, found, as_text(english.step(found)).replace("\N{NO-BREAK SPACE}", " ")


def facts(english: English, step: Step) -> tuple[Fact, ...]:
    return facts_of(step, english.things, english.library)


def test_every_verb_is_tried(tmp_path: Path) -> None:
    guide = guide_in(tmp_path, "".join(f"  - {step}\n" for step in STEPS))
    steps = list(guide.jobs["job"].steps())
    untried = set(VERBS) - {step.verb.name for step in steps} - NOT_PRINTED
    assert_none(sorted(untried), "give STEPS of this file a step with all keys for each of these verbs")
    english = English(open_guide(guide))
    kinds = {fact.kind for step in steps for fact in facts(english, step)}
    assert kinds == set(FactKind)


@pytest.mark.parametrize("step", STEPS)
def test_a_made_sentence_states_all(tmp_path: Path, step: str) -> None:
    english, found, words = said(tmp_path, step)
    assert english.missing(found, words) == []


@pytest.mark.parametrize("step", [step for step in STEPS if not step.startswith(("caution", "note"))])
def test_a_text_that_says_nothing_is_followed_by_all(tmp_path: Path, step: str) -> None:
    english, found, words = said(tmp_path, with_text(step, "Do this work."))
    assert words.startswith("Do this work.")
    assert english.missing(found, words) == []


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("{tighten: side-nut, text: Do it to 18 N·m.}", "Do it to 18 N·m. Tighten the side nut to 18 N·m (13 lbf·ft), "),
        ("{tighten: cover-screws, text: Tighten both to 9 N·m.}", "Tighten both to 9 N·m. Tighten the two cover screws "),
        ("{tighten: cover-screws, text: Tighten both to 8 to 10 N·m.}", "Tighten both to 8 to 10 N·m."),
        ("{tighten: cap, text: Turn it home}", "Turn it home. Until it stops."),
        ("{tighten: cap, text: Turn it until it stops.}", "Turn it until it stops."),
        ("{install: seal, new: true, text: Press a new seal in.}", "Press a new seal in. Part number TE-11."),
        ("{install: seal, new: true, text: Press seal TE-11 in.}", "Press seal TE-11 in."),
        ("{install: rotor, turn: clockwise, text: Press it in.}", "Press it in. Clockwise, never anticlockwise."),
        ("{install: rotor, turn: clockwise, text: Turn the shaft anticlockwise.}", "Turn the shaft anticlockwise. Clockwise, "),
        ("{remove: cover-screws, text: Take the screws (M6) out.}", "Take the screws (M6) out. Two pieces, 30 mm, 45 mm."),
        ("{measure: slit, limit: 68 .. 72 kPa (9.9 .. 10.4 psi), text: Pump to 70 kPa.}", "Pump to 70 kPa. Limit: 68–72 kPa (9.9–10.4 psi)."),
        ("{measure: slit, limit: 0.2 mm .. 0.4 mm, text: Try 0.3 mm.}", "Try 0.3 mm. Limit: 0.2–0.4 mm (0.0079–0.0157 in)."),
        ("{measure: slit, limit: 0.2 mm .. 0.4 mm, text: It is between 0.2 and 0.4 mm.}", "It is between 0.2 and 0.4 mm."),
        ("{turn: rotor, way: clockwise, by: 2 turns, text: Turn it over.}", "Turn it over. Clockwise, never anticlockwise, two turns."),
        ("{turn: rotor, way: clockwise, by: 2 turns, text: Turn it clockwise twice.}", "Turn it clockwise twice. Two turns."),
        ("{fill: oil, text: Top it up.}", "Top it up. SAE 30, 2 l (2.1 US qt) in all."),
        ("{tighten: head-bolts, text: Tighten the six bolts to 24 N·m.}", "Tighten the six bolts to 24 N·m. From the middle outwards, the last stage twice round, threads oiled."),
        ("{tighten: head-bolts, text: Oil the six bolts and tighten them twice from the centre to 24 N·m.}", "Oil the six bolts and tighten them twice from the centre to 24 N·m."),
        ("{adjust: gap, text: Turn the plate.}", "Turn the plate. Limit: 0.3–0.4 mm (0.0118–0.0157 in)."),
        ("{wait: 10 min, text: Wait ten minutes.}", "Wait ten minutes."),
        ("{run: engine, at: 1500 rpm, for: 5 min, text: Let it run.}", "Let it run. At 1500 rpm, for 5 min."),
        ("{inspect: head, for: [a crack, a scratch], text: Look at it.}", "Look at it. Look for a crack or a scratch."),
        ("{loosen: head-bolts, text: Loosen all.}", "Loosen all. Six pieces, M8 x 1.25, 80 mm, 13 mm hex, in the opposite order, "),
    ],
)  # fmt: skip
def test_what_a_text_leaves_out_follows_it(tmp_path: Path, step: str, sentence: str) -> None:
    words = said(tmp_path, step)[2]
    assert words == sentence if sentence.endswith(".") else words.startswith(sentence)


def shipped() -> Iterator[Path]:
    for cover in sorted(Path("procedures").glob("*/guide.yaml")):
        yield cover.parent


@pytest.mark.parametrize("folder", list(shipped()), ids=lambda path: path.name)
def test_no_step_of_a_shipped_guide_loses_a_fact(folder: Path) -> None:
    guide = read_guide(folder)
    english = English(open_guide(guide))
    told = 0
    for sequence in (*guide.jobs.values(), *guide.library.blocks.values()):
        for step in sequence.steps():
            words = as_text(english.step(step))
            assert english.missing(step, words) == [], words
            told += len(facts(english, step))
    assert told > 50
