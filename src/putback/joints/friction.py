"""Thread conditions, and how much of a torque they turn into preload.

The nut factor K of T = K·d·F gathers all friction, under the head and in the thread. It is known as a band only. The
bands are wide on purpose: a torque is called unlikely when no thread of its condition could explain it.

Sources: [E] a fastener distributor's engineering data (read: steel dry 0.18–0.27, machine oil 0.10–0.26, cadmium
0.15–0.19, phosphate and oil 0.15–0.22, zinc 0.17–0.35, 302 stainless on itself 0.30–0.50). [M] a bolt maker's table
(read: as received 0.20–0.25, zinc with light oil 0.18–0.22, black oxide oiled 0.15–0.18, lubricated stainless
0.14–0.18, wax or PTFE 0.10–0.14). [F] FAA AC 43.13-1B table 7-1, oil-free cadmium (computed from what it prints:
0.12–0.24). [V] the friction classes of VDI 2230 (read in two copies): A 0.04–0.10, wax and pastes of solid lubricant; B
0.08–0.16, the same, greases and oils; C 0.14–0.24, lightly oiled, adhesive, stainless with paste; D 0.20–0.35,
stainless with oil. By its formula K = 0.159·P/d + 0.577·μ·d2/d + μ·DK/(2·d) these are, for an M8 hexagon bolt,
nut factors of 0.07–0.14, 0.12–0.21, 0.19–0.30 and 0.26–0.43. [T] a sheet of nut factors (read: thread-locker on steel
0.14). [A] an aircraft parts page (read: anti-seize with moly 0.11). [Z] the friction window that makers of zinc flake
coatings and of cars agree on, 0.09–0.14 (read in trade pages), which by the same formula gives 0.13–0.19; without a
lubricant in the coating [E] has 0.16–0.32. Sealant: common practice, no source read.
"""

from __future__ import annotations

import re
from enum import StrEnum
from typing import NamedTuple

from putback.joints import JointError


class ConditionError(JointError):
    """A text that names no thread condition. Its message is fit for the author."""


class Film(StrEnum):
    """What lies between the threads."""

    DRY = "dry"
    OILED = "oiled"
    GREASED = "greased"
    WAXED = "waxed"
    ANTI_SEIZE = "anti-seize"
    MOLY = "MoS2"
    AS_RECEIVED = "as received"
    THREAD_LOCKER = "thread-locker"
    SEALANT = "sealant"


class Finish(StrEnum):
    """What a steel thread is coated with."""

    ZINC = "zinc"
    ZINC_FLAKE = "zinc flake"
    PLATED = "plated"
    CADMIUM = "cadmium"
    PHOSPHATE = "phosphate"
    BLACK_OXIDE = "black oxide"


class Band(NamedTuple):
    """The nut factors that a condition can have, without unit."""

    low: float
    high: float


class Condition(NamedTuple):
    """The state of a thread while it is tightened."""

    film: Film | None
    """None when it is not stated."""
    finish: Finish | None = None
    """None when it is plain, or not stated."""

    def __str__(self) -> str:
        return ", ".join(part.value for part in (self.finish, self.film) if part) or "not stated"


NOT_STATED = Condition(None)
"""Nothing is said of the thread."""

_FILMS: dict[Film | None, Band] = {
    Film.DRY: Band(0.17, 0.30),  # [E] 0.18–0.27, [M] 0.20–0.25; a little wider for plated pieces called dry
    Film.OILED: Band(0.10, 0.26),  # [E]
    Film.GREASED: Band(0.11, 0.19),  # [V] class B up to a friction of 0.14, which gives 0.19; with moly as [A]
    Film.WAXED: Band(0.07, 0.21),  # [M] 0.10–0.14, [V] classes A and B
    Film.ANTI_SEIZE: Band(0.07, 0.21),  # [A] 0.11, [V] classes A and B
    Film.MOLY: Band(0.07, 0.17),  # [A] 0.11, [V] class A, and B up to a friction of 0.12
    Film.AS_RECEIVED: Band(0.15, 0.30),  # [M] 0.20–0.25; with the oil of the works on it, less
    Film.THREAD_LOCKER: Band(0.14, 0.30),  # [T] 0.14, [V] class C
    Film.SEALANT: Band(0.14, 0.28),
    None: Band(0.12, 0.30),  # from greased to dry; published tables without a condition need no more
}
_FINISHES: dict[tuple[Finish, bool], Band] = {  # by finish, and whether a film lubricates it
    (Finish.ZINC, False): Band(0.17, 0.35),  # [E]
    (Finish.ZINC, True): Band(0.10, 0.22),  # [M] 0.18–0.22 with light oil
    (Finish.ZINC_FLAKE, False): Band(0.12, 0.20),  # [Z] 0.13–0.19; a lubricant is in the coating
    (Finish.ZINC_FLAKE, True): Band(0.10, 0.19),
    (Finish.PLATED, False): Band(0.12, 0.35),  # zinc or cadmium
    (Finish.PLATED, True): Band(0.10, 0.22),
    (Finish.CADMIUM, False): Band(0.12, 0.24),  # [E] 0.15–0.19, [F] 0.12–0.24
    (Finish.CADMIUM, True): Band(0.10, 0.19),
    (Finish.PHOSPHATE, False): Band(0.17, 0.30),
    (Finish.PHOSPHATE, True): Band(0.12, 0.22),  # [E] 0.15–0.22, [V] class B
    (Finish.BLACK_OXIDE, False): Band(0.17, 0.30),
    (Finish.BLACK_OXIDE, True): Band(0.12, 0.21),  # [M] 0.15–0.18, [V] class B
}
_STAINLESS: dict[Film, Band] = {
    Film.DRY: Band(0.18, 0.50),  # [E] 0.30–0.50 on itself; in another metal as steel
    Film.OILED: Band(0.11, 0.43),  # [M] 0.14–0.18, [V] class D
    Film.GREASED: Band(0.11, 0.30),  # [M] 0.14–0.18, [V] classes B and C
    Film.WAXED: Band(0.11, 0.30),
    Film.ANTI_SEIZE: Band(0.11, 0.30),
    Film.MOLY: Band(0.09, 0.26),  # [V] classes A to C
}

