"""Whether examples give exactly the findings that they are marked with; what differs is told line by line."""

from __future__ import annotations

from collections import Counter

from putback.checks import KnownCheck, all_checks
from putback.testing.examples import Caret, Example, besides_of, marks_of, parse_example, run_example


def checks_of(package: str) -> list[str]:
    """Return the names of the checks that a package brings, in their order.

    Raises `LookupError` when it brings none, so that a test over all of them cannot be one over nothing.
    """
    wanted = _even(package)
    names = [name for name, check in all_checks().items() if check.package and _even(check.package) == wanted]
    if not names:
        raise LookupError(f"no package '{package}' brings checks: it must be installed, and have the entry point")
    return names


def assert_examples(check: str) -> None:
    """Hold a check to the two examples in its module.

    `FAILS` must give exactly its marks, from all checks together, one of them of this check; `PASSES` must give
    nothing. Raises `AssertionError` with what differs, and `LookupError` for a check that is not found.
    """
    found = _known(check)
    if parse_example(found.module.PASSES).marks:
        raise AssertionError(f"PASSES of '{check}' has marks: nothing may be wrong in it")
    assert_example(found.module.FAILS, check)
    if not any(mark.check is None for mark in parse_example(found.module.FAILS).marks):
        raise AssertionError(f"FAILS of '{check}' has no mark of this check")
    assert_example(found.module.PASSES, check)


def assert_example(text: str, check: str) -> None:
    """Hold all checks together to an example: the marked findings are all that there are.

    A mark without a name in front is one of `check`. Of the hints, and of the places that explain findings, all that
    there are in the files of the example, once it marks one. Raises `AssertionError` with what differs, and below each
    finding that is not marked the line of carets for it, to be pasted; and `LookupError` for a check that is not found.
    """
    known = _known(check)
    example = parse_example(text)
    findings = run_example(example)
    marked = [*example.marks, *example.besides]
    wanted = [mark._replace(check=None) if mark.check == known.name else mark for mark in marked]
    there = [*marks_of(findings, known.name), *_asked_for(besides_of(findings, known.name), example)]
    expected, found = Counter(map(_line, wanted)), Counter(map(_line, there))
    lines = [f"marked, not found: {line}" for line in sorted((expected - found).elements())]
    unmarked = found - expected
    for mark in sorted(there, key=_line):
        if unmarked[_line(mark)]:
            unmarked[_line(mark)] -= 1
            lines += [f"found, not marked: {_line(mark)}", _carets(mark)]
    if lines:
        raise AssertionError("\n".join([f"an example of '{check}' is not as it is marked:", *lines]))


def _asked_for(besides: list[Caret], example: Example) -> list[Caret]:
    """Leave out the kinds that an example does not mark, and what is in files that it does not have."""
    kinds = {mark.message.partition(": ")[0] for mark in example.besides}
    return [each for each in besides if each.path in example.files and each.message.partition(": ")[0] in kinds]


def _known(check: str) -> KnownCheck:
    known = all_checks().get(check)
    if known is None:
        raise LookupError(f"there is no check '{check}': the package that brings it must be installed")
    return known


def _even(package: str) -> str:
    """Names of packages are the same with `-`, `_` and `.`, and in either case."""
    return package.lower().replace("_", "-").replace(".", "-")


def _carets(mark: Caret) -> str:
    check = f"[{mark.check}] " if mark.check else ""
    return f"{' ' * (mark.column - 1)}{'^' * max(1, mark.end_column - mark.column)} {check}{mark.message}"


def _line(mark: Caret) -> str:
    check = f"[{mark.check}] " if mark.check else ""
    return f"{mark.path}:{mark.line}:{mark.column}-{mark.end_column} {check}{mark.message}"
