"""A job written out: what each step is limited to, and where it stands."""

from __future__ import annotations

from putback.ledger.program import Order
from putback.model.terms import When
from tests.ledger.trial import book_of, said

MACHINE = """
machine: Trial pump
options: {drive: [belt, gear], seal: [soft, metal]}
parts: {cover: {}, gasket: {}, impeller: {}}
"""


def limit(when: When | None) -> str:
    """Return a condition in short: `belt soft`; empty for none."""
    return (
        " ".join(choice.name for case in when.cases if when for _, choices in case for choice in choices)
        if when
        else ""
    )


def limits(orders: list[Order]) -> list[tuple[str, str]]:
    """Return each step with what is written at it, in the order of the job, branches after their question."""
    return [(said(each.step), limit(each.when)) for order in orders for each in order.walk() if each.targets]


def test_a_branch_says_nothing_of_what_its_question_is_limited_to() -> None:
    book = book_of(
        """\
  - check: leaks
    limit: none
    when: {drive: belt}
    otherwise:
      - remove: cover
      - remove: gasket
        when: {seal: soft}
  - measure: gap
    limit: 1 mm .. 2 mm
    when: {drive: gear}
    outcomes:
      - {found: "> 2 mm", steps: [{remove: cover}]}
      - {found: "< 1 mm", steps: [{remove: impeller, when: {seal: metal}}]}
""",
        machine=MACHINE,
    )
    assert limits(book.program.orders) == [
        ("check leaks", "belt"), ("remove cover", ""), ("remove gasket", "soft"),
        ("measure gap", "gear"), ("remove cover", ""), ("remove impeller", "metal"),
    ]  # fmt: skip
    space = book.graph.space
    belt, soft = space.chosen("drive", ["belt"]), space.chosen("seal", ["soft"])
    inner = [each.variants for each in book.program.orders[0].walk()]
    assert inner == [belt, belt, space.both(belt, soft)]


def test_a_step_of_a_block_says_what_its_block_is_done_for() -> None:
    blocks = {"open-up": "steps: [{remove: cover}, {remove: gasket, when: {seal: soft}}]\n"}
    book = book_of("  - do: open-up\n    when: {drive: belt}\n  - reverse: open-up\n", blocks, MACHINE)
    assert limits(book.program.orders) == [
        ("remove cover", "belt"), ("remove gasket", "belt soft"), ("install gasket", "soft"), ("install cover", ""),
    ]  # fmt: skip


def test_sections_are_counted_with_those_of_blocks() -> None:
    blocks = {
        "parted": "sections: [{title: A, steps: [{remove: cover}]}, {title: B, steps: [{remove: gasket}]}]\n",
        "plain": "steps: [{remove: impeller}]\n",
    }
    book = book_of(
        """\
sections:
  - title: One
    steps: [{inspect: cover}, {do: plain}, {do: parted}, {inspect: gasket}]
  - title: Two
    when: {drive: belt}
    steps: [{inspect: impeller}]
""",
        blocks,
        MACHINE,
    )
    found = [(said(order.step), order.section, order.own) for order in book.program.orders]
    assert [(name, own) for name, _, own in found] == [
        ("inspect cover", 0), ("remove impeller", 0), ("remove cover", 0), ("remove gasket", 0), ("inspect gasket", 0),
        ("inspect impeller", 1),
    ]  # fmt: skip
    sections = [section for _, section, _ in found]
    assert sections[0] == sections[1]
    assert len(set(sections)) == 5
    assert sections == sorted(sections)
    assert book.program.orders[-1].variants == book.graph.space.chosen("drive", ["belt"])
