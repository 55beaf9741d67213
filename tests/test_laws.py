"""Laws that hold for any machine and any job.

How many examples the law of variants is tried on is in `PUTBACK_LAWS`, 200 when it is not given; the others are tried
on 200 at most. `PUTBACK_LAWS_PARTS` tries the first law so many times over, for several processes.
"""

from __future__ import annotations

import os
import re
from dataclasses import replace
from functools import cache, partial
from itertools import product

import pytest
from hypothesis import HealthCheck, assume, given, note, settings
from hypothesis import strategies as st
from hypothesis.errors import UnsatisfiedAssumption

from putback.checks import CHECKING, PER_BOOK, all_checks
from putback.guide.names import uses_of
from putback.ledger import Book
from putback.ledger.book import PROOF
from putback.ledger.goes_with import goes_with
from putback.ledger.opened import Opened, open_guide
from putback.variants import NONE, EntangledError, Space, VariantSet
from putback.variants.space import ALLOWANCE
from tests.laws.alone import Happening, Plain, asked, assemblies_of, meets, walk_alone, written_out
from tests.laws.drawing import edges, guides, read, rounds

MANY = settings(
    max_examples=int(os.environ.get("PUTBACK_LAWS", "200")),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large, HealthCheck.filter_too_much],
)
LAWS = settings(MANY, max_examples=min(MANY.max_examples, 200))

LEDGER = (
    "left-off", "pieces-missing", "not-there", "blocked", "left-loose", "left-open", "left-dry", "control-not-returned",
    "equipment-left", "single-use-reused", "unmarked", "not-isolated", "no-final-test", "still-locked",
    "left-unadjusted", "adjusted-early",
)  # fmt: skip


def about(check: str, message: str, spanned: str) -> list[str]:
    """Return the names that a finding is about: that of its place, or, for what is left, of the things left."""
    if check in ("left-unadjusted", "adjusted-early"):  # the latter may be told at a block, right by itself
        return re.findall(r"\bs[0-9]", message)
    if check.startswith("left-"):
        return [next(word.rstrip("s") for word in message.split() if word[:1] in "pflqca" and word[1:2].isdigit())]
    if check == "not-isolated" and re.fullmatch(r'"?b[0-9]"?', spanned):
        # Told at the block, which is not to blame for what was off before it; the message says what of it.
        return ["engine" if message.startswith("'run'") else message.split()[0].rstrip("s")]
    return [spanned.strip('"')]


def told_together(case: Opened, texts: dict[str, str]) -> list[tuple[str, str, VariantSet | None]]:
    """Return what the walk of all variants tells: check, the name it is about, and the variants.

    A check may raise `EntangledError`, which the engine reports as `too-many-loops`: such a guide is no example.
    """
    assert case.graph is not None
    case.graph.space.allow(CHECKING + PER_BOOK * len(case.books))
    try:
        return [
            (check, name, fault.variants)
            for check in LEDGER
            for fault in all_checks()[check].faults(case)
            for name in about(check, fault.message, fault.span.cut(texts[fault.span.path]))
        ]
    except EntangledError:
        raise UnsatisfiedAssumption("more ways than can be followed") from None


def test_what_cannot_be_followed_is_no_example() -> None:
    machine: Plain = {"machine": "M", "options": {"o0": ["a", "b"], "o1": ["a", "b"]}, "parts": {"p0": {}, "p1": {}}}
    steps: list[Plain] = [
        {"remove": "p0", "when": {"o0": "a"}},
        {"remove": "p1", "when": {"o1": "a"}},
        {"install": "p0", "when": {"o1": "b"}},
    ]
    guide, texts = read(machine, steps, {})
    case = open_guide(guide)
    assert case.graph is not None
    case.graph.space.allow(-ALLOWANCE)
    assert told_together(case, texts)  # the checks have an allowance of their own
    case = open_guide(guide)
    assert case.graph is not None
    case.graph.space.allow(-ALLOWANCE - 10 * CHECKING)
    with pytest.raises(UnsatisfiedAssumption):
        told_together(case, texts)


