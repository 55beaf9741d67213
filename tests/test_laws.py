"""Laws that hold for any machine and any job.

How many examples each is tried on is in `PUTBACK_LAWS`; 200 when it is not given.
"""

from __future__ import annotations

import os
from itertools import product

import pytest
from hypothesis import HealthCheck, assume, given, note, settings
from hypothesis import strategies as st

from putback.checks import Case, all_checks
from putback.lint import open_case
from putback.variants import NONE, VariantSet
from tests.laws.alone import Plain, meets, walk_alone, written_out
from tests.laws.drawing import guides, machines, read, sequence_off, text_of

LAWS = settings(
    max_examples=int(os.environ.get("PUTBACK_LAWS", "200")),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)

LEDGER = (
    "left-off", "left-over", "not-there", "blocked", "left-loose", "left-open", "left-dry", "left-set", "left-in",
    "old-part", "unmarked", "not-isolated", "unproved",
)  # fmt: skip


def about(check: str, message: str, spanned: str) -> str:
    """Return the name that a finding is about: that of its place, or, for what is left, of the thing left."""
    if check.startswith("left-"):
        return next(word.rstrip("s") for word in message.split() if word[:1] in "pflqca" and word[1:2].isdigit())
    return spanned.strip('"')


def told_together(case: Case, texts: dict[str, str]) -> list[tuple[str, str, VariantSet]]:
    """Return what the walk of all variants tells: check, the name it is about, and the variants."""
    assert case.graph is not None
    return [
        (check, about(check, fault.message, fault.span.cut(texts[fault.span.path])), fault.worlds or NONE)
        for check in LEDGER
        for fault in all_checks()[check].module.find(case)
    ]


@LAWS
@given(guides())
def test_a_variant_walked_alone_agrees_with_all_walked_together(
    drawn: tuple[Plain, list[Plain], dict[str, list[Plain]]],
) -> None:
    machine, steps, blocks = drawn
    guide, texts = read(machine, steps, blocks)
    case = open_case(guide)
    case.books = [book for book in case.books if book.sequence.key == "j"]
    assert case.graph is not None
    space = case.graph.space
    happenings, told = written_out(steps, blocks), told_together(case, texts)
    options = machine.get("options", {})
    questions = space.names[len(options) :]
    assume(len(questions) <= 4)
    for chosen in product(*options.values()):
        variant = dict(zip(options, chosen, strict=True))
        if any(meets(never, variant) for never in machine.get("exclude", [])):
            continue
        for answers in product((True, False), repeat=len(questions)):
            must, may = walk_alone(machine, happenings, variant, answers)
            said = zip(questions, ("yes" if answer else "no" for answer in answers), strict=True)
            assignment = (*variant.items(), *said)
            here = space.cube(assignment)
            found = {(check, name) for check, name, worlds in told if space.both(worlds, here) != NONE}
            if found - may != must - may:
                note(f"machine: {machine}\nsteps: {steps}\nblocks: {blocks}\nvariant: {assignment}")
            assert found - may == must - may
