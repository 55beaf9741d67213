"""Thread conditions as people write them, and the friction that they stand for."""

from __future__ import annotations

import pytest

from putback.joints.friction import Condition, ConditionError, Film, Finish, nut_factors, read_condition


@pytest.mark.parametrize(
    ("text", "film", "finish"),
    [
        ("as received", Film.AS_RECEIVED, None),
        ("as-delivered", Film.AS_RECEIVED, None),
        ("MoS2", Film.MOLY, None),
        ("MoS₂ paste", Film.MOLY, None),
        ("molybdenum disulphide grease", Film.MOLY, None),
        ("greased with moly", Film.MOLY, None),
        ("dry-film moly", Film.MOLY, None),
        ("grease", Film.GREASED, None),
        ("zinc flake", None, Finish.ZINC_FLAKE),
        ("zinc-flake coated, oiled", Film.OILED, Finish.ZINC_FLAKE),
        ("zinc plated, dry", Film.DRY, Finish.ZINC),
        ("plated", None, Finish.PLATED),
        ("plated, lightly oiled", Film.OILED, Finish.PLATED),
        ("cadmium plated", None, Finish.CADMIUM),
    ],
)
def test_it_is_read(text: str, film: Film | None, finish: Finish | None) -> None:
    assert read_condition(text) == Condition(film, finish)


@pytest.mark.parametrize("text", ["as usual", "dry and oiled", "moly and anti-seize", ""])
def test_it_is_refused(text: str) -> None:
    with pytest.raises(ConditionError):
        read_condition(text)


@pytest.mark.parametrize("finish", Finish)
@pytest.mark.parametrize("film", [Film.OILED, Film.GREASED, Film.WAXED, Film.ANTI_SEIZE, Film.MOLY])
def test_what_lubricates_never_raises_friction(film: Film, finish: Finish) -> None:
    dry, wet = nut_factors(Condition(Film.DRY, finish)), nut_factors(Condition(film, finish))
    assert wet.low <= dry.low
    assert wet.high <= dry.high
