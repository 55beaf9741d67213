"""Hints that depend on what else is there: the other jobs of a block, and what is near a message."""

from __future__ import annotations

from pathlib import Path

from putback.checks.message_unneeded import DELETE
from putback.testing.examples import parse_example, run_example

CASES = Path(__file__).parents[1] / "cases"


def hints(text: str, check: str) -> list[str | None]:
    return [finding.hint for finding in run_example(parse_example(text)) if finding.check == check]


def test_a_block_lists_only_what_every_job_puts_right() -> None:
    text = (CASES / "left-off" / "reversed-and-not-listed.txt").read_text(encoding="utf-8")
    assert hints(text, "left-off") == ["add 'belt-guard' to 'ends-with'"]
    job, _, other = text.partition("# jobs/other.yaml")
    forgets = other.replace("  - reverse: guard-off\n", "  - install: guard-bolts\n  - tighten: guard-bolts\n")
    assert forgets != other
    (hint,) = hints(f"{job}# jobs/other.yaml{forgets}", "left-off")
    assert hint is not None
    assert hint.startswith("add 'install: belt-guard'")


def test_a_message_is_kept_only_where_a_step_is_near_what_it_warns_of() -> None:
    text = (CASES / "message-unneeded" / "beside-what-it-warns-of.txt").read_text(encoding="utf-8")
    (near,) = hints(text, "message-unneeded")
    assert near == "if 'measure' is dangerous here too, write a hazard with it under 'verbs'; if not, delete this"
    far = text.replace("disturbed-by: knife}", "disturbed-by: anvil}")
    assert far != text
    assert hints(far, "message-unneeded") == [DELETE]


def test_a_message_about_what_the_machine_lacks_is_not_offered() -> None:
    text = (CASES / "caution-missing" / "filled-in-cold.txt").read_text(encoding="utf-8")
    assert hints(text, "caution-missing") == ["put 'caution: hot-engine' before it, in the same section"]
    # With something under pressure, both are true.
    both = text.replace("parts: {engine: {}}", "parts: {engine: {}, hose: {tags: [jet]}}")
    assert hints(both, "caution-missing") == [
        "put 'caution: hot-coolant' or 'caution: hot-engine' before it, in the same section"
    ]
