"""A law of screwed parts: in the ledger, one is what a fastener with the same facts is."""

from __future__ import annotations

from hypothesis import assume, given, note, settings
from hypothesis import strategies as st

from putback.guide.record import Guide
from putback.ledger.opened import open_guide
from putback.lint.run import findings_of
from putback.model.screwed import ScrewedPart
from tests.laws.alone import Plain
from tests.laws.drawing import guides, read
from tests.test_laws import LAWS

ONLY_PARTS = ("lift", "turn", "mark", "align")
"""Verbs that a part takes and a fastener does not, or that ask of a part what they ask of no fastener."""


def without(steps: list[Plain]) -> list[Plain]:
    """Return steps without those that only a part takes."""
    kept = [step for step in steps if not any(verb in step for verb in ONLY_PARTS)]
    inner = [without(step.get("otherwise", [])) for step in kept]
    return [{**step, "otherwise": under} if under else step for step, under in zip(kept, inner, strict=True)]


def told(guide: Guide) -> set[tuple[str, str, int]]:
    """Return what is found in jobs and blocks, and on which lines."""
    found = findings_of(open_guide(guide))[0]
    return {(each.check, each.span.path, each.span.line) for each in found if "machine" not in each.span.path}


@settings(LAWS, max_examples=min(LAWS.max_examples, 60))
@given(guides(), st.data())
def test_a_part_that_is_screwed_on_is_walked_as_a_fastener(
    drawn: tuple[Plain, list[Plain], dict[str, list[Plain]]], data: st.DataObject
) -> None:
    machine, steps, blocks = drawn
    screwed = {
        name: facts for name, facts in machine.get("fasteners", {}).items() if {"torque", "by-hand"} & set(facts)
    }
    assume(screwed)
    steps, blocks = without(steps), {name: without(inner) or [{"note": "Nothing."}] for name, inner in blocks.items()}
    assume(steps)
    chosen = data.draw(st.sets(st.sampled_from(sorted(screwed)), min_size=1))
    fasteners = {name: facts for name, facts in machine["fasteners"].items() if name not in chosen}
    parts = {**machine.get("parts", {}), **{name: screwed[name] for name in sorted(chosen)}}
    other = {**machine, "fasteners": fasteners, "parts": parts}
    guide, texts = read({key: group for key, group in other.items() if group}, steps, blocks)
    note("\n".join(f"# {name}\n{text}" for name, text in texts.items()))
    assert guide.machine is not None
    assert all(isinstance(guide.machine.things[name], ScrewedPart) for name in chosen)
    assert told(guide) == told(read(machine, steps, blocks)[0])
