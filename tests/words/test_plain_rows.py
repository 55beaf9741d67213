# ruff: noqa: E501 - a sentence stands whole on one line
"""What flat sentences say besides steps: rows, dates, tools, drawings, and how steps are called."""

from __future__ import annotations

from typing import cast

import pytest

from putback.ledger.opened import open_guide
from putback.model.details import Kit
from putback.model.interval import Interval, Lapse
from putback.model.library import Hazard
from putback.model.machine import Control, Fastener, Part
from putback.model.piece_sizes import piece_sizes
from putback.model.said import Limit, Said
from putback.model.terms import Ref
from putback.sheet.limits import StepNumber
from putback.sheet.supply import Over
from putback.source.span import Span
from putback.units import Quantity, parse_any
from putback.words import as_text
from putback.words.drawn import CalloutTold
from putback.words.plain import Plain
from putback.words.telling import telling_for
from tests.words.test_plain import FLAT
from tests.words.test_said import guide_in

HERE = Span("machine.yaml", 1, 1, 1, 1)
STEPS = """\
  - {measure: slit, limit: 0.2 mm .. 0.4 mm, outcomes: [{found: '< 0.2 mm', steps: [{note: Thin.}]}, {found: '> 0.4 mm', steps: [{note: Thick.}]}]}
  - {measure: slit, limit: '<= 0.3 mm', readings: 3, difference: '<= 0.05 mm', otherwise: [{note: Bad.}]}
  - {inspect: head, otherwise: [{note: Bad.}]}
  - {inspect: head, for: [a crack], otherwise: [{note: Bad.}]}
  - {check: tell-tale, limit: dry, otherwise: [{note: Bad.}]}
"""


@pytest.fixture(scope="module")
def plain(tmp_path_factory: pytest.TempPathFactory) -> Plain:
    return Plain(open_guide(guide_in(tmp_path_factory.mktemp("rows"), STEPS)), FLAT)


def fastener(plain: Plain, key: str) -> Fastener:
    return cast("Fastener", plain.things[key])


def quantity(text: str) -> Quantity:
    return parse_any(text)


def found(number: str, text: str) -> StepNumber:
    return StepNumber(number, (Limit(Said(text, HERE), quantity(text)),))


def test_rows_say_on_what_they_hang(plain: Plain) -> None:
    assert plain.row("gasket", None) == "gasket"
    assert plain.row("gasket", None, ["4", "6"]) == "gasket (only if: step 4 or 6 asks for it)"
    assert (
        plain.row("gasket", None, [found("4", "> 0.3 mm")], 2).replace("\N{NO-BREAK SPACE}", " ")
        == "gasket (2 more, only if: step 4 finds > 0.3 mm)"
    )
    assert plain.if_led(["4", "6"]) == "Only if the steps under step 4 or 6 were done."
    assert plain.only_in([("Oil", ["3"]), ("Plugs", ["8", "9"])]) == "step 3 of “Oil”; step 8 or 9 of “Plugs”"
    step = plain.opened.guide.jobs["job"].sections[0].steps[0]
    assert plain.new_if(step, ["4", "5"]) == "Fit new only if: step 4 or 5 rejected the old one."
    assert [plain.count(0), plain.count(3), plain.count(3, varies=True)] == ["–", "3", "up to 3"]


def test_kits_and_what_they_leave_over(plain: Plain) -> None:
    kit = Kit(key="pump", span=HERE, name="pump kit", number="TE-40")
    assert [plain.kit(kit), plain.kit(None)] == ["pump kit (TE-40)", "–"]
    bolts, seal = fastener(plain, "head-bolts"), cast("Part", plain.things["seal"])
    assert plain.left_over([Over(bolts, 2, None), Over(seal, 1, None)]) == "2 × head bolt, 1 × seal"


def lapse(least: float, most: float | None = None) -> Lapse:
    return Lapse(least, least if most is None else most, HERE)


