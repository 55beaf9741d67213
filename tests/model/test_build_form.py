"""The shape and the size of a part, and what is wrong with them."""

from __future__ import annotations

import pytest

from putback.model.forms import PartShape, across
from putback.model.machine import Part
from putback.source.load import load_text
from putback.source.schema import FileKind, validate
from tests.model.test_build_machine import machine_of


def part(facts: str) -> tuple[Part, list[str]]:
    machine, faults = machine_of(f"machine: M\nparts:\n  ring: {{{facts}}}\n")
    thing = machine.things["ring"]
    assert isinstance(thing, Part)
    return thing, [f"{fault.check}: {fault.message} ({fault.hint})" for fault in faults]


def test_a_shape_and_a_size() -> None:
    thing, faults = part("shape: O-ring, size: {outside: 1/2 in, inside: 10 mm, thickness: 1.6 mm ± 0.1 mm}")
    assert (thing.shape, faults) == (PartShape.O_RING, [])
    assert thing.size is not None
    assert thing.size.outside is not None
    assert thing.size.inside is not None
    assert thing.size.thickness is not None
    lengths = (thing.size.outside, thing.size.inside, thing.size.thickness)
    assert [across(length) for length in lengths] == [pytest.approx(12.7), 10, pytest.approx(1.6)]
    bare, faults = part("")
    assert (bare.shape, bare.size, faults) == (None, None, [])


@pytest.mark.parametrize(
    ("size", "message"),
    [
        ("outside: 0 mm", "bad-quantity: '0 mm' is not a length that a part can have (write one above 0)"),
        (
            "outside: 20 mm, inside: 20 mm",
            "bad-quantity: the hole is '20 mm' across, but the whole part only '20 mm' "
            "(write less than '20 mm' for 'inside')",
        ),
        (
            "thickness: 1.5 mm .. 1.7 mm",
            "bad-quantity: '1.5 mm .. 1.7 mm' is a range, but one value is expected "
            "(look it up, or measure it, and write one value)",
        ),
        ("outside: <= 20 mm", "bad-quantity: '<= 20 mm' is a limit, but one value is expected (write '20 mm')"),
        (
            "inside: 10001 mm",
            "bad-quantity: '10001 mm' is more than 10 m, and no part is that long (look at the number and its unit)",
        ),
        ("inside: 1 in, outside: 20 mm", None),
        ("outside: 20 kg", None),
        ("thickness: 20", None),
    ],
)
def test_sizes_that_are_wrong(size: str, message: str | None) -> None:
    faults = part(f"size: {{{size}}}")[1]
    assert len(faults) == 1
    assert message in (None, faults[0])


@pytest.mark.parametrize(
    ("facts", "message"),
    [
        ("shape: wavewasher", "'shape' must be "),
        ("size: {}", "'size' is empty"),
        ("size: {width: 3 mm}", "unknown key 'width'"),
        ("size: 3 mm", "'size' must be a mapping with 'outside', 'inside' or 'thickness', not '3 mm'"),
    ],
)
def test_what_is_no_shape_or_size(facts: str, message: str) -> None:
    loaded = load_text(f"machine: M\nparts: {{ring: {{{facts}}}}}\n", "machine.yaml")
    faults = validate(loaded, FileKind.MACHINE)
    assert len(faults) == 1
    assert faults[0].message.startswith(message), faults[0]
