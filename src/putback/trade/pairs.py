"""Words that are one thing in British and another in American workshops.

From common practice, and from glossaries of both trades where they were found: docs/reference/words.md says which. A
word that is at home on both sides, or that is something else on the other side more often than not, has no pair here.
"""

from __future__ import annotations

from typing import NamedTuple


class TwoNames(NamedTuple):
    """What is called one way in British and another in American; its plural goes the same way."""

    uk: str
    """British, in the singular; further forms after `|`."""
    us: str
    """American, in the singular; further forms after `|`."""
    not_uk: str = ""
    """A pattern of texts in which the British word is something else; `.` when it is at home in both."""
    not_us: str = ""
    """A pattern of texts in which the American word is something else; `.` when it is at home in both."""


_AT_HOME = "."
_FLAME = r"\b(?:gas|flame|heat\w*|weld\w*|braz\w*|solder\w*|propane|butane|blow|cutting|warm\w*|red[- ]hot)\b"
_EARTH = "lead cable strap wire terminal connection electrode fault bond clamp post conductor continuity"
_EARTH_OR_MADE_SMOOTH = "screw stud bolt tag point rod pin plate side tester"
"""With `ground`, these may be parts that were ground."""
_NO_ROAD = r"^(?!.*\b(?:tyres?|tires?|road|trailer|hub|brakes?|axle|vehicle|car|tractor|mower|caravan)\b)"
_CAR = r"\b(?:valve|pump|seal|nut|packing)\w*\b"

