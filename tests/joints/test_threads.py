"""Threads as people write them."""

from __future__ import annotations

import time
from contextlib import suppress
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from putback.joints.thread_sizes import FORMER, METRIC, NO_COARSE, NPT, PARALLEL_ONLY, PIPE, UNIFIED
from putback.joints.threads import Series, Thread, ThreadError, ThreadSystem, read_thread

SPELLINGS = {
    "M6 × 1": [
        "M6", "m6", "M 6", "M6x1", "M6 x 1.0", "M6 × 1,0", "M6*1", "M6 X 1", "M6 x 1.0 mm", "M6-1", "M6 - 6g",
        "M6x1-6g", "M6x1-4g6g", "M6 6H/6g", "M6 coarse", "M6 x 1, coarse", "M6 RH", "M6 x 1.0 right-hand thread",
        " M6\u00a0x\u202f1 ",
    ],
    "M8 × 1": ["M8x1", "M8 x 1.0", "M8x1 fine"],
    "M8 × 1.25": ["M8", "M8x1.25-6g", "M8-1.25", "M8 x 1,25"],
    "M10 × 1.25 LH": ["M10 x 1.25 LH", "M10x1.25-LH", "M10 x 1.25 left hand", "M10 x 1.25, left-handed thread"],
    "M6 × 0.5": ["M6 x 0.5"],
    "M26 × 1": ["M26 x 1"],
    "M41 × 1.5": ["M41 x 1.5"],
    "M70 × 2": ["M70 x 2"],
    "1 5/8-12 UN": ["1 5/8-12"],
    "2 1/2-12 UN": ["2 1/2-12 UN"],
    "9/16-20 UNS": ["9/16-20"],
    "#2-56 UNC": ["2-56"],
    "M2.6 × 0.45": ["M2.6", "M2,6 x 0,45"],
    "1/4-20 UNC": [
        "1/4-20", '1/4"-20 UNC', "¼-20 UNC-2A", "1/4 - 20", "0.250-20", ".250-20", "1/4-20UNC", "1/4 UNC", "1/4-20 NC",
        "1/4–20 UNC 2B", "1/4 20 UNC", "1/4-20 TPI", "1/4 in-20", "1/4-20 (2A)", "1/4″-20",
    ],
    "#10-32 UNF": ["#10-32", "No. 10-32", "no 10-32", "10-32 UNF", "10-32", "10-32 NF-2A", "0.190-32"],
    "#8-36 UNF": ["8-36", "#8-36 UNF"],
    "#1-64 UNC": ["1-64", "#1-64"],
    "#12-32 UNEF": ["12-32", "#12-32 NEF"],
    "1 1/8-7 UNC": ["1 1/8-7", "1-1/8-7", "1⅛-7", "1.125-7", '1 1/8" - 7 UNC'],
    "1-8 UNC": ["1-8", '1"-8', "1 in-8 UNC"],
    "1-12 UNF": ["1-12", "1-12 UNF"],
    "1-14 UNS": ["1-14", "1-14 UNS", "1-14 NS"],
    "1 1/16-12 UN": ["1 1/16-12", "1 1/16-12 UN", "1 1/16-12 12-UN"],
    "1 1/8-8 UN": ["1 1/8-8", "1 1/8-8 8UN"],
    "1/4-24 UNS": ["1/4-24 UNS"],
    "1/4-20 UNC LH": ["1/4-20 LH", "1/4-20 UNC-2A LH"],
    "G 1/8": ["G 1/8", "G1/8", "g 1/8", "G1/8A", "G 1/8 B", "BSP 1/8", "1/8 BSPP", "G⅛", "PF 1/8", "G 1/8-28"],
    "G 1 1/4": ["G 1 1/4", "G 1-1/4", "G1¼"],
    "R 1/4": ["R 1/4", "R1/4", "1/4 BSPT", "BSPT 1/4", "PT 1/4"],
    "Rp 1/4": ["Rp 1/4", "RP1/4"],
    "Rc 1/8": ["Rc 1/8", 'Rc 1/8"'],
    "1/4-18 NPT": ["1/4 NPT", "NPT 1/4", "1/4-18 NPT", '1/4" NPT', "¼ NPT"],
    "1-11.5 NPT": ["1 NPT", "1-11.5 NPT", "1-11 1/2 NPT", "1-11½ NPT"],
    "1/8-27 NPTF": ["1/8-27 NPTF", "1/8 NPTF"],
}  # fmt: skip


