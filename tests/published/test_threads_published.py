"""Threads against tables that others published.

Status: read, seen in the source; read-2, seen in a reproduction of it; memory+calc, recalled, and the arithmetic
agrees; calc, worked out here from the published formula.
"""

from __future__ import annotations

import math

import pytest

from putback.joints.members import LOOSE, bolt_area, hole_area
from putback.joints.threads import ThreadError, read_thread


def area(text: str) -> float:
    """Return a stress area, mm²."""
    found = read_thread(text).stress_area
    assert found is not None
    return found


def digits(value: float, count: int) -> float:
    """Return a number rounded to some significant digits."""
    return round(value, count - 1 - math.floor(math.log10(value)))


# thread, pitch, area printed in ISO 898-1 (read-2), formula to 5 digits (calc; M5 to M24 also read in a table after
# Bickford and Nassar, which prints the pitch of M12 as 1: a misprint)
ISO_898_COARSE = [
    ("M3", 0.5, 5.03, 5.031),
    ("M3.5", 0.6, 6.78, 6.775),
    ("M4", 0.7, 8.78, 8.779),
    ("M5", 0.8, 14.2, 14.183),
    ("M6", 1, 20.1, 20.123),
    ("M7", 1, 28.9, 28.860),
    ("M8", 1.25, 36.6, 36.609),
    ("M10", 1.5, 58.0, 57.990),
    ("M12", 1.75, 84.3, 84.267),
    ("M14", 2, 115, 115.44),
    ("M16", 2, 157, 156.67),
    ("M18", 2.5, 192, 192.47),
    ("M20", 2.5, 245, 244.79),
    ("M22", 2.5, 303, 303.40),
    ("M24", 3, 353, 352.50),
]


@pytest.mark.parametrize(("text", "pitch", "printed", "formula"), ISO_898_COARSE)
def test_stress_area_of_coarse_metric_threads(text: str, pitch: float, printed: float, formula: float) -> None:
    thread = read_thread(text)
    assert (thread.pitch, thread.series) == (pitch, "coarse")
    assert area(text) == pytest.approx(printed, rel=0.004)
    assert digits(area(text), len(f"{formula:g}".replace(".", ""))) == formula


def test_the_misprinted_pitch_of_m12_would_be_seen() -> None:
    assert area("M12 x 1") != pytest.approx(84.267, rel=0.05)


# ISO 898-1, memory+calc
ISO_898_FINE = [
    ("M8×1", 39.2, 39.17),
    ("M10×1", 64.5, 64.49),
    ("M10×1.25", 61.2, 61.20),
    ("M12×1.25", 92.1, 92.07),
    ("M12×1.5", 88.1, 88.13),
    ("M14×1.5", 125, 124.55),
    ("M16×1.5", 167, 167.25),
    ("M18×1.5", 216, 216.23),
    ("M20×1.5", 272, 271.50),
    ("M22×1.5", 333, 333.06),
    ("M24×2", 384, 384.42),
]


@pytest.mark.parametrize(("text", "printed", "formula"), ISO_898_FINE)
def test_stress_area_of_fine_metric_threads(text: str, printed: float, formula: float) -> None:
    assert read_thread(text).series == "fine"
    assert area(text) == pytest.approx(printed, rel=0.004)
    assert area(text) == pytest.approx(formula, abs=0.0051)


# ASME PCC-1, appendix H, table H-1, four digits, read-2
PCC_METRIC = [
    ("M14 x 2", 115.4),
    ("M16 x 2", 156.7),
    ("M20 x 2.5", 244.8),
    ("M24 x 3", 352.5),
    ("M27 x 3", 459.4),
    ("M30 x 3", 580.4),
    ("M33 x 3", 715.6),
    ("M36 x 3", 864.9),
]
PCC_INCH = [
    ("1/2-13", 0.1419),
    ("5/8-11", 0.2260),
    ("3/4-10", 0.3345),
    ("7/8-9", 0.4617),
    ("1-8", 0.6057),
    ("1 1/8-8", 0.7905),
    ("1 1/4-8", 0.9997),
]


@pytest.mark.parametrize(("text", "printed"), PCC_METRIC)
def test_four_digits_metric(text: str, printed: float) -> None:
    assert digits(area(text), 4) == printed


@pytest.mark.parametrize(("text", "printed"), PCC_INCH)
def test_four_digits_inch(text: str, printed: float) -> None:
    assert digits(area(text) / 25.4**2, 4) == printed


# ASME B1.1, in², read-2 (a thread chart, an ANSI table and two fastener references)
ASME_B1_1 = [
    ("#4-40", "UNC", 0.00604),
    ("#6-32", "UNC", 0.00909),
    ("#8-32", "UNC", 0.0140),
    ("#10-24", "UNC", 0.0175),
    ("1/4-20", "UNC", 0.0318),
    ("5/16-18", "UNC", 0.0524),
    ("3/8-16", "UNC", 0.0775),
    ("7/16-14", "UNC", 0.1063),
    ("1/2-13", "UNC", 0.1419),
    ("9/16-12", "UNC", 0.182),
    ("5/8-11", "UNC", 0.226),
    ("3/4-10", "UNC", 0.334),
    ("7/8-9", "UNC", 0.462),
    ("1-8", "UNC", 0.606),
    ("#4-48", "UNF", 0.00661),
    ("#6-40", "UNF", 0.01015),
    ("#8-36", "UNF", 0.01474),
    ("#10-32", "UNF", 0.0200),
    ("1/4-28", "UNF", 0.0364),
    ("5/16-24", "UNF", 0.0580),
    ("3/8-24", "UNF", 0.0878),
    ("7/16-20", "UNF", 0.1187),
    ("1/2-20", "UNF", 0.1599),
    ("9/16-18", "UNF", 0.203),
    ("5/8-18", "UNF", 0.256),
    ("3/4-16", "UNF", 0.373),
    ("7/8-14", "UNF", 0.509),
    ("1-12", "UNF", 0.663),
]


