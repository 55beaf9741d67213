"""Scales of readings: all of it stands within its frame, no number covers another, and what is good is hatched."""

from __future__ import annotations

from decimal import Decimal
from itertools import combinations
from xml.etree import ElementTree

import pytest
from hypothesis import given
from hypothesis import strategies as st

from putback.drawings.canvas import width_of
from putback.drawings.scales import SIZE, Scale, is_scale, scale_drawing
from putback.words.drawn import ScaleSaid

SVG = "{http://www.w3.org/2000/svg}"
WORDS = ScaleSaid("Scale", "Good: all that is hatched.", "good", "too small", "too large", "new")
values = st.decimals(Decimal("-500"), Decimal("5000"), places=3, allow_nan=False)


def drawn(scale: Scale) -> ElementTree.Element:
    return ElementTree.fromstring(scale_drawing(scale, WORDS))


def texts(svg: ElementTree.Element) -> dict[str, tuple[float, float]]:
    """Return the left and right end of each text, mm."""
    found = {}
    for text in svg.findall(f"{SVG}text"):
        words = text.text or ""
        wide = width_of(words, SIZE, bold=text.get("font-weight") == "700")
        x = float(text.get("x", ""))
        x -= {"start": 0.0, "middle": wide / 2, "end": wide}[text.get("text-anchor", "")]
        found[f"{text.get('class')} {words}"] = (x, x + wide)
    return found


@given(values, values, st.sampled_from(["both", "low", "high"]), st.none() | st.tuples(values, values), st.booleans())
def test_all_stands_in_the_frame_and_no_number_covers_another(
    one: Decimal, other: Decimal, ends: str, new: tuple[Decimal, Decimal] | None, from_nought: bool
) -> None:
    low, high = sorted((one, other))
    scale = Scale(
        low if ends != "high" else None,
        high if ends != "low" else None,
        (min(new), max(new)) if new else None,
        "mm",
        from_nought,
    )
    if not is_scale(scale):
        return
    svg = drawn(scale)
    wide = float(svg.get("width", "").removesuffix("mm"))
    found = texts(svg)
    for left, right in found.values():
        assert -0.01 <= left < right <= wide + 0.01
    below = [ends for name, ends in found.items() if "number" in name or name.startswith("unit")]
    for (left, right), (start, end) in combinations(below, 2):
        assert right <= start or end <= left
    for limit in (scale.low, scale.high):
        if limit is not None:
            number = f"{limit.normalize():f}".replace("-", "−")
            assert f"limit-number {number}" in found
    good = svg.find(f"{SVG}rect[@class='good']")
    assert good is not None
    left = float(good.get("x", ""))
    right = left + float(good.get("width", ""))
    for path in svg.findall(f"{SVG}path[@class='hatch']"):
        xs = [float(point.split(",")[0]) for point in path.get("d", "")[1:].split("L")]
        assert left - 0.03 <= min(xs) <= max(xs) <= right + 0.03


def test_a_scale_runs_past_its_limits_between_round_numbers() -> None:
    gap = texts(drawn(Scale(Decimal("0.7"), Decimal("0.9"), None, "mm", True)))
    assert [name for name in gap if name.startswith("limit-number")] == ["limit-number 0.7", "limit-number 0.9"]
    assert [name.split()[1] for name in gap if name.startswith("number")] == ["0.5", "0.6", "0.8", "1", "1.1"]
    assert [name for name in gap if name.startswith("range")] == ["range too small", "range good", "range too large"]
    groove = texts(drawn(Scale(None, Decimal("0.3"), (Decimal(0), Decimal(0)), "mm", True)))
    assert {"range good", "range too large", "new-word new 0", "limit-number 0.3"} <= set(groove)
    assert "range too small" not in groove


def test_a_single_value_is_no_scale() -> None:
    with pytest.raises(ValueError, match="range"):
        drawn(Scale(Decimal(1), Decimal(1), None, "mm", True))


@pytest.mark.parametrize(("limit", "most"), [("80.5", 10), ("0.3", 1), ("115", 150)])
def test_a_fine_limit_stands_on_a_fine_scale(limit: str, most: float) -> None:
    found = texts(drawn(Scale(None, Decimal(limit), None, "mm", from_nought=True)))
    numbers = [float(name.split()[1]) for name in found if name.startswith("number ")]
    assert max(numbers) - min(numbers) < most


def test_the_numbers_have_the_decimal_sign_of_the_language() -> None:
    svg = scale_drawing(
        Scale(Decimal("0.7"), Decimal("0.9"), (Decimal("0.75"), Decimal("0.75")), "mm", True),
        WORDS._replace(decimal=","),
    )
    said = [text.text or "" for text in ElementTree.fromstring(svg).findall(f"{SVG}text")]
    assert {"0,7", "0,9", "new 0,75"} <= set(said)
    assert not [words for words in said if "." in words]
