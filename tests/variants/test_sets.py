"""What needs no diagram to be told of two sets."""

from __future__ import annotations

import pytest

from putback.variants import ALL, NONE
from putback.variants.sets import plain_both, plain_either, plain_without

SOME, OTHER = 5, 7


@pytest.mark.parametrize(
    ("a", "b", "both", "either", "without"),
    [
        (ALL, ALL, ALL, ALL, NONE),
        (NONE, NONE, NONE, NONE, NONE),
        (ALL, NONE, NONE, ALL, ALL),
        (NONE, ALL, NONE, ALL, NONE),
        (SOME, SOME, SOME, SOME, NONE),
        (SOME, ALL, SOME, ALL, NONE),
        (ALL, SOME, SOME, ALL, None),
        (SOME, NONE, NONE, SOME, SOME),
        (NONE, SOME, NONE, SOME, NONE),
        (SOME, OTHER, None, None, None),
    ],
)
def test_what_is_plain(a: int, b: int, both: int | None, either: int | None, without: int | None) -> None:
    assert (plain_both(a, b), plain_either(a, b), plain_without(a, b)) == (both, either, without)
