"""Words that guides are made of here: names that meet, good values by key, and values that no author should write."""

from __future__ import annotations

from typing import Any

PARTS = ("lid", "housing", "rotor", "gasket", "block")
FASTENERS = ("bolts", "nut", "plug", "clip", "studs")
LINES = ("hose", "cable")
FLUIDS = ("oil",)
CONTROLS = ("valve", "switch", "engine")
OPTIONS = ("shaft", "cooling", "year")
CHOICES = ("short", "long", "x")
EQUIPMENT = ("stand", "pin")
TOOLS = ("wrench", "crowfoot", "socket")
CONSUMABLES = ("grease", "sealer")
HAZARDS = ("hot-oil", "crush")
CAUTIONS = ("hot", "heavy")
BLOCKS = ("open-up", "empty")
STEPS = ("first-look", "again-here")
TAGS = ("hot", "toxic", "heavy")
KITS = ("seal-kit", "overhaul")
SETTINGS = ("gap", "tension")
PLACES = ("corner", "cylinder")
SPOTS = (1, 2, "left", "right")
TAKEN = ("it", "other")
JOBS = ("first", "second")

QUANTITIES: dict[str, tuple[str, ...]] = {
    "mass": ("2.4 kg", "16 kg", "60 kg", "35 lb", "0.2 kg .. 0.4 kg"),
    "rated-load": ("60 kg", "5 kg"),
    "volume": ("300 ml", "4.5 l", "2 US qt", "0.25 l"),
    "torque": (
        "18 N·m",
        "13 lbf·ft",
        "9 N·m ± 1 N·m",
        "20 N·m .. 25 N·m",
        "18 N·m (13 lbf·ft)",
        "1.8 N·m",
        "snug",
        "50 %",
        "90°",
        "4 N·m",
    ),
    "engagement": ("12 mm", "8 mm", "1/2 in", "3 mm .. 12 mm"),
    "length": ("30 mm", "2 in"),
    "range": ("5 N·m .. 25 N·m", "20 N·m .. 100 N·m"),
    "step": ("1 N·m", "0.5 N·m"),
    "lever": ("380 mm", "15 in"),
    "extends": ("40 mm", "0 mm"),
    "angle": ("0°", "90°", "45°"),
    "retighten-after": ("10 h", "50 h"),
    "slacken": ("90°", "60°", "1/2 turn", "1 turn"),
    "by": ("2 turns", "1/2 turn", "90°", "360°", "1 turn .. 2 turns"),
    "time": ("5 min", "1 h 30 min", "90 min"),
    "wait": ("5 min", "10 min .. 15 min"),
    "for": ("2 min", "10 s"),
    "limit": (
        "0.2 mm .. 0.4 mm",
        ">= 6.4 mm",
        "at most 2 bar",
        "20 °C",
        "no leak",
        "3 mm ± 10 %",
        "0.011 in (0.28 mm)",
        "10 mm (0.4 in) at 30 N (7 lbf)",
        "20 +5 -0 N·m",
        "3 to 10 drops",
        "10° BTDC",
    ),
    "width": ("80 mm",),
    "reach": ("30 cm",),
    "height": ("80 cm",),
    "to-reach": ("30 cm",),
    "to-height": ("120 cm",),
    "twist": ("30°", "0°"),
    "stages": ("snug", "50 %", "20 N·m", "90°", "90° ± 5°", "100 %"),
}
"""Good values of the keys that hold a quantity."""

