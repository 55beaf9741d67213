"""What is printed is what is done: the sheet of a job against a plain walk of each variant."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from typing import NamedTuple

from hypothesis import assume, given, note

from putback.ledger.opened import open_guide
from putback.model.said import Limit
from putback.model.terms import When
from putback.sheet import JobSheet, SheetStep, sheet_of
from putback.sheet.limits import StepNumber
from putback.variants import NONE
from tests.laws.alone import Happening, Plain, meets, written_out
from tests.laws.drawing import guides, read
from tests.laws.printed import Counted, Page, page_of
from tests.test_laws import MANY

Variant = Mapping[str, str]


class Asked(NamedTuple):
    """A question on the page."""

    step: str
    """The number of its step."""
    found: Limit | None = None
    """Of one outcome: the values that lead there."""

    def leads(self, only_if: Sequence[str]) -> bool:
        """Tell whether a row that hangs on some steps hangs on this."""
        for number in only_if:
            assert isinstance(number, StepNumber)
            if number == self.step and (self.found in number.found or not number.found):
                return True
        return False


def is_met(when: When | None, variant: Variant) -> bool:
    """Tell whether a variant meets a condition as it is printed."""
    return when is None or any(
        all(variant[clause.option.name] in {choice.name for choice in clause.choices} for clause in case)
        for case in when.cases
    )


def with_tools(steps: list[Plain], seed: int = 0) -> list[Plain]:
    """Give every step that can have one a tool, in turn one of five."""
    found = []
    for number, step in enumerate(steps):
        if not {"do", "reverse", "note", "stop"} & set(step):
            step = {**step, "tool": f"t{(seed + number) % 5}"}
        if "otherwise" in step:
            step = {**step, "otherwise": with_tools(step["otherwise"], seed + number + 1)}
        if "outcomes" in step:
            step = {
                **step,
                "outcomes": [
                    {**outcome, "steps": with_tools(outcome["steps"], seed + number + 1)}
                    for outcome in step["outcomes"]
                ],
            }
        found.append(step)
    return found


def settling(machine: Plain) -> Plain:
    """Let all joints settle."""
    fasteners = {name: {**facts, "retighten-after": "10 h"} for name, facts in machine.get("fasteners", {}).items()}
    return {**machine, **({"fasteners": fasteners} if fasteners else {})}


def steps_read(steps: tuple[SheetStep, ...], variant: Variant) -> Iterator[SheetStep]:
    """Yield the steps that somebody with a variant reads, by the conditions that are printed."""
    for step in steps:
        if is_met(step.when, variant):
            yield step
            for inner in (step.otherwise, *(outcome.steps for outcome in step.outcomes)):
                yield from steps_read(inner, variant)


def assert_as_the_good_way(sheet: JobSheet, page: Page, variant: Variant) -> None:
    counted = {name: each.more_than(Counted()) for name, each in page.counts.items()}
    printed = [row for row in sheet.count_back if not row.only_if and is_met(row.when, variant)]
    assert not any(row.varies for row in printed)
    assert {name: count for name, count in counted.items() if any(count)} == {
        row.thing.key: (row.out, row.back, row.new) for row in printed
    }
    assert len({row.thing.key for row in printed}) == len(printed)
    bought = [row for row in sheet.set_up.parts if not row.only_if and is_met(row.when, variant)]
    assert {row.thing.key: row.count for row in bought} == {
        name: count.new for name, count in page.counts.items() if count.new
    }
    first = [row for row in sheet.set_up.positions if is_met(row.when, variant)]
    assert {row.what[0].key: row.what[1] for row in first} == page.first
    assert len(first) == len(page.first)
    settings = [row.setting.key for row in sheet.settings if not row.only_if and is_met(row.when, variant)]
    assert sorted(settings) == sorted(page.disturbed)
    tools = [row.what for row in sheet.set_up.tools if not row.only_if and is_met(row.when, variant)]
    assert {tool for tool in tools if tool[0] == "t" and tool[1:].isdigit()} == page.tools
    due = [row for row in sheet.follow_ups if not row.only_if and is_met(row.when, variant)]
    assert {row.thing.key: row.count for row in due} == page.tightened
    assert len(due) == len(page.tightened)


def more_of(page: Page, usual: Page) -> dict[str, tuple[int, int, int]]:
    """Return what a way counts more than the good one."""
    more = {name: count.more_than(usual.counts.get(name, Counted())) for name, count in page.counts.items()}
    return {name: count for name, count in more.items() if count[0] or count[2]}


def assert_as_a_branch(
    sheet: JobSheet, number: Asked, page: Page, usual: Page, variant: Variant, around: list[Asked], used: set[str]
) -> None:
    def rows(at: Asked) -> dict[str, tuple[int, int, int]]:
        here = [row for row in sheet.count_back if at.leads(row.only_if) and is_met(row.when, variant)]
        return {row.thing.key: (row.out, row.back, row.new) for row in here}

    for name, count in more_of(page, usual).items():
        own = [row for row in sheet.count_back if number.leads(row.only_if) and row.thing.key == name]
        # What the branch around it counts as well is not told twice.
        told = [rows(number).get(name)] if own else [rows(at).get(name) for at in around]
        # One that gives up tells of what it touches itself; of the rest, the branch around it tells how it goes on.
        assert count in told or (page.stopped and not own and any(told))
    assert set(rows(number)) <= set(more_of(page, usual))
    settings = {row.setting.key for row in sheet.settings if number.leads(row.only_if) and is_met(row.when, variant)}
    assert settings <= page.disturbed - usual.disturbed
    here = [row for row in sheet.set_up.tools if is_met(row.when, variant)]
    assert used <= {row.what for row in here if number.leads(row.only_if) or not row.only_if}
    good = [row for row in sheet.follow_ups if not row.only_if and is_met(row.when, variant)]
    more = {name: count for name, count in page.tightened.items() if count > usual.tightened.get(name, 0)}
    for at in (number, *around):
        due = [row for row in sheet.follow_ups if at.leads(row.only_if) and is_met(row.when, variant)]
        for row in due if at == number else ():
            # One that tightens to another torque has a row of its own, be it that no more pieces are tightened.
            another = any(one.thing.key == row.thing.key and one.torque != row.torque for one in good)
            assert (page.tightened if another else more)[row.thing.key] == row.count
        more = {name: count for name, count in more.items() if name not in {row.thing.key for row in due}}
    assert not more


@MANY
@given(guides())
def test_a_sheet_counts_what_each_variant_does(
    drawn: tuple[Plain, list[Plain], dict[str, list[Plain]]],
) -> None:
    machine, steps = settling(drawn[0]), with_tools(drawn[1])
    blocks = {name: with_tools(inner, 3) for name, inner in drawn[2].items()}
    guide, _ = read(machine, steps, blocks)
    opened = open_guide(guide)
    book, sheet = opened.book_of(guide.jobs["j"]), sheet_of(guide.jobs["j"], opened)
    assert book is not None
    assert sheet is not None
    happenings = written_out(steps, blocks)
    asking = {each.number: each for each in happenings if each.number is not None}
    assume(len(asking) <= 6)
    every = [order for top in book.program.orders for order in top.walk()]
    orders = [order for order in every if order.step.otherwise or order.outcome]
    numbers = {step.order: Asked(step.number) for step in sheet.walk()}
    for order in every:
        for each in order.asking if order.number in numbers else ():
            if each.outcome:
                numbers[each.number] = Asked(numbers[order.number].step, each.outcome.found)
    options = machine.get("options", {})
    note(f"machine: {machine}\nsteps: {steps}\nblocks: {blocks}")
    for values in product(*options.values()):
        variant = dict(zip(options, values, strict=True))
        if any(meets(never, variant) for never in machine.get("exclude", [])):
            continue
        usual = page_of(machine, happenings, variant, {})
        assert_as_the_good_way(sheet, usual, variant)
        here = book.graph.space.cube(tuple(variant.items()))
        read_by = {id(step) for section in sheet.sections for step in steps_read(section.steps, variant)}
        assert read_by == {id(step) for step in sheet.walk() if book.graph.space.both(step.variants, here) != NONE}
        for number, inspection in asking.items():
            if orders[number].number not in numbers or not reached(happenings, inspection, variant):
                continue
            answers = dict.fromkeys([*inspection.answers, number], True)
            page = page_of(machine, happenings, variant, answers)
            around = [numbers[orders[each].number] for each in inspection.answers]
            at = numbers[orders[number].number]
            assert_as_a_branch(sheet, at, page, usual, variant, around, page.within.get(number, set()))


def reached(happenings: list[Happening], inspection: Happening, variant: Variant) -> bool:
    """Tell whether a variant comes to an inspection at all."""
    for each in happenings:
        if all(meets(when, variant) for when in each.whens) and set(each.answers) <= set(inspection.answers):
            if each is inspection:
                return True
            if "stop" in each.step:
                return False
    return False
