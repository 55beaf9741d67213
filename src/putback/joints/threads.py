"""Threads as people write them: metric, Unified and pipe threads by their names.

`read_thread` reads; a `Thread` knows its sizes. The sizes that exist are in `thread_sizes`.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from putback.joints import JointError
from putback.joints.hands import without_hand
from putback.joints.thread_sizes import (
    FORMER,
    INCH,
    LARGE_PITCHES,
    METRIC,
    NO_COARSE,
    NPT,
    NUMBERS,
    PARALLEL_ONLY,
    PIPE,
    UNIFIED,
    inches,
    is_large,
    mixed,
    named_size,
    pitches,
)  # fmt: skip
from putback.source.late import Late
from putback.units import digits


class ThreadError(JointError):
    """A text that names no thread. Its message is fit for the author."""


class ThreadSystem(StrEnum):
    """The family of standards that a thread belongs to."""

    METRIC = "metric"
    UNIFIED = "unified"
    PIPE = "pipe"


class Series(StrEnum):
    """Which of the threads of one diameter it is."""

    COARSE = "coarse"
    FINE = "fine"
    EXTRA_FINE = "extra fine"
    CONSTANT = "constant pitch"
    SPECIAL = "special"
    G = "G"
    R = "R"
    RP = "Rp"
    RC = "Rc"
    NPT = "NPT"
    NPTF = "NPTF"


@dataclass(frozen=True, slots=True)
class Thread:
    """One thread. Two are equal when they are the same, however written."""

    text: str = field(compare=False)
    """As the author wrote it, with single spaces."""
    system: ThreadSystem
    """Metric, Unified or pipe."""
    diameter: float
    """Nominal major diameter, mm; of a pipe thread at the gauge plane, of NPT the outside of the pipe."""
    pitch: float
    """From thread to thread, mm."""
    designation: str
    """The name that everybody understands: M6 × 1, 1/4-20 UNC, G 1/8."""
    series: Series
    """Coarse, fine and so on, or the kind of pipe thread."""
    left_hand: bool = False
    """Whether it tightens anticlockwise."""

    @property
    def taper(self) -> bool:
        """Whether it narrows along its length, and so seals or jams by itself."""
        return self.series in (Series.R, Series.RC, Series.NPT, Series.NPTF)

    @property
    def stress_area(self) -> float | None:
        """Tensile stress area, mm²; None for pipe threads, which no bolt has.

        Metric: ISO 898-1, π/4·(d − 0.938194·P)². Unified: ASME B1.1, π/4·(D − 0.9743/n)².
        """
        if self.system is ThreadSystem.PIPE:
            return None
        factor = 0.938194 if self.system is ThreadSystem.METRIC else 0.9743
        return math.pi / 4 * (self.diameter - factor * self.pitch) ** 2

    @property
    def pitch_diameter(self) -> float | None:
        """Basic pitch diameter of a 60° thread, mm: d − 0.649519·P (ISO 724, ASME B1.1); None for pipe threads."""
        return None if self.system is ThreadSystem.PIPE else self.diameter - 0.649519 * self.pitch

    @property
    def minor_diameter(self) -> float | None:
        """Basic minor diameter of the internal thread, mm: d − 1.082532·P (ISO 724, ASME B1.1); None for pipe."""
        return None if self.system is ThreadSystem.PIPE else self.diameter - 1.082532 * self.pitch


_LONGEST = 80
_KNOWN = "write it as M6, M8 x 1, 1/4-20 UNC, #10-32, G 1/8, R 1/4 or 1/4 NPT; others by name: self-tapping"
_CHARS = str.maketrans(dict.fromkeys("‐‑–—−", "-") | dict.fromkeys("×✕⨯*", "x") | dict.fromkeys("″”“", '"'))
_FRACTIONS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}

_N = r"[0-9]{1,3}(?:[.,][0-9]{1,4})?"
_SIZE = r"(?:#|no\.?\s*)?(?:(?:[0-9]{1,2}(?:\s+|\s*-\s*))?[0-9]{1,2}/[0-9]{1,2}|[0-9]{0,2}\.[0-9]{2,4}|[0-9]{1,2})"
_INCH = r"(?:\s*(?:\"|''|inch|in\.?))?"
_METRIC = Late(
    rf"m\s*(?P<d>{_N})(?:\s*[x-]\s*(?P<p>{_N}))?(?:\s*mm)?(?:\s*x\s*(?P<length>{_N})(?:\s*mm)?)?"
    r"(?:\s*-?\s*[3-9][efgh](?:\s*/?\s*[3-9][efgh])?)?(?:[\s,-]*\b(?P<word>coarse|fine))?"
)
_UNIFIED = Late(
    rf"(?P<size>{_SIZE})(?P<inch>{_INCH})(?:(?:\s*-\s*|\s+)(?P<n>[0-9]{{1,2}})(?:\s*tpi)?)?"
    r"(?:[\s-]*(?P<series>(?:8|12|16)?-?un|u?n(?:c|f|ef|s)|n)\b)?(?:[\s-]*\(?[123][ab]\)?)?"
    rf"(?P<length>\s*x\s*{_SIZE}{_INCH})?"
)
_PIPE_NAME = r"g|rp|rc|r|bspp|bspt|bsp|npt|nptf|pt|pf"
_PIPE = Late(
    rf"(?:(?P<before>{_PIPE_NAME})\s*)?(?P<size>{_SIZE}){_INCH}"
    rf"(?:\s*-\s*(?P<n>[0-9]{{1,2}}(?:[.,]5|\s+1/2)?))?(?:[\s-]*(?P<after>{_PIPE_NAME})\b)?(?:\s*[ab])?"
)
_OTHER = Late(
    r"\b(?:bs[wfc]|whitworth|\d{1,2}\s*ba|ba\s*\d{1,2}|tr\s*\d+|trapezoidal|acme|st\s*\d[\d.,]*|self[- ]?tapping|"
    r"self[- ]?cutting|thread[- ](?:forming|cutting)|tapping|wood|sheet[- ]metal|unr\w?|unj\w?|pg\s*\d+|chipboard)\b"
)
_PIPE_SERIES = {
    "g": Series.G, "r": Series.R, "rp": Series.RP, "rc": Series.RC, "npt": Series.NPT, "nptf": Series.NPTF,
    "bspp": Series.G, "bspt": Series.R, "bsp": Series.G, "pf": Series.G, "pt": Series.R,
}  # fmt: skip
"""BSP alone is taken as parallel, as the trade does (common practice); PF and PT are the former JIS names."""
_UNIFIED_SERIES = {
    "UNC": Series.COARSE, "UNF": Series.FINE, "UNEF": Series.EXTRA_FINE, "UNS": Series.SPECIAL,
    "8-UN": Series.CONSTANT, "12-UN": Series.CONSTANT, "16-UN": Series.CONSTANT,
}  # fmt: skip


def read_thread(text: str) -> Thread:
    """Return the thread that a text names.

    A tolerance class (6g, 2A) is read over. Raises ThreadError when the text names no thread that is known.
    """
    said = " ".join(text[: _LONGEST + 1].split())
    if len(text) > _LONGEST:
        raise ThreadError(f"'{said[:30]} …' is too long for a thread", _KNOWN)
    plain = said.translate(_CHARS).lower()
    for sign, fraction in _FRACTIONS.items():
        plain = plain.replace(sign, f" {fraction}")
    plain, left = without_hand(plain)
    if match := _METRIC.fullmatch(plain):
        return _metric(said, match, left=left)
    if (match := _PIPE.fullmatch(plain)) and (match["before"] or match["after"]):
        return _pipe(said, match, left=left)
    if match := _UNIFIED.fullmatch(plain):
        return _unified(said, match, left=left)
    raise ThreadError(f"'{said}' is not a known thread", _KNOWN)


def is_other(text: str) -> bool:
    """Tell whether a text names a kind of thread that is not judged: Whitworth, wood screws; or its hand alone."""
    said = text[:_LONGEST].lower()
    return _OTHER.search(said) is not None or (said.strip() != "" and not without_hand(said)[0])


def _made(said: str, system: ThreadSystem, size: tuple[float, float], name: str, series: Series, left: bool) -> Thread:
    return Thread(said, system, *size, f"{name} LH" if left else name, series, left)


def _and(words: Iterable[str], last: str = "and") -> str:
    *most, end = words
    return f"{', '.join(most)} {last} {end}" if most else end


def _pitches(d: float) -> str:
    """Return the pitches of a diameter in words: 1 (coarse) and 0.75."""
    listed = pitches(d)
    coarse = d in METRIC and d not in NO_COARSE
    words = [f"{digits(p)} (coarse)" if coarse and not index else digits(p) for index, p in enumerate(listed)]
    return f"M{digits(d)} has the {'pitches' if len(words) > 1 else 'pitch'} {_and(words)}"


def _metric(said: str, match: re.Match[str], *, left: bool) -> Thread:
    d, p = float(match["d"].replace(",", ".")), float(match["p"].replace(",", ".")) if match["p"] else None
    if d not in METRIC and d not in FORMER and not (is_large(d) and p):
        near = _and(f"M{digits(s)}" for s in [*[s for s in METRIC if s < d][-1:], *[s for s in METRIC if s > d][:1]])
        hint = f"if it is a special one, add its pitch: M{digits(d)} x 1.5" if is_large(d) else f"near it: {near}"
        raise ThreadError(f"M{digits(d)} is not a thread of ISO 261 from M1 to M64", hint)
    if length := match["length"] or (match["p"] if p is not None and p >= d / 2 else None):
        raise ThreadError(f"'{said}' gives a length", f"put it into 'length': {length.replace(',', '.')} mm")
    listed = pitches(d)
    if p is None and (d in NO_COARSE or match["word"] == "fine"):
        lack = "has no coarse pitch" if d in NO_COARSE else "may have more than one fine pitch"
        raise ThreadError(f"'{said}' needs its pitch: M{digits(d)} {lack}", _pitches(d))
    pitch = listed[0] if p is None else p
    if pitch not in listed and not (is_large(d) and pitch in LARGE_PITCHES):
        raise ThreadError(f"M{digits(d)} has no pitch {digits(pitch)}", _pitches(d))
    series = Series.SPECIAL if d in FORMER or pitch not in listed else Series.FINE
    if d not in NO_COARSE and d in METRIC and pitch == listed[0]:
        series = Series.COARSE
    if match["word"] and match["word"] != series:
        raise ThreadError(f"'{said}' is not {match['word']}", _pitches(d))
    return _made(said, ThreadSystem.METRIC, (d, pitch), f"M{digits(d)} × {digits(pitch)}", series, left)


def _threads(size: Fraction) -> str:
    """Return what the series have for a diameter in words: 20 (UNC), 28 (UNF) and 32 (UNEF)."""
    listed: dict[int, str] = {}
    for name, rows in UNIFIED.items():
        if size in rows:
            listed.setdefault(rows[size], name)
    return _and([f"{n} ({name})" for n, name in listed.items()])


def _diameters(match: re.Match[str]) -> list[Fraction]:
    """Return the listed diameters, in, that a size may mean: 1 is #1 as well as 1 in."""
    written = re.sub(r"no\.?", "#", match["size"])
    if "#" in written:
        found = [size for size, number in NUMBERS.items() if written.lstrip("# ") == str(number)]
    elif "." in written:
        known = {size for rows in UNIFIED.values() for size in rows}
        found = [size for size in known if abs(float(size) - float(written)) < 0.0006]
    else:
        if re.search(r"/0+$", written):
            return []
        value = inches(written.replace("-", " "))
        found = [value] if any(value in rows for rows in UNIFIED.values()) else []
        if value.denominator == 1 and not match["inch"]:
            found += [size for size, number in NUMBERS.items() if number == value]
    return found


