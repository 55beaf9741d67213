"""Short texts of the trade: quantities, threads, classes, films, drives, layouts, stages. The first byte says which."""

from __future__ import annotations

from collections.abc import Callable

from putback.joints import JointError
from putback.joints.drives import all_threads_of, flats, read_drive, suits, threads_of
from putback.joints.friction import nut_factors, read_condition
from putback.joints.heads import head_of, nut_of
from putback.joints.layouts import centre_of, is_ring, is_straight, positions_layout, read_layout
from putback.joints.members import hole_area, knows_material, read_material, strip_load
from putback.joints.patterns import Rule, in_rows, order_of, rule_of
from putback.joints.stages import Stage, backs_off, by_angle, disagree, ends_back, faults, final_torque, read_stage
from putback.joints.strength import read_class, read_nut_class
from putback.joints.threads import is_other, read_thread
from putback.model.measured import measured
from putback.source.characters import refused, visible
from putback.units import (
    Kind,
    Quantity,
    QuantityError,
    System,
    both,
    disagreement,
    parse,
    parse_any,
    printed_alike,
    show,
    si,
)  # fmt: skip
from putback.units.adding import sum_of
from putback.units.agreeing import agree
from putback.units.mixed import mixed_up
from tests.fuzz.targets.promises import as_text, hold, hold_words

KINDS = tuple(Kind)


def quantity(text: str) -> str:
    """Read a quantity of any kind, and print it."""
    return _said(text, parse_any)


def quantity_of_kind(text: str) -> str:
    """Read a quantity of a kind: the first character says of which."""
    kind = KINDS[ord(text[0]) % len(KINDS)] if text else Kind.TORQUE
    return _said(text[1:], lambda words: parse(words, kind))


def _said(text: str, read: Callable[[str], Quantity]) -> str:
    try:
        found = read(text)
    except QuantityError as error:
        return _refused("a quantity", error, text)
    hold(found == read(text), "another quantity the second time", found)
    low, high = si(found)
    hold(low is None or high is None or low <= high, "ends that are exchanged", found)
    printed = [show(found), both(found, System.METRIC, System.US), both(found, System.US, System.METRIC)]
    for words in printed:
        hold_words("a printed quantity", f"x {words}", text)
        try:
            parse_any(words)
        except QuantityError as error:
            hold(False, "a printed quantity that cannot be read", f"{words!r}: {error}")
    hold(agree(found, found), "a quantity that is not itself", found)
    hold(printed_alike(found, found, System.METRIC, System.US), "a quantity that is not printed as itself", found)
    sum_of([found, found])
    return " | ".join([*printed, str(low), str(high), str(disagreement(found))])


def _refused(what: str, error: QuantityError | JointError, text: str) -> str:
    hold_words(what, visible(str(error)), text)
    hold_words(what, visible(error.hint), f"{text} {error.hint}")
    return f"{error} {error.hint}"


def thread(text: str) -> str:
    """Read a thread, and what its head and its hole are like."""
    try:
        found = read_thread(text)
    except JointError as error:
        return f"{_refused('a thread', error, text)} {is_other(text)}"
    return f"{found} {head_of(found, None)} {nut_of(found, None)} {hole_area(found, 10)}"


def strength(text: str) -> str:
    """Read a class of strength."""
    told = []
    for read in (read_class, read_nut_class):
        try:
            told.append(repr(read(text)))
        except JointError as error:
            told.append(_refused("a class", error, text))
    return " ".join(told)


def film(text: str) -> str:
    """Read what is on the threads."""
    try:
        found = read_condition(text)
    except JointError as error:
        return _refused("a condition", error, text)
    return f"{found} {nut_factors(found)}"


def material(text: str) -> str:
    """Read a material, and what it bears."""
    try:
        found = read_material(text)
    except JointError as error:
        hold(not knows_material(text), "a material that is known, and is not", text)
        return _refused("a material", error, text)
    return f"{found} {strip_load(read_thread('M8'), found, 12)}"


def drive(text: str) -> str:
    """Read what a tool grips."""
    found = read_drive(text)
    if found is None:
        return ""
    screw = read_thread("M8")
    return f"{found} {suits(found, screw)} {threads_of(found)} {all_threads_of(found)} {flats(screw, inside=True)}"


def layout(text: str) -> str:
    """Read how pieces lie, and in which order they are tightened: the first character says how many."""
    if not text:
        return ""
    try:
        found = (
            positions_layout([part.split(",") for part in text[1:].split(";")])
            if ";" in text
            else read_layout(text[1:], ord(text[0]) % 64)
        )
        orders = [order_of(found)]
    except JointError as error:
        return _refused("a layout", error, text)
    for rule in Rule:
        try:
            orders.append(order_of(found, rule))
        except JointError as error:
            _refused("an order", error, text)
    for order in orders:
        hold(sorted(order) == [*range(1, len(found.places) + 1)], "an order that leaves a piece out", order)
    return f"{orders} {rule_of(found)} {centre_of(found)} {is_ring(found)} {is_straight(found)} {in_rows(found.places)}"


def stages(text: str) -> str:
    """Read stages of tightening, parted by semicolons; the first may be the torque."""
    first, _, others = text.partition(";")
    found: list[Stage] = []
    for words in others.split(";")[:6]:
        try:
            found.append(read_stage(words))
        except JointError as error:
            return _refused("a stage", error, text)
    try:
        torque = parse(first, Kind.TORQUE)
    except QuantityError:
        torque = None
    told = [*faults(found, torque)]
    for fault in told:
        hold_words("stages", fault.message, text)
    meant = (ends_back(found), final_torque(found, torque), by_angle(found), backs_off(found), disagree(found, torque))
    return f"{told} {meant}"


def measure(text: str) -> str:
    """Read what is measured, and of what."""
    what, _, of = text.partition(";")
    return f"{measured(what, of)} {mixed_up(what, of)}"


READERS = (
    quantity, quantity_of_kind, thread, strength, film, material, drive, layout, stages, measure, quantity, quantity,
)  # fmt: skip


def attempt(data: bytes) -> str:
    """Read a text."""
    if not data:
        return ""
    text = " ".join(as_text(data[1:]).split())
    # A file with such a character is refused as a whole.
    return "" if refused(text) else READERS[data[0] % len(READERS)](text)