LUBRICATED = frozenset({Film.OILED, Film.GREASED, Film.WAXED, Film.ANTI_SEIZE, Film.MOLY})
"""Films that are there to lower friction."""
_SLIPPERY = (Film.WAXED, Film.ANTI_SEIZE, Film.MOLY)
"""Films that lower friction more than any finish of the thread raises it."""
WET = LUBRICATED | {Film.THREAD_LOCKER, Film.SEALANT}
"""Films that a torque for dry threads does not allow for."""


def nut_factors(condition: Condition, *, stainless: bool = False) -> Band:
    """Return the band of nut factors of a condition; `stainless` for an austenitic bolt."""
    film, finish = condition
    if stainless and film is None:
        return Band(_STAINLESS[Film.GREASED].low, _STAINLESS[Film.DRY].high)
    if stainless and film in _STAINLESS:
        return _STAINLESS[film]
    if finish is not None and film in (None, Film.DRY, Film.AS_RECEIVED, *LUBRICATED):
        band = _FINISHES[finish, film in LUBRICATED]
        return Band(min(band.low, _FILMS[film].low), band.high) if film in _SLIPPERY else band
    return _FILMS[film]


_FILM_WORDS: tuple[tuple[str, Film], ...] = (
    (r"as[\s-]+(received|delivered|supplied)|untreated", Film.AS_RECEIVED),
    (
        r"(?:(?:dry|greased?|oil(?:ed)?|paste|lubrica\w*|coated)[\s-]+(?:film[\s-]+)?(?:with[\s-]+)?)?"
        r"(?:moly\w*|mos\s?[2₂])(?:[\s-]*(?:di)?sul(?:f|ph)ide)?"
        r"(?:[\s-]*(?:grease\w*|paste|oil\w*|lubrica\w*|coat\w*))?",
        Film.MOLY,
    ),
    (r"(un|not |no |without )(lubricat\w*|lubricant|oil\w*|greas\w*)|dry|degreased|oil-free", Film.DRY),
    (r"anti-?\s?seize|copper (paste|grease)|assembly paste", Film.ANTI_SEIZE),
    (r"thread-?\s?lock\w*|locking (compound|fluid)", Film.THREAD_LOCKER),
    (r"seal(ant|er|ing compound)|thread sealed", Film.SEALANT),
    (r"wax\w*|ptfe", Film.WAXED),
    (r"greas\w*|petroleum jelly", Film.GREASED),
    (r"oil\w*|lubricat\w*", Film.OILED),
)
_FINISH_WORDS = (
    (r"zinc[\s-]*(?:and[\s-]*alumini?um[\s-]*)?flakes?|flake zinc|zinc lamell\w*", Finish.ZINC_FLAKE),
    (r"zinc\w*|galvani[sz]ed", Finish.ZINC),
    (r"cadmium\w*", Finish.CADMIUM),
    (r"phosphat\w*", Finish.PHOSPHATE),
    (r"black(ened| oxide)?", Finish.BLACK_OXIDE),
    (r"plated|electroplated", Finish.PLATED),
)
_KNOWN = f"one of {', '.join(Film)}, with or without {', '.join(Finish)}"


def read_condition(text: str) -> Condition:
    """Return the thread condition that a text names: `clean and dry`, `lightly oiled`, `zinc, dry`.

    Raises ConditionError when it names none, or two that exclude each other.
    """
    left, films = text[:200].lower(), []
    for pattern, film in _FILM_WORDS:
        left, found = re.subn(rf"(?<![\w-])(?:{pattern})(?![\w])", " ", left)
        if found:
            films.append(film)
    finish = next((name for words, name in _FINISH_WORDS if re.search(rf"\b(?:{words})\b", left)), None)
    if len(films) > 1:
        raise ConditionError(f"'{text}' names two thread conditions: {films[0]} and {films[1]}", f"name {_KNOWN}")
    if not films and finish is None:
        raise ConditionError(f"'{text}' is not a known thread condition", f"name {_KNOWN}")
    return Condition(films[0] if films else None, finish)
