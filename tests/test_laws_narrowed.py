"""A law of narrowed runs: what is found for some variants is found for all of them as well."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations, product
from pathlib import Path

import pytest
from hypothesis import given, note, settings
from hypothesis import strategies as st

from putback.guide.paths import is_guide
from putback.guide.reading import read_guide
from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.lint.guides import lint
from putback.lint.run import NoVariantError, chosen, findings_of
from putback.model.library import Hazard, SafetyMessage
from putback.model.terms import Ref, Signal
from putback.source.finding import Finding
from putback.source.span import Span, top_of
from putback.variants import Choice
from tests.conftest import Write
from tests.laws.alone import Plain
from tests.laws.drawing import guides, read
from tests.test_laws import LAWS

PROCEDURES = Path(__file__).parents[1] / "procedures"
GUIDES = [folder for folder in sorted(PROCEDURES.iterdir()) if folder.is_dir() and is_guide(folder)]
each_guide = pytest.mark.parametrize("folder", GUIDES, ids=lambda folder: folder.name)


def choices_of(guide: Guide, most: int) -> list[Choice]:
    """Return each choice of each option, and the pairs of them with `most` 2; without what was never built."""
    assert guide.machine is not None
    options = guide.machine.options
    built = []
    for number in range(1, most + 1):
        for names in combinations(options, number):
            for values in product(*(options[name] for name in names)):
                try:
                    built.append(chosen(guide, tuple(zip(names, values, strict=True))))
                except NoVariantError:
                    continue
    return built


def told(guide: Guide, only: Choice) -> set[tuple[str, Span]]:
    return {(finding.check, finding.span) for finding in findings_of(open_guide(guide, only))[0]}


@each_guide
def test_a_good_guide_is_good_for_every_choice(folder: Path) -> None:
    guide = read_guide(folder)
    assert guide.machine is not None
    choices = choices_of(guide, 2)
    assert len(choices) > len(guide.machine.options)
    assert {only: found for only in choices if (found := told(guide, only))} == {}


@each_guide
def test_lint_of_a_choice_gives_no_error(folder: Path) -> None:
    guide = read_guide(folder)
    only = choices_of(guide, 1)[-1]
    result = lint([folder], only)
    assert result.exit_code == 0
    assert result.left_out


@settings(LAWS, max_examples=min(LAWS.max_examples, 40))
@given(guides(), st.data())
def test_a_narrowed_run_finds_nothing_that_the_whole_one_does_not(
    drawn: tuple[Plain, list[Plain], dict[str, list[Plain]]], data: st.DataObject
) -> None:
    machine, steps, blocks = drawn
    guide, texts = read(machine, [{"caution": "removing"}, *steps, {"caution": "running"}], blocks)
    guide = with_claims(guide)
    choices = choices_of(guide, 2)
    if choices:
        only = data.draw(st.sampled_from(choices))
        note(f"{only}\n{texts}")
        narrowed, whole = told(guide, only), told(guide, ())
        if any(check == "caution-late" for check, _ in whole):
            # One late caution stands for all steps that it comes too late for; variants that stop before it lack it.
            narrowed = {(check, span) for check, span in narrowed if check != "caution-missing"}
        assert narrowed <= whole


def with_claims(guide: Guide) -> Guide:
    """Return a guide whose blocks say that they leave everything, and with cautions for two verbs."""
    assert guide.machine is not None
    names = [*guide.machine.things, *guide.library.equipment]
    blocks = {}
    for key, block in guide.blocks.items():
        leaves = tuple(Ref(name, Span(block.path, 1, column, 1, column + 1)) for column, name in enumerate(names, 1))
        blocks[key] = replace(block, ends_with=leaves)
    top = top_of("hazards.yaml")
    hazards = {
        verb: Hazard(
            key=verb, span=top, name=verb, signal_at_least=Signal.WARNING, verbs=(verb,), tags=(), ppe=(), safe_when=()
        )
        for verb in ("remove", "run")
    }
    cautions = {
        key: SafetyMessage(
            key=key, span=top, name=key, signal=Signal.WARNING, hazard="a", consequence="b", avoid=("c",),
            covers=(Ref(verb, top),), ppe=(),
        )
        for key, verb in (("removing", "remove"), ("running", "run"))
    }  # fmt: skip
    library = replace(guide.library, blocks=blocks, hazards=hazards, cautions=cautions)
    return replace(guide, blocks=blocks, library=library)


def test_what_only_other_variants_leave_or_warn_of_is_no_fault_of_a_narrowed_run(write_guide: Write) -> None:
    """Two claims about all variants, each made by one check."""
    machine = "machine: Pump\noptions: {drive: [belt, gear]}\nparts:\n  lid: {}\n  guard: {when: {drive: belt}}\n"
    block = "block: Guard off\nends-with: [guard, lid]\nsteps:\n  - remove: guard\n"
    write_guide({"pump/machine.yaml": machine, "pump/blocks/off.yaml": block})
    assert [at(finding) for finding in lint([Path("pump")]).findings if finding.check == "not-left"] == ["2:20"]
    for choice in ("belt", "gear"):
        found = lint([Path("pump")], (("drive", choice),)).findings
        assert [at(finding) for finding in found if finding.check == "not-left"] == ["2:20"]


def at(finding: Finding) -> str:
    return f"{finding.span.line}:{finding.span.column}"


def test_a_step_that_others_reach_is_not_told_for_those_that_stop_before_it(write_guide: Write) -> None:
    """The first step behind the end is of a variant that was not asked for; the second is told with it, not alone."""
    machine = "machine: Pump\noptions: {size: [small, large]}\nparts: {lid: {}}\n"
    job = (
        "job: Look\nsteps:\n  - stop: No further.\n  - clean: lid\n    when: {size: small}\n  - clean: lid\n"
        "  - clean: lid\n    when: {size: large}\n"
    )
    guide = read_guide(write_guide({"pump/machine.yaml": machine, "pump/jobs/look.yaml": job}))
    whole = {span.line for check, span in told(guide, ()) if check == "never-reached"}
    large = {span.line for check, span in told(guide, (("size", "large"),)) if check == "never-reached"}
    assert whole == {4}
    assert large <= whole