@pytest.mark.parametrize(("name", "text"), [(name, text) for name, texts in SPELLINGS.items() for text in texts])
def test_spellings(name: str, text: str) -> None:
    assert read_thread(text).designation == name


def test_a_thread_knows_its_sizes() -> None:
    assert read_thread(" M10  x 1.25 LH") == Thread(
        "other words", ThreadSystem.METRIC, 10, 1.25, "M10 × 1.25 LH", Series.FINE, left_hand=True
    )
    assert read_thread(" M6  x 1.0 ").text == "M6 x 1.0"
    inch = read_thread("1/4-20")
    assert (inch.system, inch.series, inch.left_hand) == (ThreadSystem.UNIFIED, Series.COARSE, False)
    assert (inch.diameter, inch.pitch) == pytest.approx((6.35, 1.27))
    pipe = read_thread("Rc 1/4")
    assert (pipe.system, pipe.series, pipe.taper) == (ThreadSystem.PIPE, Series.RC, True)
    assert (pipe.diameter, pipe.pitch) == pytest.approx((13.157, 25.4 / 19))
    assert (pipe.stress_area, pipe.pitch_diameter, pipe.minor_diameter) == (None, None, None)


def test_which_pipe_threads_taper() -> None:
    taper = {"R 1/4": True, "Rc 1/4": True, "1/4 NPT": True, "1/4 NPTF": True, "G 1/4": False, "Rp 1/4": False}
    assert {text: read_thread(text).taper for text in taper} == taper
    assert not read_thread("M10").taper


KNOWN = "write it as M6, M8 x 1, 1/4-20 UNC, #10-32, G 1/8, R 1/4 or 1/4 NPT; others by name: self-tapping"
QUARTER = "1/4 in has 20 (UNC), 28 (UNF) and 32 (UNEF); a pipe thread is G 1/4, R 1/4 or 1/4 NPT"
ERRORS = [
    ("M6 x 1.2", "M6 has no pitch 1.2", "M6 has the pitches 1 (coarse), 0.75 and 0.5"),
    ("M26 x 1.25", "M26 has no pitch 1.25", "M26 has the pitch 1.5"),
    ("M2.6 x 0.5", "M2.6 has no pitch 0.5", "M2.6 has the pitch 0.45"),
    ("M13", "M13 is not a thread of ISO 261 from M1 to M64", "near it: M12 and M14"),
    ("M13 x 30", "M13 is not a thread of ISO 261 from M1 to M64", "near it: M12 and M14"),
    ("M72", "M72 is not a thread of ISO 261 from M1 to M64", "if it is a special one, add its pitch: M72 x 1.5"),
    ("M0", "M0 is not a thread of ISO 261 from M1 to M64", "near it: M1"),
    ("M15", "'M15' needs its pitch: M15 has no coarse pitch", "M15 has the pitches 1.5 and 1"),
    (
        "M8 fine", "'M8 fine' needs its pitch: M8 may have more than one fine pitch",
        "M8 has the pitches 1.25 (coarse), 1 and 0.75",
    ),
    ("M8x1 coarse", "'M8x1 coarse' is not coarse", "M8 has the pitches 1.25 (coarse), 1 and 0.75"),
    ("M6x1x30", "'M6x1x30' gives a length", "put it into 'length': 30 mm"),
    ("M6 x 30", "'M6 x 30' gives a length", "put it into 'length': 30 mm"),
    ("M8 x 1.25 x 17,5 mm", "'M8 x 1.25 x 17,5 mm' gives a length", "put it into 'length': 17.5 mm"),
    ("1/4-28 UNC", "1/4-28 is UNF, not UNC", QUARTER),
    ("1/4-20 UNS", "1/4-20 is UNC, not UNS", QUARTER),
    ("1/4-24", "1/4 in has no 24 threads per inch", f"{QUARTER}; a special one is written 1/4-24 UNS"),
    ("1/4", "'1/4' does not say how many threads per inch", QUARTER),
    ("1/4 UNS", "'1/4 UNS' does not say how many threads per inch", QUARTER),
    (
        "5/16 in", "'5/16 in' does not say how many threads per inch", "5/16 in has 18 (UNC), 24 (UNF) and 32 (UNEF)",
    ),
    ("#10", "'#10' does not say how many threads per inch", "#10 has 24 (UNC) and 32 (UNF)"),
    (
        "#10-28", "#10 has no 28 threads per inch",
        "#10 has 24 (UNC) and 32 (UNF); a special one is written #10-28 UNS",
    ),
    (
        "1-32", "1 in has no 32 threads per inch",
        "1 in has 8 (UNC), 12 (UNF), 20 (UNEF), 16 (16-UN) and 14 (UNS); #1 has 64 (UNC) and 72 (UNF); "
        "a pipe thread is G 1, R 1 or 1 NPT; a special one is written 1-32 UNS",
    ),
    ("#7-32", "'#7-32' has no size of the Unified threads", "the sizes are #0 to #12 and 1/4 to 3 in"),
    ("1/0-20", "'1/0-20' has no size of the Unified threads", "the sizes are #0 to #12 and 1/4 to 3 in"),
    ("0.260-20", "'0.260-20' has no size of the Unified threads", "the sizes are #0 to #12 and 1/4 to 3 in"),
    ("1/4-20 x 1 1/2", "'1/4-20 x 1 1/2' gives a length", "put it into 'length'"),
    ("R 5/8", "R has no size 5/8", "R has the sizes 1/16, 1/8, 1/4, 3/8, 1/2, 3/4, 1, 1 1/4, 1 1/2 and 2"),
    ("1/4-19 NPT", "NPT 1/4 has no 19 threads per inch", "it has 18"),
    ("G 1/4 NPT", "'G 1/4 NPT' names two kinds of pipe thread", KNOWN),
    ("wood screw", "'wood screw' is not a known thread", KNOWN),
]  # fmt: skip