PAIRS: tuple[TwoNames, ...] = (
    # Tools.
    TwoNames("open-ended spanner", "open-end wrench|open-ended wrench"),
    TwoNames("ring spanner", "box-end wrench|box wrench"),
    TwoNames("combination spanner", "combination wrench"),
    TwoNames("adjustable spanner", "adjustable wrench"),
    TwoNames("crowfoot spanner", "crowfoot wrench"),
    TwoNames("flare-nut spanner", "flare-nut wrench"),
    TwoNames("box spanner", "tube wrench"),
    TwoNames("plug spanner", "spark plug wrench"),
    TwoNames("wheel brace", "lug wrench"),
    TwoNames("hex key", "hex wrench|allen wrench", _AT_HOME),
    TwoNames(
        "spanner",
        "wrench",
        r"\b(?:spanner (?:wrench|nut)|(?:pin|hook|face) spanner|c-spanner)",
        r"\b(?:torque|click\w*|N·?m|lbf)\b|^(?!.*\b(?:mm|in|inch|with an?|use an?|using an?|second|two) wrench)",
    ),
    TwoNames("torch", "flashlight", _FLAME),
    TwoNames("vice", "vise", r"\bvice[- ](?:versa|president|chair)"),
    TwoNames("axle stand", "jack stand"),
    TwoNames("trolley jack", "floor jack"),
    TwoNames("jump lead", "jumper cable"),
    TwoNames("crocodile clip", "alligator clip"),
    TwoNames("rev counter", "tachometer", "", _AT_HOME),
    TwoNames("dial gauge", "dial indicator", "", _AT_HOME),
    TwoNames("spring balance", "spring scale", "", _AT_HOME),
    TwoNames("measuring jug", "measuring cup", "", _AT_HOME),
    TwoNames("hexagon bit", "hex bit", "", _AT_HOME),
    TwoNames("hexagon key", "hex key", "", _AT_HOME),
    TwoNames("seconds hand", "second hand", "", _AT_HOME),
    TwoNames("spirit level", "bubble level", _AT_HOME),
    # Fasteners and small parts.
    TwoNames("split pin", "cotter pin"),
    TwoNames("grub screw", "set screw", "", _AT_HOME),
    TwoNames("hose clip", "hose clamp", "", _AT_HOME),
    TwoNames("coach bolt", "carriage bolt"),
    TwoNames("penny washer", "fender washer"),
    TwoNames("wheel nut", "lug nut", _NO_ROAD),
    TwoNames("grease nipple", "grease fitting|zerk fitting|zerk"),
    # Engines and what they drive.
    TwoNames("silencer", "muffler", r"\b(?:air|intake|inlet|suction)[- ]silencer"),
    TwoNames(
        "tappet", "lifter|valve lifter", _AT_HOME, r"^(?!.*\b(?:valves?|cams?|camshaft|push ?rods?|rockers?|cup)\b)"
    ),
    TwoNames("gudgeon pin", "wrist pin"),
    TwoNames("core plug", "freeze plug", _AT_HOME),
    TwoNames("inlet manifold", "intake manifold", r"\b(?:water|spray\w*|hydraulic|irrigation|pump\w*)\b", _AT_HOME),
    TwoNames("inlet camshaft", "intake camshaft", "", _AT_HOME),
    TwoNames(
        "inlet valve",
        "intake valve",
        r"\b(?:fuel|float|water|air|needle|pump\w*|suction|tank|compressor\w*|check) (?:\w+ ){0,3}?inlet valve"
        r"|inlet valve of the (?!engine|cylinder)",
        _AT_HOME,
    ),
    TwoNames("fuel tap|petrol tap|fuel cock", "fuel valve|petcock", "", r"\bfuel valve"),
    TwoNames("plug lead|spark plug lead|HT lead", "spark plug wire|plug wire"),
    TwoNames("gear lever|gear stick|gearstick", "shift lever|gear shift lever|gearshift lever|gearshift"),
    TwoNames("propshaft", "driveshaft", "", _AT_HOME),
    TwoNames("crown wheel", "ring gear", "", _AT_HOME),
    TwoNames("running-in", "break-in", "", r"\bbreak-in\b(?! (?:period|oil|hours?|time))"),
    TwoNames("bonnet", "hood", _CAR, r"^(?!.*\b(?:engine|car|truck|tractor|mower|under the) hood\b)"),
    TwoNames("mudguard", "fender", "", _AT_HOME),
    TwoNames("windscreen", "windshield"),
    TwoNames("number plate", "license plate", r"\b(?:serial|model|type|engine|part)[- ]number plate"),
    TwoNames(
        "tyre", "tire", "", r"\b(?:you|they|arms?|hands?|not|will|can|to|never) tires?\b|\btires? (?:of|easily|out)\b"
    ),
    TwoNames("lorry", "truck", "", _AT_HOME),
    # Fuels, fluids, materials.
    TwoNames("petrol", "gasoline"),
    TwoNames(
        "paraffin", "kerosene", r"\bparaffin(?:[- ](?:wax|oil|based)|s\b)|\bliquid paraffin", r"\bjet\b|\bheating oil\b"
    ),
    TwoNames("methylated spirits|meths", "denatured alcohol"),
    TwoNames("white spirit", "mineral spirits", "", _AT_HOME),
    TwoNames("surgical spirit", "rubbing alcohol"),
    TwoNames("washing-up liquid", "dish soap"),
    TwoNames("kitchen paper|kitchen roll", "paper towel", "", _AT_HOME),
    TwoNames("cling film", "plastic wrap"),
    TwoNames("insulating tape", "electrical tape", _AT_HOME, _AT_HOME),
    TwoNames("polythene", "polyethylene", "", _AT_HOME),
    TwoNames("jointing compound", "gasket sealant", "", _AT_HOME),
    TwoNames("hosepipe", "garden hose", "", _AT_HOME),
    # Electricity.
    *(TwoNames(f"earth {what}", f"ground {what}") for what in _EARTH.split()),
    *(TwoNames(f"earth {what}", f"ground {what}", "", _AT_HOME) for what in _EARTH_OR_MADE_SMOOTH.split()),
    TwoNames("earth leakage", "ground leakage"),
    TwoNames("negative earth", "negative ground"),
    TwoNames("protective earth", "protective ground", _AT_HOME),
    TwoNames("good earth", "good ground"),
    TwoNames("earthed", "grounded", r"\bunearthed", r"\b(?:aground|well[- ]grounded|boat|hull|keel|grounded on)\b"),
    TwoNames("earthing", "grounding", "", r"\b(?:boat|hull|keel)\b"),
    TwoNames("to earth", "to ground", r"\b(?:down|back|fall\w*|return\w*) to earth|\bto earth'?s\b", _AT_HOME),
    TwoNames("earths", "grounds", r"\brare earths", r"^(?!.*\bgrounds? (?:the|a|an|it|its|each|every) )"),
    TwoNames("RCD|residual current device", "GFCI|ground-fault circuit interrupter"),
    TwoNames("aerial", "antenna", r"\baerial (?:lift|work|platform|ropeway|view|photo\w*)", _AT_HOME),
    TwoNames("mains voltage", "line voltage", "", _AT_HOME),
    TwoNames("mains electricity", "line power"),
    TwoNames("mains lead", "power cord", "", _AT_HOME),
    TwoNames("mains plug", "power plug", "", _AT_HOME),
    TwoNames("mains socket", "power outlet"),
    TwoNames("extension lead", "extension cord"),
    # Sizes and turning.
    TwoNames("anticlockwise|anti-clockwise", "counterclockwise|counter-clockwise"),
    TwoNames("tonne", "metric ton"),
    TwoNames("newton metre", "newton meter"),
    TwoNames("metre", "meter", "", _AT_HOME),
    TwoNames("towards", "toward", "", _AT_HOME),
    TwoNames("way round", "way around", "", _AT_HOME),
    # Spelling, of words that take more than one end.
    TwoNames("grey", "gray"),
    TwoNames("draught", "draft", r"\bdraughts?(?:man|men|board)", _AT_HOME),
    TwoNames("mould", "mold"),
    TwoNames("plough", "plow"),
    TwoNames("kerb", "curb", "", _AT_HOME),
    TwoNames("licence", "license", "", _AT_HOME),
    TwoNames("judgement", "judgment", "", _AT_HOME),
    TwoNames("programme", "program", "", _AT_HOME),
    TwoNames("sulphur", "sulfur", "", _AT_HOME),
    TwoNames("sulphate", "sulfate", "", _AT_HOME),
    TwoNames("sulphuric", "sulfuric", "", _AT_HOME),
    TwoNames("jewellery", "jewelry"),
    TwoNames("catalogue", "catalog", _AT_HOME),
    TwoNames("gauge", "gage", _AT_HOME),
    TwoNames("manoeuvre", "maneuver"),
    TwoNames("glycerine", "glycerin"),
    TwoNames("prise", "pry", "", _AT_HOME),
    TwoNames("prised", "pried", "", _AT_HOME),
    TwoNames("prising", "prying", "", _AT_HOME),
    TwoNames("pinking", "pinging", "", r"^(?!.*\b(?:engine|knock\w*|spark|ignition|octane|load|fuel)\b)"),
    TwoNames("spilt", "spilled", "", _AT_HOME),
    TwoNames("burnt", "burned", _AT_HOME, _AT_HOME),
)
"""Longer words stand before those that are part of them."""

