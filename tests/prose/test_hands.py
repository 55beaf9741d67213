"""What a text says of the way in which a thread is turned."""

from __future__ import annotations

import pytest

from putback.prose.hands import left_hand_in, ways_in


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("Turn it clockwise.", [(True, None)]),
        ("Counterclockwise to loosen it.", [(False, True)]),
        ("Tighten it anti-clockwise.", [(False, False)]),
        ("Unscrew it by turning it clockwise", [(True, True)]),
        ("clockwise to tighten, anticlockwise to loosen", [(True, False), (False, True)]),
        ("Turn the adjuster clockwise to tighten the belt.", [(True, None)]),
        ("Clockwise, seen from the rear.", []),
        ("Turn it.", []),
    ],
)
def test_ways(text: str, said: list[tuple[bool, bool | None]]) -> None:
    assert [(way.clockwise, way.loosens) for way in ways_in(text)] == said


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("It has a left-hand thread.", "left-hand thread"),
        ("Left handed screw threads", "Left handed screw threads"),
        ("The thread is left-handed", "thread is left-handed"),
        ("It has no left-hand thread", None),
        ("On the left hand side", None),
    ],
)
def test_left_hand(text: str, found: str | None) -> None:
    place = left_hand_in(text)
    assert (text[place[0] : place[1]] if place else None) == found