def _unified(said: str, match: re.Match[str], *, left: bool) -> Thread:
    if match["length"]:
        raise ThreadError(f"'{said}' gives a length", "put it into 'length'")
    sizes = _diameters(match)
    if not sizes:
        raise ThreadError(f"'{said}' has no size of the Unified threads", "the sizes are #0 to #12 and 1/4 to 3 in")
    given = (match["series"] or "").upper().replace("-", "")
    series = re.sub(r"^(\d*)U?N", lambda m: f"{m[1]}{'-' if m[1] else ''}UN", given)
    n = int(match["n"]) if match["n"] else None
    if n is None:
        found = [(size, UNIFIED[series][size]) for size in sizes if series in UNIFIED and size in UNIFIED[series]]
        if not found or series == "UNS":
            raise ThreadError(f"'{said}' does not say how many threads per inch", _which(sizes))
    else:
        found = [(size, n) for size in sizes if any(rows.get(size) == n for rows in UNIFIED.values())]
        if not found and series == "UNS" and 4 <= n <= 80:
            return _inch(said, sizes[0], n, "UNS", left=left)
    if not found:
        special = f"; a special one is written {mixed(sizes[0])}-{n} UNS" if n and n >= 4 and not series else ""
        raise ThreadError(f"{named_size(sizes[0])} has no {n} threads per inch", f"{_which(sizes)}{special}")
    size, threads = found[0]
    right = next(name for name, rows in UNIFIED.items() if rows.get(size) == threads)
    if series not in ("", right) and not (series == "UN" and right.endswith("-UN")):
        raise ThreadError(f"{mixed(size)}-{threads} is {right}, not {series}", _which([size]))
    return _inch(said, size, threads, right, left=left)