ENDS: dict[str, tuple[str, str]] = {
    "our ours oured ouring ourless ourfast": (
        "col vap od harb lab fav discol behavi neighb",
        "or ors ored oring orless orfast",
    ),
    "ettor ettors etted": ("carbur", "etor etors eted"),
    "inium": ("alum", "inum"),
    "re res red ring reline": ("cent", "er ers ered ering erline"),
    "etre etres": ("millim centim kilom", "eter eters"),
    "itre itres": ("l millil", "iter iters"),
    "ibre ibres ibreglass": ("f", "iber ibers iberglass"),
    "lled lling ller": (
        "fue refue leve labe trave cance channe dia signa tunne mode swive beve chise shove spira funne barre ename",
        "led ling ler",
    ),
    "yse ysed yses ysing": ("anal paral catal hydrol", "yze yzed yzes yzing"),
}
"""Spelling, by the ends of words: British ends, the beginnings that take them, American ends. Read by `words`."""

ISE = (
    "winter pressur depressur galvan vulcan oxid neutral minim maxim recogn organ synchron magnet demagnet vapor atom "
    "pulver anod steril standard equal stabil immobil carbon decarbon demineral ion deion crystall polar util optim "
    "real special central normal local final author custom summar emphas energ"
)
"""Beginnings of words that end in -ise in British, or in -ize as some British publishers have it; -ize in American."""
