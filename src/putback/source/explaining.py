"""A validator that finds every fault of a file, and looks only into those steps that have one.

Imported only when a file was refused, because `jsonschema` is slow to import and slow to run.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from typing import Any

from jsonschema import Draft202012Validator, ValidationError, validators
from referencing import Registry, Resource


def validator_for(
    schema: dict[str, Any], words: dict[str, Any], words_file: str, accepts_step: Callable[[Any], bool]
) -> Any:
    """Return a validator of a schema and the file of words that it refers to, with a quick test of one step."""
    registry: Registry[Any] = Registry().with_resource(words_file, Resource.from_contents(words))
    extend: Any = validators.extend
    explaining = extend(Draft202012Validator, {"pattern": _pattern, "items": _items(accepts_step)})
    return explaining(schema, registry=registry.crawl())


def _pattern(_validator: Any, pattern: str, value: Any, _schema: Any) -> Iterator[ValidationError]:
    # Python lets '$' stand before a last line end, the compiled validator does not.
    if isinstance(value, str) and not re.search(pattern.replace("$", r"\Z"), value):
        yield ValidationError("pattern")


def _items(accepts_step: Callable[[Any], bool]) -> Callable[..., Iterator[ValidationError]]:
    def items(validator: Any, schema: Any, values: Any, _schema: Any) -> Iterator[ValidationError]:
        if not isinstance(values, list):
            return
        # A file has a few faulty steps among many good ones, and each costs some thirty conditions.
        of_steps = schema == {"$ref": "#/$defs/step"}
        for index, value in enumerate(values):
            if not (of_steps and accepts_step(value)):
                yield from validator.descend(value, schema, path=index)

    return items