@pytest.mark.parametrize("part", range(int(os.environ.get("PUTBACK_LAWS_PARTS", "1"))))
@MANY
@given(guides())
def test_a_variant_walked_alone_agrees_with_all_walked_together(
    part: int,
    drawn: tuple[Plain, list[Plain], dict[str, list[Plain]]],
) -> None:
    del part  # each part draws examples of its own, so that several processes share the work
    machine, steps, blocks = drawn
    guide, texts = read(machine, steps, blocks)
    case = open_guide(guide)
    case = replace(case, books=tuple(book for book in case.books if book.sequence.key == "j"))
    assert case.graph is not None
    space = case.graph.space
    happenings, told = written_out(steps, blocks), told_together(case, texts)
    options = machine.get("options", {})
    assume(sum(happening.number is not None for happening in happenings) <= 6)
    variants = [dict(zip(options, chosen, strict=True)) for chosen in product(*options.values())]
    built = [one for one in variants if not any(meets(never, one) for never in machine.get("exclude", []))]
    numbers = asked(happenings, built)
    near = cache(partial(goes_with, case.graph))
    questions = space.names[len(options) :][: len(numbers)]  # the job is walked first, its blocks for themselves after
    assume(len(questions) <= 4)
    for variant in built:
        for answers in product((True, False), repeat=len(questions)):
            if clash(happenings, dict(zip(numbers, answers, strict=True))):
                continue
            chosen = dict(zip(numbers, answers, strict=True))
            must, may = walk_alone(machine, happenings, variant, chosen, near)
            said = zip(questions, ("yes" if answer else "no" for answer in answers), strict=True)
            assignment = (*variant.items(), *said)
            here = space.cube(assignment)
            found = {
                (check, name)
                for check, name, variants in told
                if variants is None or space.both(variants, here) != NONE
            }
            if found - may != must - may:
                note(f"machine: {machine}\nsteps: {steps}\nblocks: {blocks}\nvariant: {assignment}")
            assert found - may == must - may


def clash(happenings: list[Happening], answers: dict[int, bool]) -> bool:
    """Tell whether one value would have two outcomes."""
    return any(
        each.number is not None and answers.get(each.number) and any(answers.get(other) for other in each.refused)
        for each in happenings
    )


def drawn_out(space: Space, variants: VariantSet) -> object:
    """Return a set as its diagram, which is the same for equal sets of two spaces with the same options."""
    place, children = space._rows[variants]
    return (place, *(drawn_out(space, VariantSet(child)) for child in children)) if children else variants


def closing_states(book: Book) -> dict[str, dict[tuple[object, ...], object]]:
    """Return what every account holds at the end, without the numbers of the steps that made it so."""
    space, found = book.graph.space, dict[str, dict[tuple[object, ...], object]]()
    for account in book.accounts():
        states: dict[tuple[object, ...], VariantSet] = {}
        for variants, state in book.closing(account):
            plain = tuple(value for name, value in state._asdict().items() if not name.endswith("_by"))
            states[plain] = space.either(states.get(plain, NONE), variants)
        found[account] = {state: drawn_out(space, variants) for state, variants in states.items()}
    return found


def job_of(machine: Plain, steps: list[Plain], blocks: dict[str, list[Plain]]) -> tuple[Opened, Book, dict[str, str]]:
    guide, texts = read(machine, steps, blocks)
    case = open_guide(guide)
    [book] = [book for book in case.books if book.sequence.key == "j"]
    case = replace(case, books=(book,))
    return case, book, texts


CLOSED = set(LEDGER) - {"not-isolated", "no-final-test", "left-unadjusted"}


