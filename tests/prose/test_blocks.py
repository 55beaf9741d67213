"""A page of prose in other words: it stays built as it was."""

from __future__ import annotations

import pytest

from putback.prose.blocks import blocks_of, retold

PAGE = """\
# Pump

Clean the seat.

- oil
- rag

| part | number |
| --- | --- |
| lid | TP-1 |
"""


def test_blocks_are_told_in_their_places() -> None:
    told = {"Pump": "Pumpe", "Clean the seat.": "Den Sitz reinigen.", "rag": "Lappen", "lid": "Deckel"}
    page = retold("p.md", PAGE, told)
    assert page == PAGE.replace("Pump", "Pumpe").replace("Clean the seat.", "Den Sitz reinigen.").replace(
        "rag", "Lappen"
    ).replace("lid", "Deckel")
    assert [block.text for block in blocks_of("p.md", page)][:2] == ["Pumpe", "Den Sitz reinigen."]


@pytest.mark.parametrize(
    "words", ["# A heading", "- an item", "> words of somebody", "1. first", "```", "---", ":::{raw} html", "<!-- gone"]
)
def test_words_that_would_build_the_page_otherwise_are_left_out(words: str) -> None:
    assert retold("p.md", PAGE, {"Clean the seat.": words}) == PAGE
    assert retold("p.md", PAGE, {"Clean the seat.": words, "rag": "Lappen"}) == PAGE.replace("rag", "Lappen")


def test_a_bar_in_a_cell_makes_no_cell() -> None:
    assert "| Deckel \\| Haube | TP-1 |" in retold("p.md", PAGE, {"lid": "Deckel | Haube"})
