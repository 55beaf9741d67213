"""Words of a file in a message."""

from __future__ import annotations

from putback.source.quoting import SENTENCE, quote, quoted, short


def test_a_quotation_is_on_one_line_and_not_long() -> None:
    assert quote("a\n  b\tc") == "'a b c'"
    assert quote("x" * 41) == f"'{'x' * 39}…'"
    assert short("x" * 41, SENTENCE) == "x" * 41


def test_what_nobody_sees_is_written_out() -> None:
    assert quote("lid\u200b") == "'lid<U+200B>'"


def test_words_as_a_list() -> None:
    assert quoted([]) == ""
    assert quoted(["a"]) == "'a'"
    assert quoted(["a", "b", "c"]) == "'a', 'b' and 'c'"