@pytest.mark.parametrize(
    ("interval", "said", "german"),
    [
        (None, "when needed", "bei Bedarf"),
        (Interval(hours=lapse(300), months=lapse(24), span=HERE), "every 300 running hours or 24 months, whichever comes first", "Intervall: 300 Betriebsstunden oder 24 Monate, je nachdem, was zuerst eintritt"),
        (Interval(months=lapse(3, 6), span=HERE), "every 3–6 months", "Intervall: 3–6 Monate"),
        (Interval(km=lapse(5000), span=HERE), "every 5000 km", "Intervall: 5000 km"),
        (Interval(years=lapse(2.5), span=HERE), "every 2.5 years", "Intervall: 2,5 Jahre"),
        (Interval(hours=lapse(50), first=Interval(hours=lapse(10), span=HERE), span=HERE), "first after: 10 running hours; then every 50 running hours", "erstmals nach: 10 Betriebsstunden; danach im Intervall: 50 Betriebsstunden"),
        (Interval(first=Interval(hours=lapse(1), span=HERE), span=HERE), "once, after: 1 running hour", "einmal, nach: 1 Betriebsstunde"),
    ],
)  # fmt: skip
def test_when_a_job_is_due(plain: Plain, interval: Interval | None, said: str, german: str) -> None:
    assert plain.due(interval) == said
    assert Plain(plain.opened, telling_for("de")).due(interval) == german


def test_what_is_due_later(plain: Plain) -> None:
    assert [plain.due_after("2 h"), plain.due_after("the first run:"), plain.due_after("500 km").replace("\N{NO-BREAK SPACE}", " ")] == [
        "Due after: 2 running hours", "Due after: the first run", "Due after: 500 km (310 mi)",
    ]  # fmt: skip
    bolts, wheel = fastener(plain, "head-bolts"), fastener(plain, "fan-wheel")
    once = as_text(plain.once_more(bolts, 6, quantity("10 h"), quantity("24 N·m"), ["7", "8", "9"], quantity("90°")))
    assert (
        once.replace("\N{NO-BREAK SPACE}", " ")
        == "Tighten once more after 10 running hours: 6 × head bolt. One at a time: first loosen by 90°, then tighten. In the same order as in step 7–9. Torque: 24 N·m (18 lbf·ft)."
    )
    assert (
        as_text(plain.once_more(wheel, 1, quantity("2 h"), None, ["9"]))
        == "Tighten once more after 2 running hours: fan wheel. As in step 9. Left-hand thread: clockwise to loosen, anticlockwise to tighten."
    )


def test_tools_are_called_by_what_they_turn(plain: Plain) -> None:
    shown = [
        plain.tool_for(drive).replace("\N{NO-BREAK SPACE}", " ")
        for drive in ("hex 21 mm", "inner hex 5 mm", "slot 6 mm", "belt")
    ]
    assert shown == [
        "socket or spanner: 21 mm hex",
        "key or bit: 5 mm hex socket",
        "screwdriver or bit: 6 mm slot",
        "tool: belt",
    ]
    assert plain.second_tool("13 mm spanner") == "13 mm spanner, a second one to hold with"
    tools = plain.library.tools
    assert (
        plain.tool(tools["wrench"]).replace("\N{NO-BREAK SPACE}", " ")
        == "torque wrench, 10–60 N·m (7.4–44.3 lbf·ft), lever 360 mm"
    )
    assert plain.tool(tools["crowfoot"], briefly=True) == "crowfoot"


def test_steps_and_pictures_are_called_by_their_numbers(plain: Plain) -> None:
    said = [
        plain.step_named("4"),
        plain.step_named("4", "Oil"),
        plain.step_named(""),
        plain.figure_named("4"),
        plain.figure_named("4", "Oil"),
        plain.figure_named(""),
    ]
    assert [words.replace("\N{NO-BREAK SPACE}", " ") for words in said] == [
        "step 4", "step 4 of “Oil”", "a step for other machines", "the picture at step 4", "the picture at step 4 of “Oil”", "a picture for other machines",
    ]  # fmt: skip
    assert as_text(plain.go_back("4")) == "Go back to step 4 and continue from there."
    assert plain.each_of("cylinder", ["1", "2"]) == "Cylinder: 1 and 2"