TEXTS: dict[str, tuple[Any, ...]] = {
    "thread": ("M6 x 1.0", "M6", "M8 x 1.25", "M10 x 1", "5/16-18 UNC", "#10-32", "G 1/4", "1/4 NPT", "Whitworth", 6),
    "class": ("8.8", "10.9", "A4-70", "grade 5", "brass", "8", 8.8),
    "kind": ("bolt", "nut", "screw", "stud", "plug", "cap", "clip", "pin", "clamp", "washer", "hose", "cable"),
    "drive": ("hex 10 mm", "hex 13 mm", "slot 6 mm"),
    "order": ("crosswise", "from the middle", "in turn", [1, 3, 2, 4], "after the studs"),
    "layout": ("circle 46 mm", "circle 46 mm from 30°", "rectangle 60 mm x 40 mm", "rows 2 x 5, 160 mm x 84 mm",
               [["0 mm", "0 mm"], ["40 mm", "0 mm"]]),
    "condition": ("dry", "oiled", "greased", "with zinc", "thread-locker, zinc"),
    "material": ("aluminium", "cast iron", "brass", "plastic", "steel"),
    "insert": ("wire insert",),
    "skill": ("owner", "a licensed professional", "an owner with care; else call a professional"),
    "date": ("2026-11-25",),
    "interval": ({"hours": 300, "months": 24}, {"first": {"hours": 20, "years": 3}, "months": "6 .. 3", "also": "x"},
                 {"years": 1, "km": 5.5}, "before each use", "every 100 h", {"also": "before storage"}),
    "job": ("first", "second", "third"),
    "language": ("en", "de", "en-GB"),
    "licence": ("CC BY 4.0",),
    "run": ("engine", "the starter"),
    "seen-from": ("the bolt heads", "the flywheel end", "above"),
    "until": ("the mark lies at the pointer", "it stops", "both valves of cylinder 1 are shut"),
    "image": ("lid.svg", "none.png"),
    "number": ("BP-107", 107, "0107"),
    "edition": (1, 1.0, "2nd"),
    "web": ("https://example.org/trial", "http://example.org:8080/a%20b"),
    "note": ("leave 0.011 in (0.28 mm), or 30 psi / 2.1 bar",
             "see {limit gap of lid}", "see the bolts at 18 N·m", "tighten to 20 N·m", "keep it dry"),
    "text": ("pull it off", "tighten the bolts to 9 N·m", "undo the nut"),
    "count": (1, 2, 4, 6, "not counted"),
    "uses": (2, 3),
    "act": ("wipe the face dry", "blow the hole out with air", "see {step first-look} once more"),
    "purpose": ("what {job second} needs", "for the season"),
    "because": ("the limit is {limit gap}", "it is seen at {figure lid.svg}", "{step again-here of second} needs it"),
    "stop": ("See {job first}.", "Ask at the workshop.", "{step first-look} was all."),
    "inspect-when-off": ("cracks", "a torn lip"),
    "check-when-back": ("dry", "0.2 mm .. 0.4 mm", "both legs are bent"),
    "passes": (1, 2),
    "people": (1, 2),
}  # fmt: skip
"""Good values of other keys."""

NAMES: dict[str, tuple[Any, ...]] = {
    "remove": PARTS + FASTENERS, "install": PARTS + FASTENERS, "replace": PARTS + FASTENERS, "loosen": FASTENERS,
    "tighten": FASTENERS, "disconnect": LINES, "connect": LINES, "drain": FLUIDS, "fill": FLUIDS, "set": CONTROLS,
    "place": EQUIPMENT, "take-away": EQUIPMENT, "mark": PARTS + LINES, "align": PARTS + LINES,
    "adjust": SETTINGS, "apply": CONSUMABLES,
    "clean": PARTS + FASTENERS, "inspect": PARTS + FASTENERS + LINES,
    "measure": PARTS + SETTINGS, "check": PARTS + FLUIDS,
    "lift": PARTS, "turn": (*PARTS, "nut"), "kit": KITS,
    "do": BLOCKS, "reverse": BLOCKS, "caution": CAUTIONS, "back-to": STEPS, "with": CONSUMABLES + EQUIPMENT,
    "tool": TOOLS, "name": STEPS, "secures": PARTS + FASTENERS + LINES, "to": (*PARTS, "open", "closed"),
    "at": (*PARTS, "front", "aft", *SPOTS), "joins": PARTS, "compound": CONSUMABLES, "tags": TAGS, "covers": HAZARDS,
    "drains": FASTENERS + LINES + CONTROLS, "fills": FASTENERS + LINES, "vents": FASTENERS,
    "disturbed-by": PARTS + FASTENERS + LINES + SETTINGS, "adjusted-by": FASTENERS,
    "ends-with": PARTS + FASTENERS + LINES + FLUIDS + CONTROLS + SETTINGS,
    "begins-with": PARTS + FASTENERS + LINES + FLUIDS + CONTROLS,
    "instead-of": PARTS + FASTENERS, "positions": ("open", "closed", "front", "aft"), "normal": ("open", "closed"),
    "assembly": PARTS, "turns-with": PARTS, "keeps": PARTS, "clean-before": PARTS + FASTENERS, "lubricant": CONSUMABLES,
    "proves": PARTS + FLUIDS + FASTENERS, "in": FASTENERS + PARTS, "on": PARTS + FASTENERS + LINES + EQUIPMENT,
    "without": PARTS, "each": PLACES, "renew-together": PARTS + FASTENERS, "after": JOBS, "before": JOBS,
    "takes": ("part", "fastener", "line", "fluid", "control", "setting", "equipment"),
    "counterhold": FASTENERS, "tightened-after": FASTENERS, "locks": PARTS + FASTENERS + LINES,
    "access-after": PARTS + LINES, "stacks": PARTS + FASTENERS, "verbs": ("remove", "run", "loosen"),
}  # fmt: skip
"""What a key refers to."""

