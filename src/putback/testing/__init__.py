"""Examples in caret notation, for the checks of Putback and for those of other people.

A test of a package's checks, for pytest or any other runner:

    @pytest.mark.parametrize("check", checks_of("acme-checks"))
    def test_the_examples_of_a_check_hold(check: str) -> None:
        assert_examples(check)
"""

from putback.testing.asserting import assert_example, assert_examples, checks_of
from putback.testing.examples import Caret, Example, marks_of, parse_example, run_example

__all__ = [
    "Caret", "Example", "assert_example", "assert_examples", "checks_of", "marks_of", "parse_example", "run_example",
]  # fmt: skip