def test_what_an_answer_leads_to(plain: Plain) -> None:
    steps = plain.opened.guide.jobs["job"].sections[0].steps
    outcomes = [plain.outcome(steps[0], each.found).replace("\N{NO-BREAK SPACE}", " ") for each in steps[0].outcomes]
    assert outcomes == [
        "If the value is less than 0.2 mm (0.0079 in):",
        "If the value is more than 0.4 mm (0.0157 in):",
    ]
    assert [plain.otherwise(step).replace("\N{NO-BREAK SPACE}", " ") for step in steps[1:]] == [
        "If a reading is more than 0.3 mm (0.012 in), or the difference of the readings is more than 0.05 mm (0.002 in):",
        "If it is not good:", "If you find any:", "If not:",
    ]  # fmt: skip
    assert [plain.reading("2"), plain.reading("along the shaft")] == ["Reading 2", "Along the shaft"]


def test_controls_have_positions(plain: Plain) -> None:
    tap = cast("Control", plain.things["tap"])
    assert [plain.positions(tap), plain.position_name("half-open")] == ["open or closed", "half open"]
    assert as_text(plain.set_first(tap, "open", None)) == "Open: tap."
    assert plain.control(tap, "open").alt == "Positions: tap. Open and closed. Set: open."


def test_pictures_and_sizes(plain: Plain) -> None:
    assert plain.callout("head", "the notch", None) == "Cylinder head: the notch"
    shown = [CalloutTold(1, "Lid", [(-1, -1)], None), CalloutTold(2, "Screws", [(-1, 0), (1, 0)], (0, 1))]
    assert plain.pointed_at(shown) == "Numbers in the picture: 1 Lid, top left; 2 Screws, left, right, arrow: down."
    sizes = piece_sizes(fastener(plain, "cover-screws"))
    true = plain.true_size([[size] for size in sizes], [False, True], [False, False])
    assert [(name, facts.replace("\N{NO-BREAK SPACE}", " ")) for name, facts in true.rows] == [
        ("Cover screw", "M6, 30 mm, front"),
        ("Cover screw", "M6, 45 mm, aft, drawn shorter"),
    ]
    assert true.label == "Cover screw, at true size"
    others = [size for key in ("head-bolts", "cover-screws") for size in piece_sizes(fastener(plain, key))]
    assert plain.true_size([others], [False], [False]).label == "Head bolt, cover screw, at true size"
    limit = Limit(Said("<= 0.3 mm", HERE), quantity("<= 0.3 mm"))
    assert (
        plain.is_good(limit)
        == "Good: ≤\N{NO-BREAK SPACE}0.3\N{NO-BREAK SPACE}mm (≤\N{NO-BREAK SPACE}0.012\N{NO-BREAK SPACE}in)."
    )
    scale = plain.scaled([Ref("cam", HERE)], limit, None, wears=True)
    assert [scale.label, scale.below, scale.good] == ["Scale of the reading: height at the peak (cam)", "worn", "good"]


def test_who_does_what_is_licensed(plain: Plain) -> None:
    mains = cast("Hazard", type("Mains", (), {"name": "mains electricity"})())
    assert (
        plain.before_licensed(mains, ["Wire it", "Test it"])
        == "Mains electricity: a licensed professional does this work, or oversees it. This applies to: Wire it; Test it."
    )
    assert [plain.wear([]), plain.wear(["gloves"]), plain.waste("Take it away.")] == [
        "",
        "Wear: gloves",
        "Waste: Take it away.",
    ]