def _which(sizes: list[Fraction]) -> str:
    """Return what there is for some sizes, and, where a pipe may be meant, how that is written."""
    words = "; ".join(f"{named_size(size)} has {_threads(size)}" for size in sizes)
    pipe = mixed(sizes[0])
    return f"{words}; a pipe thread is G {pipe}, R {pipe} or {pipe} NPT" if pipe in NPT else words


def _inch(said: str, size: Fraction, threads: int, series: str, *, left: bool) -> Thread:
    measures = (float(size * Fraction(str(INCH))), INCH / threads)
    name = f"{mixed(size)}-{threads} {'UN' if series.endswith('-UN') else series}"
    return _made(said, ThreadSystem.UNIFIED, measures, name, _UNIFIED_SERIES[series], left)


def _pipe(said: str, match: re.Match[str], *, left: bool) -> Thread:
    before, after = match["before"], match["after"]
    if before and after:
        raise ThreadError(f"'{said}' names two kinds of pipe thread", _KNOWN)
    series = _PIPE_SERIES[before or after]
    size = re.sub(r"(?<=\d)[\s-]+(?=\d)", " ", match["size"])
    american = series in (Series.NPT, Series.NPTF)
    table = NPT if american else PIPE
    sizes = [name for name in table if series is Series.G or name not in PARALLEL_ONLY]
    if size not in sizes:
        raise ThreadError(f"{series} has no size {size}", f"{series} has the sizes {_and(sizes)}")
    diameter, threads = table[size]
    if match["n"]:
        given = float(re.sub(r"\s+1/2", ".5", match["n"]).replace(",", "."))
        if given != threads:
            raise ThreadError(f"{series} {size} has no {digits(given)} threads per inch", f"it has {digits(threads)}")
    name = f"{size}-{digits(threads)} {series}" if american else f"{series} {size}"
    return _made(said, ThreadSystem.PIPE, (diameter, INCH / threads), name, series, left)
