"""Every value that an author wrote stands on a page, on screen and on paper, or in a short list with the reason."""

from __future__ import annotations

from collections.abc import Iterator
from fnmatch import fnmatchcase

import pytest

from tests.guard import assert_none
from tests.print import GUIDES, every_key
from tests.print.places import AS, NOT_PRINTED, Forms, why_not
from tests.print.printed_pages import Printed
from tests.print.scalars import scalars_of


def lost(manual: Printed) -> Iterator[str]:
    """Yield the values that are not printed and should be."""
    forms = Forms(manual.opened)
    for scalar in scalars_of(manual.guide):
        if why_not(scalar.place) is not None:
            continue
        ways = list(forms.of(scalar))
        gone = [] if any(manual.on_screen(way, scalar.page) for way in ways) else ["on screen"]
        gone += [] if any(map(manual.on_paper, ways)) else ["on paper"]
        if gone:
            yield f"{scalar.at}: {scalar.place} '{scalar.words}' is not {' nor '.join(gone)}"


@pytest.mark.parametrize("name", GUIDES)
def test_every_value_is_printed(manuals: dict[str, Printed], name: str) -> None:
    assert_none(lost(manuals[name]), "print these values, or give the reason in tests/print/places.py")


def test_the_guide_uses_every_key() -> None:
    missing = every_key.all_keys() - every_key.used_keys()
    assert_none(sorted(missing), "give these keys a value in tests/print/every_key, so that their place is tried")


def test_the_job_uses_every_verb() -> None:
    verbs = set(every_key.verbs())
    assert_none(sorted(verbs - set(every_key.VALUES)), "say in VALUES of tests/print/every_key.py what these work on")
    assert_none(sorted(set(every_key.VALUES) - verbs), "no verbs: take out of VALUES of that file")
    assert {key for verb in every_key.verbs() for key in every_key.keys_of(verb)} >= every_key.LEFT


def test_no_reason_stands_for_nothing(manuals: dict[str, Printed]) -> None:
    places = {scalar.place for manual in manuals.values() for scalar in scalars_of(manual.guide)}
    idle = [pattern for pattern in (*NOT_PRINTED, *AS) if not any(fnmatchcase(place, pattern) for place in places)]
    assert_none(idle, "no value stands in these places: take the patterns out of tests/print/places.py")
