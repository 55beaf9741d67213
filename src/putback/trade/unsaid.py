"""Words that no mechanic says, in Britain or in America: carried over from other languages, or from a parts list."""

from __future__ import annotations

from typing import NamedTuple


class Unsaid(NamedTuple):
    """A wording, and how the trade says it."""

    keys: str
    """Words of which one stands in every text with it, in small letters; found fast."""
    pattern: str
    """It; the words that are exchanged are its group `it`, or all of it."""
    uk: str
    """How the trade says it; `{n}` is the number in it."""
    us: str = ""
    """How the American trade says it, where that is another word."""


_GRIT = r"\bgrain(?: size)? (?P<n>[1-9][0-9]{1,3})\b|\b(?P<m>[1-9][0-9]{1,3})[- ]grain\b(?! of)"
_PIECES = r"(?:bolts?|nuts?|screws?|studs?|plugs?|unions?|threads?|fittings?|fasteners?|caps?)"

UNSAID: tuple[Unsaid, ...] = (
    Unsaid("min", r"(?<![\d/])1/min\b", "rpm"),
    Unsaid(
        "grain", r"\bgrain(?: size)? (?P<n>[1-9][0-9]{1,3})\b|\b(?P<m>[1-9][0-9]{1,3})[- ]grain\b(?! of)", "{n} grit"
    ),
    Unsaid(
        "crossed", rf"\b{_PIECES}\b[^.;:!?]{{0,60}}\b(?P<it>crossed)\b(?! over| out| off| wires?)", "cross-threaded"
    ),
    Unsaid("crossed", r"\bcrossed threads?\b", "cross-threading"),
    Unsaid(
        "greased",
        r"\b(?P<it>greased) (?:by|with) (?:the |its |sea |raw |fresh |salt )*water\b(?! pump|[- ]\w*(?:proof|resist))",
        "lubricated",
    ),
    Unsaid("hung", r"\bvalves? (?:that |which |has |have )?(?P<it>hung)\b(?! open| up| on| from| over)", "stuck"),
    Unsaid("rope reel pull cord", r"\b(?:rope|reel|pull[- ]rope|cord)[- ]starter\b", "recoil starter"),
    Unsaid("glue", r"\b(?:thread|screw|locking|bolt)[- ]glue\b", "thread-locker"),
    Unsaid("moment", r"\b(?:tightening|fastening|torsion(?:al)?) moment\b", "torque"),
    Unsaid("moment", r"\bmoment (?:wrench|key|spanner)\b", "torque wrench"),
    Unsaid("key", r"\b(?:torque|dynamometric) key\b", "torque wrench"),
    Unsaid("width", r"\bkey width\b", "width across flats"),
    Unsaid("inbus", r"\binbus key\b", "hex key"),
    Unsaid("inbus", r"\binbus(?: (?:bolt|screw))?(?! key)\b", "socket-head screw"),
    Unsaid("simmer simmerring simmerrings", r"\bsimmer[- ]?rings?\b", "oil seal"),
    Unsaid("candle", r"\bglow candle\b", "glow plug"),
    Unsaid("candle", r"\b(?:ignition|spark) candle\b", "spark plug"),
    Unsaid("dead", r"\bupper dead (?:cent(?:re|er)|point)\b|\btop dead point\b", "top dead centre", "top dead center"),
    Unsaid("dead", r"\blower dead (?:cent(?:re|er)|point)\b", "bottom dead centre", "bottom dead center"),
    Unsaid("contra counter contranut counternut", r"\b(?:contra|counter)[- ]?nut\b", "lock nut"),
    Unsaid("amper ampere amp amperemeter ampermeter", r"\bamp[eè]re?[- ]?meter\b", "ammeter"),
    Unsaid("propellor", r"\bpropellor\b", "propeller"),
    Unsaid("propellors", r"\bpropellors\b", "propellers"),
    Unsaid("liquid", r"\bcooling liquid\b", "coolant"),
    Unsaid("pot", r"\bexhaust pot\b", "silencer", "muffler"),
    Unsaid("sucking", r"\bsucking (?=valve|pipe|stroke|side|port)", "suction "),
    Unsaid("isolating isolation", r"\b(?:isolating|isolation) tape\b", "insulating tape", "electrical tape"),
    Unsaid("fast", r"\bhand[- ]fast\b", "hand-tight"),
    Unsaid("mass", r"\bmass (?:cable|strap)\b", "earth cable", "ground cable"),
    Unsaid("turning revolution rotation", r"\b(?:turning|revolution|rotation) number\b", "speed"),
)
