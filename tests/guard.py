"""For tests that guard a rule of the house: whoever trips one reads each place, and what to do about it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping


def assert_none(found: Iterable[object], what_to_do: str) -> None:
    """Fail when anything was found: with what to do, then each of them on a line of its own, in full."""
    __tracebackhide__ = True
    if isinstance(found, Mapping):
        found = [f"{place}: {wrong}" for place, wrong in found.items()]
    lines = [str(each) for each in found]
    if lines:
        raise AssertionError("\n  ".join([f"{what_to_do}:", *lines]))