@pytest.mark.parametrize(("text", "series", "printed"), ASME_B1_1)
def test_stress_area_of_unified_threads(text: str, series: str, printed: float) -> None:
    assert read_thread(text).designation == f"{text} {series}"
    # rounding of three digits; the formula agrees within 0.25 %
    assert area(text) / 25.4**2 == pytest.approx(printed, rel=0.0025)


def test_the_misprint_of_7_16_14_would_be_seen() -> None:
    # one of those pages prints 0.0163 for 0.1063
    assert area("7/16-14") / 25.4**2 != pytest.approx(0.0163, rel=0.5)


# FAA AC 43.13-1B (1998), table 7-1, the fine threads that it lists; read
FAA_FINE = [
    "8-36", "10-32", "1/4-28", "5/16-24", "3/8-24", "7/16-20", "1/2-20", "9/16-18", "5/8-18", "3/4-16", "7/8-14",
]  # fmt: skip


def test_threads_of_a_torque_table() -> None:
    assert {read_thread(text).series.value for text in FAA_FINE} == {"fine"}
    assert read_thread("1-14").designation == "1-14 UNS"
    with pytest.raises(ThreadError, match="1-14 is UNS, not UNF"):
        read_thread("1-14 UNF")


# ISO 724: basic pitch and minor diameters, mm (memory+calc)
ISO_724 = [("M6", 5.350, 4.917), ("M8", 7.188, 6.647), ("M10", 9.026, 8.376), ("M12", 10.863, 10.106)]


@pytest.mark.parametrize(("text", "pitch_diameter", "minor_diameter"), ISO_724)
def test_basic_diameters(text: str, pitch_diameter: float, minor_diameter: float) -> None:
    thread = read_thread(text)
    assert thread.pitch_diameter == pytest.approx(pitch_diameter, abs=0.0006)
    assert thread.minor_diameter == pytest.approx(minor_diameter, abs=0.0006)


# ISO 228-1 as reproduced in an encyclopedia: major diameter and pitch, mm; read-2
ISO_228 = [
    ("1/16", 7.723, 0.907),
    ("1/8", 9.728, 0.907),
    ("1/4", 13.157, 1.337),
    ("3/8", 16.662, 1.337),
    ("1/2", 20.955, 1.814),
    ("5/8", 22.911, 1.814),
    ("3/4", 26.441, 1.814),
    ("1", 33.249, 2.309),
    ("1 1/4", 41.910, 2.309),
    ("1 1/2", 47.803, 2.309),
    ("2", 59.614, 2.309),
]


@pytest.mark.parametrize(("size", "diameter", "pitch"), ISO_228)
def test_pipe_threads(size: str, diameter: float, pitch: float) -> None:
    thread = read_thread(f"G {size}")
    assert thread.diameter == diameter
    assert thread.pitch == pytest.approx(pitch, abs=0.0006)


# ASME B1.20.1: outside diameter of the pipe and pitch, in; read in a thread chart of the standard
ASME_B1_20_1 = [
    ("1/16", 0.3125, 0.03704),
    ("1/8", 0.405, 0.03704),
    ("1/4", 0.540, 0.05556),
    ("3/8", 0.675, 0.05556),
    ("1/2", 0.840, 0.07143),
    ("3/4", 1.050, 0.07143),
    ("1", 1.315, 0.08696),
    ("1 1/2", 1.900, 0.08696),
    ("2", 2.375, 0.08696),
]


@pytest.mark.parametrize(("size", "diameter", "pitch"), ASME_B1_20_1)
def test_npt(size: str, diameter: float, pitch: float) -> None:
    thread = read_thread(f"{size} NPT")
    assert thread.diameter / 25.4 == pytest.approx(diameter)
    assert thread.pitch / 25.4 == pytest.approx(pitch, abs=0.000006)


# strip areas, mm², of the bolt and of the nut, 6H/6g, one diameter engaged, as printed after Bickford, Introduction
# to the Design and Behavior of Bolted Joints; read
STRIP_AREAS = [
    ("M5", 35.366, 49.994),
    ("M6", 51.875, 73.145),
    ("M8", 97.290, 134.63),
    ("M10", 155.80, 214.77),
    ("M12", 227.72, 313.41),
    ("M14", 313.94, 434.47),
    ("M16", 417.55, 569.12),
    ("M20", 665.58, 907.76),
    ("M22", 814.67, 1100.3),
    ("M24", 971.10, 1320.2),
    ("M27", 1246.7, 1674.3),
    ("M30", 1549.2, 2086.5),
    ("M36", 2271.5, 3026.2),
    ("M42", 3120.2, 4168.3),
    ("M48", 4119.5, 5482.0),
    ("M56", 5680.3, 7510.2),
    ("M64", 7483.6, 9847.3),
]


@pytest.mark.parametrize(("text", "bolt", "nut"), STRIP_AREAS)
def test_least_strip_areas_lie_in_the_band(text: str, bolt: float, nut: float) -> None:
    thread = read_thread(text)
    basic_bolt, basic_hole = bolt_area(thread, thread.diameter), hole_area(thread, thread.diameter)
    assert basic_bolt is not None
    assert basic_hole is not None
    assert LOOSE * basic_bolt <= bolt <= 0.88 * basic_bolt
    assert LOOSE * basic_hole <= nut <= 0.88 * basic_hole
