"""What becomes of a finding when its hint is obeyed."""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Iterator
from typing import NamedTuple

from putback.lint.run import check_guide
from putback.source.finding import Finding
from putback.testing.examples import BENCH, LIBRARY, Example, parse_example, run_example
from tests.faults.finding import Trial
from tests.faults.seeding import Fault
from tests.hints.obeying import NoPlaceError, obey
from tests.hints.words import edits_of

Texts = Callable[[str], str]
"""The text of a file of a guide, by its name in the guide."""


Again = Callable[[dict[str, str]], list[Finding]]
"""Checks a guide with other texts of some files."""

Told = Counter[tuple[str, str, str, object]]
"""Findings without their places, which move."""


class Outcome(NamedTuple):
    """What a hint did."""

    finding: Finding
    """The finding."""
    fault: str | None = None
    """Why obeying it did not do good; None when it did."""
    advice: bool = False
    """Whether it is advice in words that no machine can follow."""


THEN = {
    "left-off": {"no-final-test", "left-unadjusted"},
    "left-open": {"no-final-test"},
    "guard-off": {"no-final-test"},
    "not-isolated": {"no-final-test"},
    "left-loose": {"no-final-test"},
    "left-dry": {"no-final-test"},
    "units-disagree": {"wrong-kind"},
    "still-locked": {"no-final-test"},
    "no-box": {"no-limit", "no-way-out"},
    "touches-nothing": {"blocked", "not-isolated"},
}
"""What an example lacks besides, and what can be told only when the first is mended: a job that puts nothing back needs
no test."""

NOT_YET: dict[str, str] = {
    "caution-late/in-a-block": "the message that stands too late has no more to warn of then",
    "caution-late/other-variant-is-no-answer": "the message that stands too late has no more to warn of then",
    "caution-missing/tap-forgotten": "the tap keeps the fuel away, and the hot parts are still there",
    "control-not-returned/block-leaves-it": "nothing is done between a block and its other half",
    "guard-off/with-what-the-run-needs": "the block took a cable off as well, and the job has not put it back",
    "half-renewed/for-each-place": "the other of the two is renewed as well then",
    "left-loose/set-by-its-setting": "what it sets is adjusted as well then",
    "not-isolated/both-ways-off": "more than one step is wanted",
    "not-watched/with-the-key-off": "it runs once the key is on, and still nobody looks",
}
"""Cases with a hint that does no good, each with the reason. One that comes right fails until it leaves this list."""

UNREAD = {
    "verb-in-words",
    "unknown-name",
    "bad-quantity",
    "bad-fastener",
    "wrong-shape",
    "bare-number",
    "not-yaml",
    "not-plain",
}
"""Where what stands there could not be read: what was written there is judged once it can be."""


def told(findings: list[Finding]) -> Told:
    """Return findings without their places, which move."""
    return Counter((one.check, one.span.path, one.message, one.variant) for one in findings)


def outcomes(
    findings: list[Finding], text_of: Texts, again: Callable[[dict[str, str]], list[Finding]]
) -> Iterator[Outcome]:
    """Obey each hint by itself; `again` checks the guide with other texts of some files."""
    before = told(findings)
    for finding in findings:
        if finding.hint is None:
            continue
        edits = edits_of(finding.hint)
        if edits is None:
            yield Outcome(finding, advice=True)
            continue
        try:
            after = told(again(obey(text_of, finding.span, edits)))
        except NoPlaceError as error:
            yield Outcome(finding, f"cannot be obeyed: {error}")
            continue
        yield Outcome(finding, _judged(finding, before, after))


def _judged(finding: Finding, before: Told, after: Told) -> str | None:
    (mine,) = told([finding])
    if after[mine] >= before[mine]:
        return "the finding stays"
    new = after - before
    for key in [*new]:
        if key[0] in THEN.get(finding.check, ()) or (finding.check in UNREAD and key[0] not in UNREAD):
            del new[key]
    return f"brings {'; '.join(f'[{check}] {message}' for check, _, message, _ in new)}" if new else None


def of_example(text: str) -> Iterator[Outcome]:
    """Obey the hints of an example of a check."""
    example = parse_example(text)

    def text_of(path: str) -> str:
        if path in example.files:
            return example.files[path]
        here = BENCH / path
        return (here if here.is_file() else LIBRARY / path).read_text(encoding="utf-8")

    def again(new: dict[str, str]) -> list[Finding]:
        return run_example(Example({**example.files, **new}, example.absent))

    yield from outcomes(run_example(example), text_of, again)


def of_fault(trial: Trial, fault: Fault) -> Iterator[Outcome]:
    """Obey the hints of what is found of a fault that was put into a good guide."""
    edited = {trial.folder.resolve() / fault.path: fault.text}

    def text_of(path: str) -> str:
        name = path.removeprefix(f"{trial.guide.shown}/")
        return fault.text if name == fault.path else (trial.folder / name).read_text(encoding="utf-8")

    def again(new: dict[str, str]) -> list[Finding]:
        names = {path.removeprefix(f"{trial.guide.shown}/"): text for path, text in new.items()}
        if [*names] == [fault.path]:
            return [*trial.findings(fault._replace(text=names[fault.path]))]
        return check_guide(
            trial.folder, {**edited, **{trial.folder.resolve() / name: text for name, text in names.items()}}
        )[1]

    yield from outcomes([*trial.findings(fault)], text_of, again)
