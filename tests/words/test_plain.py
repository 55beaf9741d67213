# ruff: noqa: E501 - a sentence stands whole on one line
"""Flat sentences say each fact that the English ones say, by the messages of a catalogue alone."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import Opened, open_guide
from putback.model.job import Step
from putback.model.machine import Control, Fastener, Fluid
from putback.model.same_joint import InOrder, in_order
from putback.sheet import sheet_of
from putback.sheet.stacked import stacks_of_machine
from putback.telling.catalogue import Untranslated
from putback.trade.words import Side, said_by
from putback.units import Kind, Quantity
from putback.words import Language, as_text
from putback.words.fact import Fact, FactKind
from putback.words.facts import facts_of
from putback.words.pieces import Role
from putback.words.plain import Plain
from putback.words.telling import Telling
from tests.words.pseudo import CLOSE, OPEN, TELLING
from tests.words.test_said import STEPS, guide_in, with_text

FLAT = Telling("qad", Untranslated())
"""Says the English texts of the messages."""


def said(folder: Path, step: str, telling: Telling = FLAT) -> tuple[Plain, Step, str]:
    guide = guide_in(folder, f"  - {step}\n")
    plain = Plain(open_guide(guide), telling)
    found = guide.jobs["job"].sections[0].steps[0]
    return plain, found, as_text(plain.step(found)).replace("\N{NO-BREAK SPACE}", " ")


def facts(plain: Plain, step: Step) -> tuple[Fact, ...]:
    return facts_of(step, plain.things, plain.library)


def test_it_is_a_language(tmp_path: Path) -> None:
    language: Language = Plain(open_guide(guide_in(tmp_path, "  - remove: seal\n")), FLAT)
    assert language.labels.job.tools == "Tools"


@pytest.mark.parametrize("step", STEPS)
def test_a_made_sentence_states_all(tmp_path: Path, step: str) -> None:
    plain, found, words = said(tmp_path, step)
    assert plain.missing(found, words) == []


@pytest.mark.parametrize("step", [step for step in STEPS if not step.startswith(("caution", "note"))])
def test_a_text_that_says_nothing_is_followed_by_all(tmp_path: Path, step: str) -> None:
    plain, found, words = said(tmp_path, with_text(step, "Do this work."))
    assert words.startswith("Do this work.")
    assert plain.missing(found, words) == []


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("remove: head-bolts", "Remove: 6 × head bolt (M8 x 1.25, 80 mm, 13 mm hex). Loosen first, in the opposite order, half a turn at a time, until all are loose; only then take the first out."),
        ("{remove: head-bolts, count: 2}", "Remove: 2 of 6 × head bolt (M8 x 1.25, 80 mm, 13 mm hex). Loosen first, in the opposite order, half a turn at a time, until all are loose; only then take the first out."),
        ("{remove: cover-screws, at: front}", "Remove: cover screw (M6, 30 mm at: front, 45 mm at: aft) – place: front."),
        ("loosen: lug-nuts", "Loosen, but do not remove: 2 × lug nut (M8, 13 mm hex). Hold while turning: 2 × lug bolt – with: 14 mm hex."),
        ("{install: head-bolts, new: true}", "Install new: 6 × head bolt (M8 x 1.25, 80 mm, 13 mm hex, part number TE-21). Only hand-tight for now."),
        ("{install: rotor, new: true, turn: clockwise}", "Install new: rotor (part number TE-12). Turn the shaft meanwhile: clockwise, never anticlockwise."),
        ("{install: filter, new: true}", "Install new: oil filter (part number TE-13). Tighten by hand: until its gasket touches; then further by three quarters of a turn."),
        ("remove: fan-wheel", "Remove: fan wheel (M10 x 1.25 LH, 17 mm hex). Fan wheel: left-hand thread – to loosen clockwise."),
        ("replace: fan-wheel", "Replace with new: fan wheel (M10 x 1.25 LH, 17 mm hex). Only hand-tight for now. Fan wheel: left-hand thread – to loosen clockwise, to tighten anticlockwise."),
        ("tighten: head-bolts", "Tighten: 6 × head bolt – 24 N·m (18 lbf·ft), 2 times round, from the middle outwards, threads: oiled."),
        ("{tighten: head-bolts, count: 4}", "Tighten: 4 of 6 × head bolt – 24 N·m (18 lbf·ft), threads: oiled."),
        ("{tighten: head-bolts, torque: 12 N·m}", "Tighten for now: 6 × head bolt – 12 N·m (9 lbf·ft), from the middle outwards, threads: oiled."),
        ("{tighten: head-bolts, torque: 50 %}", "Tighten for now: 6 × head bolt – 12 N·m (9 lbf·ft) (50 % of the torque), from the middle outwards."),
        ("{tighten: head-bolts, once-more: true}", "Tighten once more: 6 × head bolt – from the middle outwards, one at a time, in one pull to 24 N·m (18 lbf·ft)."),
        ("tighten: rod-bolts", "Tighten: 2 × rod bolt – 1: 12 N·m (9 lbf·ft), 2: further by 90°."),
        ("tighten: side-nut", "Tighten: side nut – 18 N·m (13 lbf·ft), threads: clean and dry. Set on the wrench: 16.2 N·m (11.95 lbf·ft) – torque wrench (lever 360 mm), with: crowfoot, in line with the wrench. The fastener then has its torque."),
        ("tighten: cap", "Tighten: filler cap – by hand: until it stops."),
        ("tighten: pipe-plug", "Tighten: pipe plug – 1.5–3 turns past hand-tight, threads: with sealant."),
        ("tighten: strap", "Tighten: strap – until the hose cannot be turned."),
        ("{connect: pipe, at: head}", "Connect: pipe – to: cylinder head."),
        ("drain: oil", "Drain: engine oil, about 2 l (2.1 US qt)."),
        ("{fill: oil, volume: 1.5 l}", "Fill: engine oil – SAE 30, 1.5 l (1.6 US qt)."),
        ("{set: tap, to: open}", "Open: tap."),
        ("{place: hoist, at: over the head}", "Put in place: hoist – over the head."),
        ("{mark: head, against: the block}", "Mark the position: cylinder head – against: the block."),
        ("adjust: gap", "Adjust: points gap – to: 0.3–0.4 mm (0.0118–0.0157 in). Where or how: at the widest."),
        ("{clean: head, with: rag}", "Clean: cylinder head – with: rags."),
        ("{inspect: head, for: [a crack, a scratch]}", "Inspect: cylinder head. Look for: a crack or a scratch."),
        ("measure: cam", "Measure: height at the peak (cam). Good: ≥ 6.4 mm (≥ 0.252 in)."),
        ("{measure: slit, limit: 0.2 mm .. 0.4 mm, readings: [left, right], judge: average}", "Measure: slit. The average of the readings – good: 0.2–0.4 mm (0.0079–0.0157 in)."),
        ("{check: tell-tale, limit: water within 20 s}", "Check: tell-tale. Good: water within 20 s."),
        ("{run: engine, at: 1500 rpm, for: 5 min}", "Run: engine – 1500 rpm, 5 min."),
        ("{lift: head, people: 2}", "Lift: cylinder head – 2 people, weight: 24 kg (53 lb)."),
        ("{turn: rotor, way: clockwise, seen-from: the rear, by: 2 turns}", "Turn: rotor – 2 turns, clockwise, seen from: the rear, by hand."),
        ("{wait: 10 min, until: it is cold}", "Wait: 10 min – until: it is cold."),
        ("{act: Bleed it, on: [rotor, hoist]}", "Bleed it (rotor, hoist)."),
        ("stop: Call a workshop.", "Go no further: Call a workshop."),
    ],
)  # fmt: skip
def test_a_step_is_said(tmp_path: Path, step: str, sentence: str) -> None:
    assert said(tmp_path, step)[2] == sentence


@pytest.mark.parametrize(
    ("step", "sentence"),
    [
        ("{tighten: side-nut, text: Do it to 18 N·m.}", "Do it to 18 N·m. Tighten: side nut – 18 N·m (13 lbf·ft), threads: clean and dry. Set on "),
        ("{tighten: cap, text: Turn it home}", "Turn it home. Until it stops."),
        ("{tighten: cap, text: Turn it until it stops.}", "Turn it until it stops."),
        ("{install: seal, new: true, text: Press a new seal in.}", "Press a new seal in. Part number TE-11."),
        ("{install: rotor, turn: clockwise, text: Turn the shaft anticlockwise.}", "Turn the shaft anticlockwise. Clockwise, never anticlockwise."),
        ("{remove: cover-screws, text: Take the screws (M6) out.}", "Take the screws (M6) out. 2 pieces, 30 mm, 45 mm."),
        ("{fill: oil, text: Top it up.}", "Top it up. SAE 30, 2 l (2.1 US qt) in all."),
        ("{tighten: head-bolts, text: Tighten the six bolts to 24 N·m.}", "Tighten the six bolts to 24 N·m. From the middle outwards, the last stage 2 times round, threads: oiled."),
        ("{tighten: head-bolts, text: Oil the six bolts and tighten them twice from the centre to 24 N·m.}", "Oil the six bolts and tighten them twice from the centre to 24 N·m."),
        ("{inspect: head, for: [a crack, a scratch], text: Look at it.}", "Look at it. Look for: a crack or a scratch."),
    ],
)  # fmt: skip
def test_what_a_text_leaves_out_follows_it(tmp_path: Path, step: str, sentence: str) -> None:
    words = said(tmp_path, step)[2]
    assert words == sentence if sentence.endswith(".") else words.startswith(sentence)


@pytest.mark.parametrize("step", STEPS)
def test_torques_stand_out(tmp_path: Path, step: str) -> None:
    plain, found, _ = said(tmp_path, step)
    values = [fact.value for fact in facts(plain, found) if fact.kind is FactKind.TORQUE]
    wanted = {plain.quantity(value) for value in values if isinstance(value, Quantity) and value.kind is Kind.TORQUE}
    assert wanted <= {piece.text for piece in plain.generated(found) if piece.role is Role.TORQUE}


def shipped() -> Iterator[Path]:
    for cover in sorted(Path("procedures").glob("*/guide.yaml")):
        yield cover.parent


@pytest.fixture(scope="module", params=list(shipped()), ids=lambda path: path.name)
def opened(request: pytest.FixtureRequest) -> Opened:
    return open_guide(read_guide(request.param))


def all_steps(guide: Guide) -> Iterator[Step]:
    for sequence in (*guide.jobs.values(), *guide.library.blocks.values()):
        yield from sequence.steps()


def test_no_step_of_a_shipped_guide_loses_a_fact(opened: Opened) -> None:
    plain = Plain(opened, FLAT)
    told = 0
    for step in all_steps(opened.guide):
        words = as_text(plain.step(step))
        assert plain.missing(step, words) == [], words
        told += len(facts(plain, step))
    assert told > 50


OURS = re.compile(r"[^\W\d_]{2,}")


def outside_marks(words: str) -> str:
    return re.sub(f"{OPEN}[^{OPEN}{CLOSE}]*{CLOSE}", " ", words)


def escaped(guide: Guide, said: list[str]) -> set[str]:
    """Return the words that are neither a message's nor an author's."""
    files = [*guide.root.rglob("*.yaml"), *Path("shared").rglob("*.yaml")]
    texts = [file.read_text(encoding="utf-8") for file in files]
    theirs = {
        word for text in (*texts, *(said_by(text, Side.US) for text in texts)) for word in OURS.findall(text.lower())
    }
    units = {"mm", "lbf", "ft", "in", "us", "qt", "kpa", "psi", "gal", "fl", "oz", "lb", "kg", "min", "ml"}
    return {word for each in said for word in OURS.findall(outside_marks(each).lower())} - theirs - units


def test_every_word_of_a_made_step_is_a_message_s_or_an_author_s(opened: Opened) -> None:
    plain = Plain(opened, TELLING)
    said = []
    for step in all_steps(opened.guide):
        said += [as_text(plain.generated(step)), *plain.step_facts(step), plain.otherwise(step)]
        said += [plain.outcome(step, outcome.found) for outcome in step.outcomes]
    assert len(said) > 100
    assert escaped(opened.guide, said) == set()


def test_every_word_of_a_table_is_a_message_s_or_an_author_s(opened: Opened) -> None:
    plain = Plain(opened, TELLING)
    said = [remark for thing in plain.things.values() for remark in plain.remarks(thing)]
    assert [remark for remark in said if not remark.endswith((".", "!", "?"))] == []
    for thing in plain.things.values():
        said += [plain.title_of(thing), plain.off_row(thing), plain.row(thing.name, thing.when, ["3", "4"], 2)]
        if isinstance(thing, Fastener):
            said += [as_text(plain.how_tight(thing)), plain.thread_state(thing) or "", plain.facts(thing)]
            said += [told for joint in [in_order(thing, plain.things)] if joint for told in drawn(plain, joint)]
        if isinstance(thing, Control):
            said += [told for ref in thing.positions for told in plain.control(thing, ref.name)]
        if isinstance(thing, Fluid):
            said += plain.level(thing)
    said += [plain.tool(tool) for tool in opened.guide.library.tools.values()]
    said += [plain.equipment(equipment) for equipment in opened.guide.library.equipment.values()]
    said += [plain.due(job.interval) for job in opened.guide.jobs.values()]
    assert len(said) > 100
    assert escaped(opened.guide, said) == set()


def drawn(plain: Plain, joint: tuple[InOrder, ...]) -> Iterator[str]:
    for loosening in (False, True):
        *texts, _ = plain.drawn(joint, loosening=loosening)
        yield from texts


def test_the_stacks_and_sheets_of_a_guide_are_said(opened: Opened) -> None:
    plain = Plain(opened, TELLING)
    assert opened.guide.machine is not None
    said = []
    for stack in stacks_of_machine(opened.guide.machine):
        label, called, caption, lead, pieces = plain.stack(stack)
        said += [label, called, caption, lead, *(text for piece in pieces for text in piece)]
    for job in opened.guide.jobs.values():
        if sheet := sheet_of(job, opened):
            said += plain.standing([*sheet.begins, *sheet.ends])
    assert escaped(opened.guide, said) == set()
