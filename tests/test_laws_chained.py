"""A job that is cut in two is proved as the whole one is: what the first leaves, the second begins with."""

from __future__ import annotations

import re
from dataclasses import replace

from hypothesis import given, note, settings
from hypothesis import strategies as st

from putback.checks import all_checks
from putback.ledger.opened import Opened, open_guide
from putback.model.terms import Ref
from putback.source.span import top_of
from putback.variants import NONE, VariantSet
from tests.laws.alone import Plain
from tests.laws.drawing import guides, read
from tests.test_laws import LAWS, LEDGER, about, drawn_out

ALIKE = set(LEDGER) - {"not-isolated"}
"""What is told of a control once only, whoever needs it, is told once in each job."""


def plain(steps: list[Plain]) -> list[Plain]:
    """Leave out what asks: nobody knows, in the second job, how the answer was in the first."""
    return [
        {key: value for key, value in step.items() if key not in ("otherwise", "outcomes", "readings")}
        for step in steps
        if "stop" not in step
    ]


def told(case: Opened, texts: dict[str, str]) -> dict[tuple[str, str], VariantSet]:
    """Return what is told: check, the name it is about, and the variants. What the first job left has no place here."""
    assert case.graph is not None
    space, found = case.graph.space, dict[tuple[str, str], VariantSet]()
    for check in ALIKE:
        for fault in all_checks()[check].faults(case):
            here = space.built if fault.variants is None else fault.variants
            for name in named(check, fault.message, fault.span.cut(texts[fault.span.path])):
                found[check, name] = space.either(found.get((check, name), NONE), here)
    return found


def named(check: str, message: str, spanned: str) -> list[str]:
    if check == "no-final-test":
        return [""]
    if spanned[:1] == "{" or spanned.strip('"') == "job":  # told at the job that the chain ends with
        return re.findall(r"\b[pflqcas][0-9]", message)[:1]
    return about(check, message, spanned)


@settings(LAWS, max_examples=60)
@given(guides(), st.data())
def test_a_job_cut_in_two_is_proved_as_the_whole_one(
    drawn: tuple[Plain, list[Plain], dict[str, list[Plain]]], data: st.DataObject
) -> None:
    machine, steps, blocks = drawn
    blocks = {name: plain(inner) or [{"note": "Nothing."}] for name, inner in blocks.items()}
    steps = plain(steps) or [{"note": "Nothing."}]
    place = data.draw(st.integers(1, max(1, len(steps) - 1)))
    first, second = steps[:place], steps[place:] or [{"note": "Nothing."}]
    whole_guide, whole_texts = read(machine, steps, blocks)
    whole = open_guide(whole_guide)
    whole = replace(whole, books=tuple(book for book in whole.books if book.sequence.key == "j"))
    one, texts = read(machine, first, blocks)
    two, more = read(machine, second, blocks)
    path = "jobs/k.yaml"
    names = {key: Ref(key, top_of(path)) for key in ("j", "k")}
    earlier = replace(one.jobs["j"], before=names["k"])
    more[path] = more["jobs/j.yaml"]
    # The spans of the second job stand in a file of its own.
    later = replace(two.jobs["j"], key="k", path=path, after=names["j"])
    case = open_guide(replace(one, jobs={"j": earlier, "k": later}))
    books = {book.sequence.key: book for book in case.books if book.sequence.key in names}
    assert case.chains.later == {"j": "k"}
    assert books["k"].earlier is books["j"]
    note(f"machine: {machine}\nfirst: {first}\nsecond: {second}\nblocks: {blocks}")
    assert case.graph is not None
    space, found = case.graph.space, dict[tuple[str, str], VariantSet]()
    for key, of_texts in (("j", texts), ("k", more)):
        for what, variants in told(replace(case, books=(books[key],)), of_texts).items():
            found[what] = space.either(found.get(what, NONE), variants)
    expected = told(whole, whole_texts)
    assert whole.graph is not None
    assert {what: drawn_out(space, variants) for what, variants in found.items()} == {
        what: drawn_out(whole.graph.space, variants) for what, variants in expected.items()
    }
