"""`.ci/catalogues.py` as a module."""

from __future__ import annotations

import importlib.util
import sys
from pathlib import Path
from typing import Any


def tool() -> Any:
    """Return the module; it lies in a folder that is no package."""
    if "catalogues_tool" not in sys.modules:
        spec = importlib.util.spec_from_file_location("catalogues_tool", Path(".ci/catalogues.py"))
        assert spec is not None
        assert spec.loader is not None
        module = importlib.util.module_from_spec(spec)
        sys.modules["catalogues_tool"] = module
        spec.loader.exec_module(module)
    return sys.modules["catalogues_tool"]