MARKDOWN = (
    "{putback:job}`first`", "{putback:limit}`gap of lid`", "{putback:quantity}`8 mm to 12 mm`", "`code`",
    "*Tighten* the bolts to **18 N·m**.", "See step 3.", "```{putback-torques}\n```", "[a link](jobs/first)",
    "18 N·m |",
    ":::{note}\nKeep the nut at 9 N·m (13 lbf·ft).\n:::", "The oil is changed every 100 h.", "a[^1]\n\n[^1]: b",
)  # fmt: skip
"""Lines of pages."""

PHRASES = ("open it", "pull the lanyard", "switch the engine off", "put the cap back on the plug", "shut")
"""What is done to bring a control into a position."""

EVERY_NAME = (
    PARTS + FASTENERS + LINES + FLUIDS + CONTROLS + OPTIONS + CHOICES + EQUIPMENT + TOOLS + CONSUMABLES + HAZARDS
    + CAUTIONS + BLOCKS + STEPS + TAGS + KITS + SETTINGS + PLACES + TAKEN
)  # fmt: skip

ODD_QUANTITIES = (
    "0 N·m", "0 mm", "-5 N·m", "0.0000001 N·m", "4000000 N·m", "1e30 kg", "9" * 40 + " mm", "0." + "0" * 30 + "1 kg",
    "1 turn", "0 turns", "1/0 turn", "-2 turns", "1000000 turns", "90 turns 90°", "a turn", "two turns",
    "18", "18 N·m 13", "1/3 in", "1/0 in", "5 1/2 in", "0 mm .. 12 mm", "12 mm .. 0 mm", "3 mm .. 3 mm",
    "18 N·m ± 20 N·m", "18 N·m (13 lbf·ft) (1.8 kgf·m)", "18 N·m / 13 lbf·ft", "10 mm at 30 N at 20 °C",
    "10 mm at", "at 30 N",
    "20 +5 +5 N·m", "20 +5 N·m",
    "12:1", "1:0", "SAE 10W-30", "Ra 0.8 µm (32 µin)", "Δ 3 °C (5 °F)", "5 lb (22 N)",
    "5 lb (22 N·m)",
    "10,300 kPa (1,500 psi)", "1 mm (", "1 mm )2 in(", "1 (2 (3 mm)) in", "() mm", "3 mm ()", "3 mm (/)", "3 mm (,)",
    "1 +1/2 -1/2 in",
    "18 N·m ± 0 %", "18 N·m ± 200 %", "-10 °C .. 5 °C", ">= 0 kg", "< 0 mm", "at least -3 bar", "1,234 N·m",
    "1.234,5 mm",
    "18 N·m (13 kg)", "18 N·m (130 lbf·ft)", "½ in", "18 N·m (18 N·m (18 N·m))", "± 5 %", "..", "0°", "0 %",
    "1000000 %",
    "360000°", "1 min 90 s", "0 h", "999999999999 h", "1 000 000 kg", "18 kgf·m", "0.5 kgf·cm", "inf kg", "nan mm",
    "18 n.m", "18 µm", "18 Ω", "1 rpm", "12 V", "-273.2 °C", "5000 °F", "1 imp fl oz", "3 mph", "1 kg 1 g",
    "8 ft 2 in",
    "0.00000000000000000000000000001 l", "M6", "snug", "", " ", "20 N·m+", "+20 N·m", "20N·m", "20 Nm", "20 N m",
    "٣ mm",
)  # fmt: skip
"""Quantities at the edges of what can be read, and over them."""