@LAWS
@given(rounds())
def test_a_block_and_its_reverse_return_to_the_start(drawn: tuple[Plain, dict[str, list[Plain]]]) -> None:
    machine, blocks = drawn
    case, book, texts = job_of(machine, [{"do": "b0"}, {"reverse": "b0"}], blocks)
    told = [(check, name) for check, name, _ in told_together(case, texts) if check in CLOSED]
    back = [(entry.step.verb.name, entry.target and entry.target.name) for entry in book.entries]
    if told:
        note(f"machine: {machine}\nblocks: {blocks}\nwritten out: {back}")
    assert told == []
    assert not book.stuck
    _, untouched, _ = job_of(machine, [{"note": "Nothing."}], {})
    for account, states in closing_states(book).items():
        # What a block disturbs is not set again by its way back.
        if account != PROOF and not account.startswith("position of") and account not in machine.get("settings", {}):
            apart = {state[:1] for state in states}
            assert apart == {state[:1] for state in closing_states(untouched)[account]}


@LAWS
@given(guides(), st.data())
def test_independent_steps_commute(
    drawn: tuple[Plain, list[Plain], dict[str, list[Plain]]], data: st.DataObject
) -> None:
    machine, steps, blocks = drawn
    pairs = [n for n in range(len(steps) - 1) if independent(machine, steps[n], steps[n + 1])]
    assume(pairs)
    place = data.draw(st.sampled_from(pairs))
    swapped = [*steps[:place], steps[place + 1], steps[place], *steps[place + 2 :]]
    case, book, texts = job_of(machine, steps, blocks)
    other_case, other_book, other_texts = job_of(machine, swapped, blocks)
    one, other = closing_states(book), closing_states(other_book)
    del one[PROOF], other[PROOF]
    assert one == other
    assert told_by_name(case, texts) == told_by_name(other_case, other_texts)


def told_by_name(case: Opened, texts: dict[str, str]) -> dict[tuple[str, str], object]:
    assert case.graph is not None
    space, found = case.graph.space, dict[tuple[str, str], VariantSet]()
    for check, name, variants in told_together(case, texts):
        if check != "no-final-test" and variants is not None:
            found[check, name] = space.either(found.get((check, name), NONE), variants)
    return {key: drawn_out(space, variants) for key, variants in found.items()}


def independent(machine: Plain, one: Plain, other: Plain) -> bool:
    """Tell whether two steps work on things that have nothing to do with each other."""
    names = []
    for step in (one, other):
        if {"do", "reverse", "otherwise", "outcomes", "stop", "note", "set", "run"} & set(step):
            return False
        names.append(str(next(iter(step.values()))))
    rules = [
        *edges(machine),
        # While an assembly is off, what stands before its insides is not in their way.
        *((whole, name) for whole in assemblies_of(machine) for name in names),
        *((d, name) for name, fluid in machine.get("fluids", {}).items() for d in fluid.get("drains", [])),
        *((name, other) for name, thing in machine.get("fasteners", {}).items() for other in thing.get("locks", [])),
        *((n, thing["counterhold"]) for n, thing in machine.get("fasteners", {}).items() if "counterhold" in thing),
        *(
            (other, name)
            for name, setting in machine.get("settings", {}).items()
            for other in (
                *setting.get("disturbed-by", []),
                *setting.get("adjusted-by", []),
                *(
                    lock
                    for lock, facts in machine.get("fasteners", {}).items()
                    if not {name, *setting.get("adjusted-by", [])}.isdisjoint(facts.get("locks", []))
                ),
            )
        ),
    ]
    kin = {name: {name, *(a for a, b in rules if b == name), *(b for a, b in rules if a == name)} for name in names}
    return names[1] not in kin[names[0]] and not any(name[0] == "q" for name in kin[names[0]] & kin[names[1]])


@LAWS
@given(guides())
def test_a_name_cuts_itself_out_of_its_file(drawn: tuple[Plain, list[Plain], dict[str, list[Plain]]]) -> None:
    guide, texts = read(*drawn)
    uses = [use.ref for use in uses_of(guide)]
    for ref in uses:
        assert ref.span.cut(texts[ref.span.path]) == f'"{ref.name}"'
