"""A quantity in one unit has the same second one wherever it is printed."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace

import pytest

from putback.joints.stages import torque_of
from putback.model.machine import Fastener, Fluid
from putback.model.turned import dial_of, set_to
from putback.model.verbs.fluids import Fill
from putback.model.verbs.pieces import Tighten
from putback.units import Quantity, QuantityError, both, both_as, parse_any
from putback.units.adding import sum_of
from putback.units.kinds import System
from tests.print import GUIDES
from tests.print.places import Forms
from tests.print.printed_pages import Printed, flat
from tests.print.scalars import scalars_of

_NUMBER = re.compile(r"\d+(?:\.\d+)?")

_SECOND = re.compile(r" \(([^()]*[0-9][^()]*)\)")
_LONGEST = 40
_SIGNS = {"no more than": "≤", "no higher than": "≤", "at least": "≥", "no lower than": "≥"}
_SIGNS |= {"more than": ">", "higher than": ">", "less than": "<", "lower than": "<"}
_AS_SIGNS = re.compile(rf"\b({'|'.join(_SIGNS)}) ([−\d][^()]{{0,{_LONGEST}}}) \(([^()]*)\)")


def _signed(match: re.Match[str]) -> str:
    """Return a limit that is said in words with its sign, as tables have it, in both units."""
    return f"{_SIGNS[match[1]]} {match[2]} ({_SIGNS[match[1]]} {match[3]})"


def pairs(text: str) -> Iterator[tuple[Quantity, str, str]]:
    """Yield the quantities of a text behind which a second unit stands in brackets, with the words of both."""
    text = _AS_SIGNS.sub(_signed, text.replace("\u00a0", " ").replace("\u202f", " "))
    for match in _SECOND.finditer(text):
        words = text[max(0, match.start() - _LONGEST) : match.start()].split()
        for start in range(len(words)):
            told = " ".join(words[start:])
            try:
                first, second = parse_any(told), parse_any(match[1])
            except QuantityError:
                continue
            if first.kind is second.kind:
                yield first, told, match[1]
                break


def test_a_pair_is_found_in_a_text() -> None:
    found = [(told, second) for _, told, second in pairs("Wait (1). To 0.18–0.22 mm (0.0071–0.0086 in), in 3 (three).")]
    assert found == [("0.18–0.22 mm", "0.0071–0.0086 in")]


@pytest.mark.parametrize("name", GUIDES)
def test_a_quantity_prints_alike_everywhere(manuals: dict[str, Printed], name: str) -> None:
    seen: dict[object, dict[str, str]] = defaultdict(dict)
    for page, text in {**manuals[name].pages, "the PDF": " ".join(manuals[name].sheets).replace("– ", "–")}.items():
        for quantity, told, second in pairs(text):
            same = (quantity.low, quantity.high, quantity.unit, quantity.form)
            seen[same].setdefault(" ".join(f"{told} ({second})".split()), page)
    assert seen, "no quantity was found"
    assert [told for told in seen.values() if len(told) > 1] == []


@pytest.mark.parametrize("name", GUIDES)
def test_a_second_unit_is_the_one_that_steps_would_print(manuals: dict[str, Printed], name: str) -> None:
    unlike = []
    tools = manuals[name].guide.library.tools.values()
    # The step of a scale is said in the units of the scale.
    steps = {both_as(each.step, each.range, System.METRIC, System.US) for each in tools if each.step and each.range}
    scales = {step.replace("\u00a0", " ") for step in steps}
    for page, text in manuals[name].pages.items():
        ends: set[tuple[str, str]] = set()
        for quantity, told, second in pairs(text):
            right = both(quantity, System.METRIC, System.US).replace("\u00a0", " ")
            here = set(zip(_NUMBER.findall(told), _NUMBER.findall(second), strict=False))
            # A vacuum is read in inches of mercury, where an author says so.
            if quantity.unit in ("in", "lbf·ft", "lbf·in") or "inHg" in second or right.endswith(f"({second})"):
                ends |= here
            elif f"{told} ({second})" in scales or (told[0] in "<>" and here <= ends):
                continue  # an outcome that begins where the limit before it ends
            else:
                unlike.append(f"{page}: {told} ({second}), and not {right}")
    assert unlike == []


def calculated(manual: Printed) -> Iterator[Quantity]:
    """Yield what is worked out for a page: settings of wrenches, stages as a share of the torque, sums of fills."""
    guide, library = manual.guide, manual.guide.library
    assert guide.machine is not None
    for thing in guide.machine.things.values():
        if isinstance(thing, Fastener):
            yield from filter(None, (torque_of(stage, thing.torque) for stage in thing.stages))
    for thing in guide.machine.things.values():
        if isinstance(thing, Fastener) and thing.running_torque and thing.last_torque:
            yield set_to(thing, thing.last_torque)
    for sequence in manual.opened.nesting.sequences():
        fills: dict[str, list[Quantity]] = {}
        for step in sequence.steps():
            for ref in step.things if isinstance(step.action, Fill) else ():
                fluid = guide.machine.things[ref.name]
                assert isinstance(step.action, Fill)
                volume = step.action.volume or (fluid.volume if isinstance(fluid, Fluid) else None)
                fills.setdefault(ref.name, []).extend([volume] if volume else [])
        yield from filter(None, map(sum_of, fills.values()))
        for step in sequence.steps():
            for ref in step.things if isinstance(step.action, Tighten) else ():
                thing = guide.machine.things[ref.name]
                torque = thing.last_torque if isinstance(thing, Fastener) else None
                if isinstance(thing, Fastener) and torque:
                    dial = dial_of(thing, torque, library, step.tools)
                    yield from [dial.setting] if dial else []
    for tool in library.tools.values():
        yield from filter(None, (tool.range, tool.step, tool.lever, tool.extends))


def parts_of(words: str) -> list[Quantity]:
    """Return both parts of a limit that holds at something: `10 mm at 30 N`."""
    try:
        quantity = parse_any(words)
    except QuantityError:
        return []
    return [replace(quantity, at=None), quantity.at] if quantity.at else []


@pytest.mark.parametrize("name", GUIDES)
def test_every_number_comes_from_the_files_or_from_a_calculation(manuals: dict[str, Printed], name: str) -> None:
    manual = manuals[name]
    forms = Forms(manual.opened)
    scalars = list(scalars_of(manual.guide))
    known = {flat(way) for scalar in scalars for way in forms.of(scalar)}
    told_apart = [*calculated(manual), *(part for scalar in scalars for part in parts_of(scalar.words))]
    known |= {flat(both(quantity, System.METRIC, System.US)) for quantity in told_apart}
    # What a limit does not allow has its numbers, and another sign.
    known |= {way.replace(one, other) for way in known for one, other in (("≤", ">"), ("≥", "<")) if one in way}
    written = flat(" ".join([*(scalar.words for scalar in scalars), *manual.guide.pages.values()]))
    strange = []
    for page, text in manual.pages.items():
        for quantity, told, second in pairs(text):
            whole = flat(f"{told} ({second})")
            asked = flat(both(quantity, System.METRIC, System.US))
            if not (whole in known or asked in known or whole in written or flat(told) in written):
                strange.append(f"{page}: {told} ({second})")
    assert strange == []
