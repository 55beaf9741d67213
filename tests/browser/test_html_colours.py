"""The contrast of every pair of colours that the style sheets put together, computed as WCAG 2.2 defines it."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

import putback.sphinxext

PLACE = Path(putback.sphinxext.__file__).parent
NODES = (PLACE / "static" / "putback.css").read_text("utf-8")
THEME = (PLACE / "theme" / "static" / "manual.css").read_text("utf-8")

TEXT = 4.5
"""WCAG 2.2, success criterion 1.4.3: the least contrast of text of ordinary size."""

SHAPE = 3.0
"""WCAG 2.2, success criterion 1.4.11: the least contrast of what must be seen to understand or use the page."""

PAIRS = [
    ("--ink", "--paper", TEXT),
    ("--ink", "--pale", TEXT),
    ("--ink", "--marked", TEXT),
    ("--quiet", "--paper", TEXT),
    ("--rule", "--paper", SHAPE),
    ("--focus", "--paper", SHAPE),
    ("--putback-danger-word", "--putback-danger", TEXT),
    ("--putback-warning-word", "--putback-warning", TEXT),
    ("--putback-caution-word", "--putback-caution", TEXT),
    ("--putback-notice-word", "--putback-notice", TEXT),
    ("--putback-mark", "--putback-mark-ground", TEXT),
    ("--putback-danger-edge", "--paper", SHAPE),
    ("--putback-notice-edge", "--paper", SHAPE),
]


def block(css: str, opening: str) -> str:
    """Return what stands between the braces that `opening` opens."""
    start = css.index(opening) + len(opening)
    depth, at = 1, start
    while depth:
        depth += {"{": 1, "}": -1}.get(css[at], 0)
        at += 1
    return css[start : at - 1]


def properties(css: str) -> dict[str, str]:
    return dict(re.findall(r"(--[\w-]+):\s*(#[0-9a-f]{6});", css))


def colours(scheme: str) -> dict[str, str]:
    found = properties(block(NODES, ":where(:root) {")) | properties(block(THEME, ":root {"))
    for word in ("danger", "notice"):
        found[f"--putback-{word}-edge"] = found[f"--putback-{word}"]
    if scheme == "dark":
        found |= properties(block(THEME, "@media (prefers-color-scheme: dark) {\n  :root {"))
    if scheme == "paper":
        found |= properties(block(block(THEME, "@media print {"), ":root {"))
    return found


def luminance(colour: str) -> float:
    """Return the relative luminance, 0 to 1, of a colour `#rrggbb` (WCAG 2.2, "relative luminance")."""
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    linear = [value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4 for value in channels]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def contrast(one: str, other: str) -> float:
    """Return the contrast ratio, 1 to 21 (WCAG 2.2, "contrast ratio")."""
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_the_formula_gives_the_values_that_wcag_states() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#ffffff", "#ffffff") == pytest.approx(1)
    # G18 of the WCAG techniques: #767676 is the lightest grey that passes 4.5:1 on white.
    assert contrast("#767676", "#ffffff") >= TEXT > contrast("#777777", "#ffffff")


@pytest.mark.parametrize("scheme", ["light", "dark", "paper"])
@pytest.mark.parametrize(("front", "back", "least"), PAIRS)
def test_a_pair_has_enough_contrast(scheme: str, front: str, back: str, least: float) -> None:
    found = colours(scheme)
    ratio = contrast(found[front], found[back])
    assert ratio >= least, f"{front} {found[front]} on {back} {found[back]}: {ratio:.2f}"


def test_the_signal_colours_are_the_same_in_both_schemes() -> None:
    """A danger is red by day and by night; only its edge may be lighter."""
    light, dark = colours("light"), colours("dark")
    for word in ("danger", "warning", "caution", "notice"):
        assert light[f"--putback-{word}"] == dark[f"--putback-{word}"]


def test_colours_stand_in_properties_only() -> None:
    """A colour written elsewhere would escape the pairs above. The ground of pictures in the dark may."""
    for css in (NODES, THEME):
        loose = [line.strip() for line in css.splitlines() if re.search(r"#[0-9a-fA-F]{3,8}\b", line)]
        assert [line for line in loose if not line.startswith("--")] in ([], ["background: #ffffff;"])
