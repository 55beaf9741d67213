"""In which order words stand: by the letters that a language has, and numbers by their size."""

from __future__ import annotations

import pytest

from putback.telling import in_order


@pytest.mark.parametrize(
    ("tag", "words"),
    [
        ("de", ["Abdeckung", "Äußere Scheibe", "Axiallager", "Ölfilter", "Olive", "Ölwanne", "Zahnrad"]),
        ("es", ["ánodo", "Antena", "nuez", "ñandú", "O-ring"]),
        ("es-MX", ["caño", "capa"]),
        ("en", ["jalapeño", "jalapeños", "Jar"]),
        (None, ["5 mm socket", "10 mm socket", "Adapter"]),
    ],
)
def test_words_stand_in_the_order_of_their_language(tag: str | None, words: list[str]) -> None:
    mixed = [*words[1::2], *words[::2]]
    assert sorted(mixed, key=lambda word: in_order(word, tag)) == words