ODD_TEXTS = (
    "", " ", ".", "-", "?", "''", '"', "{}", "[]", "{lid}", "%s", "%d %n", "{0}", "$x", "a" * 300, "ab " * 400, "0",
    "00", "1e5", "0x10", "1_000", "yes", "null", "~", "true", "2026-11-25", "é", "ß", "Ω", "日本語", "חזק 120", "שלום",
    "🔧", "e\u0301", "a\u00a0b", "a\u00adb", "a\u200bb", "\u200d", "\u200b", "\ufeff", "İ", "ﬁ", "a\\0b", "a\nb",
    "a\n\nb", "\n", "a\tb",
    "<script>", "&amp;", "`x`", "{torque}`lid`", "../../x", "/", "C:\\x", "lid", "LID", "Lid", "lid ", "a: b", "a #1",
    "- a", "#", "|", ">", "!x", "&x", "*x", "@x", "tighten to 18 N·m", "18", "two", "None", "all", "engine", "\\",
    "the the", "1", "-1", "normal", "ſ", "K", "x" * 5000, "a--b", "-a", "a-", "A-B", "self", "__class__", "0-0",
)  # fmt: skip
"""Texts that are legal in YAML and strange here."""

CONTROL = ("\0", "\x01", "\x07", "\x08", "\x1b[31m", "\x7f", "\x80", "\x85", "\x9b", "\u2028", "\u202e", "\u2066",
           "\u200e", "\ufffe", "\uffff", "\ufff9", "\U0001ffff", "\U000e0041", "\r", "\x0b", "\x0c")  # fmt: skip
"""Characters that should reach nobody."""

ODD_VALUES: tuple[Any, ...] = (
    None, True, False, 0, 1, -1, 9999, 10000, 10**30, 0.1, -0.0, 1e300, 6.0, [], {}, [[]], [{}], {"a": {}}, [None],
    [True], ["lid"], ["lid", "lid"], ["lid", ["lid"]], {"lid": "lid"}, {"when": {}}, [[["lid"]]], {"": ""},
)  # fmt: skip
"""Values of the wrong kind."""

FRAGMENTS = (
    "[{a: 1}]: x", "{a: 1}: x", "? [a]\n: b", "? |\n  a\n: b", "&a ", "*a", "!!binary ", "!!python/object:x ",
    "<<: ", "!<x> ",
    "---\n", "...\n", "%YAML 1.2\n", "%TAG ! x\n", ">= 5 mm", "> 5", "| x", ">\n", "|\n", "|+9\n", ">-\n", "`", "@",
    "%",
    '"', "'", '"\\0"', '"\\x1b"', '"\\a"', '"\\u202E"', '"\\u2066"', '"\\ud800"', '"\\U00110000"', '"\\q"', "[", "]",
    "{", "}", ",", ":", ": ", "- ",
    "#", " #2", "\t", "\n", "\n\n", "\r\n", "\r", "  ", " ", "\ufeff", "?", "? ", "-", "--", "!", "&", "*", "~",
    "null", "{[", "]}",
    "a: b: c", "[,]", "{,}", "[a,,b]", "{a}", "{a: }", ": x", "=", "<<", "0o7", "0b1", ".inf", ".nan", "1e3", "\\",
    "é", "🔧", "\uffff",
)  # fmt: skip
"""Bits of text that mean something to a parser of YAML."""
