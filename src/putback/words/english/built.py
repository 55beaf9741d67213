"""How a machine is built, in English: `with a long shaft`, `without a heater`, `with belt drive`.

An option and its choice become words when it is certain how they go together. What is not certain stays as the author
wrote it, and as the table of options shows it: `with pump size: 2B`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from putback.words.english.verbs import each_of

_FITTED = frozenset(("fitted", "yes", "present", "installed"))
_NOT_FITTED = frozenset(("none", "no", "absent", "not fitted", "without", "missing"))
_KINDS = each_of(
    "short long small large big narrow wide thick thin high low tall deep shallow left right front rear upper lower"
    " inner outer single double twin triple dual early late old new plain electric electronic mechanical manual"
    " hydraulic pneumatic automatic digital analog analogue magnetic vertical horizontal round square flat straight"
    " curved light heavy left-hand right-hand two-stroke four-stroke two-blade three-blade four-blade air-cooled"
    " water-cooled belt-driven gear-driven chain-driven"
)
"""Choices that say of what kind the option is: a `long` shaft."""
_WAYS = each_of(
    "drive start starting cooling ignition stop shutoff shut-off steering suspension transmission lubrication"
    " injection feed braking lighting charging"
)
"""Options that a choice goes before as a noun, without an article: `belt drive`, `raw-water cooling`."""
_DRIVERS = each_of("belt gear chain shaft motor cable engine")
"""What drives a `pump` whose option is its `pump drive`."""
_PIECES = each_of(
    "motor engine hopper shaft pump tank blade gearbox clutch brake starter propeller impeller wheel housing"
    " cover guard filter valve belt pulley bearing seal hose nozzle deck handle frame boiler burner compressor fan"
)
"""Options that are pieces of a machine: a choice of one word goes before them: a `gas` engine, a `keyed` shaft."""
_PLAIN_WORD = re.compile(r"[a-z]{3,}(?:-[a-z]+)*")
_COUNTED = each_of("one two three four five six seven eight nine ten")


def built_so(clauses: Sequence[tuple[str, Sequence[str]]]) -> str:
    """Return how a machine is built, by options with their choices: `with two cylinders and belt drive`."""
    between = ", and " if any(len(choices) > 1 for _, choices in clauses) else " and "
    told = [built(option, choices) for option, choices in clauses]
    return between.join(
        words.removeprefix("with ") if index and told[index - 1].startswith("with ") else words
        for index, words in enumerate(told)
    )


def built(option: str, choices: Sequence[str]) -> str:
    """Return how a machine is built whose option is one of several choices, with `with` or `without` in front."""
    if len(choices) == 1 and choices[0].lower() in _FITTED:
        return f"with {_an(option)}"
    if len(choices) == 1 and choices[0].lower() in _NOT_FITTED:
        return f"without {_an(option)}"
    way = (option.lower() in _WAYS or option.split()[-1] in ("shutoff", "shut-off")) and all(
        re.fullmatch(r"[a-z][a-z ]*", each) for each in choices
    )
    if way and not any(choice in _FITTED | _NOT_FITTED for choice in choices):
        return f"with {' or '.join(choice.replace(' ', '-') for choice in choices)} {option}"
    piece = option.lower().split()[-1] in _PIECES and all(map(_PLAIN_WORD.fullmatch, choices))
    if piece or all(choice in _KINDS for choice in choices):
        return f"with {_an(f'{_or(choices)} {option}')}"
    if all(choice in _COUNTED for choice in choices) and option.endswith("s"):
        counted = option.removesuffix("s") if list(choices) == ["one"] else option
        return f"with {_or(choices)} {counted}"
    driven, _, drive = option.rpartition(" ")
    if driven and drive == "drive" and all(choice in _DRIVERS for choice in choices):
        by = _or([f"{choice}-driven" for choice in choices])
        return f"with {_an(f'{by} {driven}')}"
    return f"with {option}: {_or(choices)}"


def _or(words: Sequence[str]) -> str:
    *others, last = words
    return f"{', '.join(others)} or {last}" if others else last


def _an(words: str) -> str:
    """Return words with an article; what is in the plural, or is no piece, has none."""
    last = words.split()[-1]
    if (last.endswith("s") and not last.endswith(("ss", "us", "is"))) or last.endswith("ing") or last in _WAYS:
        return words
    vowel = words[0].lower() in "aeiou" and not words.startswith(("uni", "use"))
    return f"{'an' if vowel or words.startswith('hour') else 'a'} {words}"