@pytest.mark.parametrize(("text", "message", "hint"), ERRORS)
def test_errors(text: str, message: str, hint: str) -> None:
    with pytest.raises(ThreadError) as caught:
        read_thread(text)
    assert (str(caught.value), caught.value.hint) == (message, hint)


HOSTILE = [
    "", "   ", "\n", "M", "x", "#", "-", "M6 x", "#-32", "No", "UNC", "LH", "NPT", "nan", "M NaN", "M inf", "M1e9 x 1",
    "M٦", "M６", "M-6", "M6 x -1", "1/4-٢٠", "0/0-20", "1/00-20", "¼½-20", "M6\x00", "M6; M8", "M" + "9" * 79,
    "1/4-20" * 5000, "- " * 39, "1 " * 39, "1/" * 39, "M6" + " " * 100_000 + "x 1", "[0-9]{1,", "M6 x 1 x 1 x 1",
]  # fmt: skip


@pytest.mark.parametrize("text", HOSTILE)
def test_hostile_text_is_refused_at_once(text: str) -> None:
    begun = time.perf_counter()
    with pytest.raises(ThreadError) as caught:
        read_thread(text)
    assert time.perf_counter() - begun < 0.2
    assert len(str(caught.value)) < 150
    assert caught.value.hint


@given(st.text(max_size=90) | st.text("M#xRGpcNPTUFS0123456789/.,- \"'", max_size=30))
@example("1 1/0-20")
def test_any_text_is_a_thread_or_an_error(text: str) -> None:
    with suppress(ThreadError):
        thread = read_thread(text)
        assert read_thread(thread.designation) == thread


def _mixed(size: Fraction) -> str:
    whole, part = divmod(size, 1)
    return " ".join(str(piece) for piece in (whole, part) if piece)


LISTED = [
    *(f"M{d:g} x {p:g}" for d, pitches in METRIC.items() for p in pitches),
    *(f"M{d:g}" for d in [*METRIC, *FORMER] if d not in NO_COARSE),
    *(f"{float(size):.4f}-{n}" for rows in UNIFIED.values() for size, n in rows.items()),
    *(f"{_mixed(size)}-{n}" for rows in UNIFIED.values() for size, n in rows.items() if size.denominator <= 16),
    *(f"G {size}" for size in PIPE),
    *(f"{kind} {size}" for kind in ("R", "Rp", "Rc") for size in PIPE if size not in PARALLEL_ONLY),
    *(f"{size} {kind}" for kind in ("NPT", "NPTF") for size in NPT),
]


@given(st.sampled_from(LISTED), st.sampled_from(["", " LH"]))
def test_a_designation_reads_back_as_the_same_thread(text: str, hand: str) -> None:
    thread = read_thread(text + hand)
    assert read_thread(thread.designation) == thread
    assert thread.left_hand == bool(hand)


@pytest.mark.parametrize("text", LISTED)
def test_every_listed_thread_is_read(text: str) -> None:
    thread = read_thread(text)
    assert 0 < thread.pitch < thread.diameter / 3
    if thread.system is not ThreadSystem.PIPE:
        assert thread.minor_diameter is not None
        assert thread.pitch_diameter is not None
        assert thread.minor_diameter < thread.pitch_diameter < thread.diameter
