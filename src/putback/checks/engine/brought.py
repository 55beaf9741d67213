"""Where checks are found: the modules of a package, for Putback's own; of others, what they bring by an entry point.

    [project.entry-points."putback.checks"]
    acme = "acme_checks"

names a folder of modules, each a check named as its file, or a single module. Nothing else is registered.
"""

from __future__ import annotations

from collections.abc import Iterator
from importlib import import_module
from pkgutil import iter_modules
from types import ModuleType
from typing import TYPE_CHECKING

from putback.checks.engine.known import KnownCheck, known, said
from putback.source.outside import BadCheckError, entry_points_of_checks, package_of, words_of

if TYPE_CHECKING:
    from importlib.metadata import EntryPoint


def all_of(package: ModuleType) -> dict[str, KnownCheck]:
    """Return the checks of Putback itself, a package, and those that other packages bring, by name.

    Raises `BadCheckError` with everything that is wrong in them.
    """
    checks: dict[str, KnownCheck] = {}
    faults: list[str] = []
    for name, module in _modules(package):
        checks[name], wrong = known(name, module)
        faults += wrong
    for point in entry_points_of_checks():
        _bring(point, checks, faults)
    if faults:
        raise BadCheckError("\n".join(faults))
    return checks


def _bring(point: EntryPoint, checks: dict[str, KnownCheck], faults: list[str]) -> None:
    """Add what an entry point brings."""
    package = package_of(point)
    head = f"the package '{package}' brings checks by '{point.name} = {point.value}'"
    if ":" in point.value or "[" in point.value:
        faults.append(f"{head}: it must name a folder of modules, or a module, and nothing in it")
        return
    try:
        module = import_module(point.value)
        found = list(_modules(module)) if hasattr(module, "__path__") else [(_name(point.value), module)]
    except (Exception, SystemExit) as error:
        faults.append(f"{head}, and that cannot be loaded: {words_of(error)}")
        return
    if not found:
        faults.append(f"{head}: there is no module in it")
    for name, one in found:
        check, wrong = known(name, one, package)
        faults += wrong
        other = checks.get(name)
        if other is not None and other.module is not one:
            who = f"the package '{other.package}'" if other.package else "Putback"
            faults.append(f"{said(name, package)} has the name of a check of {who}: give it another")
        else:
            checks[name] = check


def _modules(package: ModuleType) -> Iterator[tuple[str, ModuleType]]:
    """Yield the modules that lie in a package's folder; what begins with `_` and folders are no checks."""
    for info in iter_modules(package.__path__):
        if not (info.ispkg or info.name.startswith("_")):
            name = f"{package.__name__}.{info.name}"
            try:
                yield _name(name), import_module(name)
            except (Exception, SystemExit) as error:
                error.add_note(f"module {name}")
                raise


def _name(module: str) -> str:
    return module.rpartition(".")[2].replace("_", "-")
