"""Torques in two units as trade documents print them, read from a sentence: the pairs that agree and those that do not.

Status of all: read, seen in the stored text of the source itself.
"""

from __future__ import annotations

import pytest

from putback.prose.statements import torques
from putback.testing.examples import parse_example, run_example
from putback.units import Kind, disagreement, parse

PUMP = "Army TM 10-4320-307-24, para 3-31, p. 3-105"
TRUCK = "Army TM 9-2320-302-34, WP 0029 00-12"
PAVER = "Army TM 5-3895-376-14&P, para 5-18"

# source, pair as printed, by how many per cent the second is off when rounding does not explain it
PAIRS = [
    (PUMP, "20 lb-ft / 25 N·m", "−7.8 %"),
    (PUMP, "40 lb-ft / 55 N·m", None),
    (PUMP, "120 lb-in / 15 N·m", "+10.6 %"),
    (PUMP, "45 lb-ft / 60 N·m", None),
    (PUMP, "30 lb-ft / 40 N·m", None),
    (TRUCK, "22–28 lb-ft / 30–38 N·m", None),
    (TRUCK, "43–54 lb-ft / 58–73 N·m", None),
    (PAVER, "8.7–10.9 lb-ft / 12–15 N·m", None),
]

OTHER_PAIRS = [
    ("Army TM 10-4320-307-24, p. 4-73", "30 psi", "2.11 kgf/cm²", Kind.PRESSURE),
    ("Army TM 9-2320-272-24-2, p. 4-204", "30 psi", "207 kPa", Kind.PRESSURE),
    ("Army TM 10-4320-307-24, p. 4-74", "1.820 in", "46.23 mm", Kind.LENGTH),
    ("Army TM 10-4320-307-24, p. 4-74", "22–26 lbf", "98–116 N", Kind.FORCE),
]


def forms(pair: str) -> list[str]:
    """Return a pair with a slash and in brackets, each in both orders."""
    first, second = pair.split(" / ")
    return [pair, f"{second} / {first}", f"{first} ({second})", f"{second} [{first}]"]


@pytest.mark.parametrize(("source", "pair", "off"), PAIRS)
def test_a_pair_in_a_sentence(source: str, pair: str, off: str | None) -> None:
    for form in forms(pair):
        (found,) = torques(f"Tighten the bolts to {form}, and wait.")
        assert found.words == form
        assert (disagreement(found.quantity) is not None) == (off is not None), source


@pytest.mark.parametrize(("source", "pair", "off"), PAIRS)
def test_the_check_finds_the_wrong_pairs_and_no_other(source: str, pair: str, off: str | None) -> None:
    example = f"# machine.yaml\nmachine: Bench pump\nfasteners:\n  bolts: {{torque: {forms(pair)[2]}}}\n"
    found = [(finding.check, finding.message) for finding in run_example(parse_example(example))]
    assert [check for check, _ in found] == ["units-disagree"] * (off is not None), source
    assert all(message.endswith(f"({off})") for _, message in found)


@pytest.mark.parametrize(("source", "first", "second", "kind"), OTHER_PAIRS)
def test_pairs_of_other_kinds_agree(source: str, first: str, second: str, kind: Kind) -> None:
    assert disagreement(parse(f"{first} ({second})", kind)) is None, source
    assert disagreement(parse(f"{second} ({first})", kind)) is None, source
