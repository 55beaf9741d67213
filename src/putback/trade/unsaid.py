"""Words that no mechanic says, in Britain or in America: carried over from other languages, or from a parts list."""

from __future__ import annotations

from typing import NamedTuple


class Unsaid(NamedTuple):
    """A wording, and how the trade says it."""

    words: str
    """An example of it."""
    keys: str
    """Words of which one stands in every text with it, in small letters; found fast."""
    pattern: str
    """It; the words that are exchanged are its group `it`, or all of it."""
    uk: str
    """How the trade says it; `{n}` is the number in it, its group `n` or `m`."""
    us: str = ""
    """How the American trade says it, where that is another word."""
    unless: str = ""
    """A pattern of texts in which it is right."""


_GRIT = r"\bgrain(?: size)? (?P<n>[1-9][0-9]{1,3})\b|\b(?P<m>[1-9][0-9]{1,3})[- ]grain\b(?! of)"
_PIECES = r"\b(?:bolts?|nuts?|screws?|studs?|plugs?|unions?|threads?|fittings?|fasteners?|caps?)\b"
_GAP = r"(?:(?!\b(?:leads?|wires?|cables?|hoses?|belts?|pipes?)\b)[^.;:!?]){0,60}"
_WATER = r"(?:the |its |sea |raw |fresh |salt )*water\b(?! pump|[- ]\w*(?:proof|resist))"

UNSAID: tuple[Unsaid, ...] = (
    Unsaid("600 1/min", "min", r"(?<![\d/])1/min\b", "rpm"),
    Unsaid("emery cloth of grain 400", "grain", _GRIT, "{n} grit", unless=r"\b(?:wheel|stone|disc|disk)s?\b"),
    Unsaid("a bolt that is crossed", "crossed", rf"{_PIECES}{_GAP}\b(?P<it>crossed)\b(?! over| out)", "cross-threaded"),
    Unsaid("a crossed thread", "crossed", r"\bcrossed thread\b", "cross-threading"),
    Unsaid("greased by water", "greased", rf"\b(?P<it>greased) (?:by|with) {_WATER}", "lubricated"),
    Unsaid(
        "a valve that hung",
        "hung",
        r"\bvalves? (?:that |which |has |have )?(?P<it>hung)\b(?! open| up| on| from| over)",
        "stuck",
    ),
    Unsaid("rope starter", "rope reel pull cord", r"\b(?:rope|reel|pull[- ]rope|cord)[- ]starter\b", "recoil starter"),
    Unsaid("thread glue", "glue", r"\b(?:thread|screw|locking|bolt)[- ]glue\b", "thread-locker"),
    Unsaid("tightening moment", "moment", r"\b(?:tightening|fastening|torsion(?:al)?) moment\b", "torque"),
    Unsaid("moment wrench", "moment", r"\bmoment (?:wrench|key|spanner)\b", "torque wrench"),
    Unsaid("torque key", "key", r"\b(?:torque|dynamometric) key\b", "torque wrench"),
    Unsaid("inbus key", "inbus", r"\binbus key\b", "hex key"),
    Unsaid("inbus screw", "inbus", r"\binbus(?: (?:bolt|screw))?(?! key)\b", "socket-head screw"),
    Unsaid("simmer ring", "simmer simmerring", r"\bsimmer[- ]?ring\b", "oil seal"),
    Unsaid("glow candle", "candle", r"\bglow candle\b", "glow plug"),
    Unsaid("ignition candle", "candle", r"\b(?:ignition|spark) candle\b", "spark plug"),
    Unsaid(
        "upper dead point",
        "dead",
        r"\bupper dead (?:cent(?:re|er)|point)\b|\btop dead point\b",
        "top dead centre",
        "top dead center",
    ),
    Unsaid(
        "lower dead point",
        "dead",
        r"\blower dead (?:cent(?:re|er)|point)\b|\bbottom dead point\b",
        "bottom dead centre",
        "bottom dead center",
    ),
    Unsaid("counter nut", "contra counter contranut counternut", r"\b(?:contra|counter)[- ]?nut\b", "lock nut"),
    Unsaid("amperemeter", "amper ampere amp amperemeter ampermeter", r"\bamp[eè]re?[- ]?meter\b", "ammeter"),
    Unsaid("propellor", "propellor", r"\bpropellor\b", "propeller"),
    Unsaid("propellors", "propellors", r"\bpropellors\b", "propellers"),
    Unsaid("cooling liquid", "liquid", r"\bcooling liquid\b", "coolant"),
    Unsaid("exhaust pot", "pot", r"\bexhaust pot\b", "silencer", "muffler"),
    Unsaid("sucking side", "sucking", r"\bsucking(?= (?:valve|pipe|stroke|side|port))", "suction"),
    Unsaid(
        "isolating tape",
        "isolating isolation",
        r"\b(?:isolating|isolation) tape\b",
        "insulating tape",
        "electrical tape",
    ),
    Unsaid("hand-fast", "fast", r"\bhand[- ]fast\b", "hand-tight"),
    Unsaid("mass cable", "mass", r"\bmass (?:cable|strap)\b", "earth cable", "ground cable"),
    Unsaid("revolution number", "turning revolution rotation", r"\b(?:turning|revolution|rotation) number\b", "speed"),
)
