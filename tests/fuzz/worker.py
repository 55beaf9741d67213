"""One target under the fuzzer, in a process of its own: `python -m tests.fuzz.worker TARGET FAILURES [OPTION ...]`.

What fails is written into the folder FAILURES, once a kind, and the fuzzer goes on. The options are those of libFuzzer.
"""

from __future__ import annotations

import json
import shlex
import sys
from pathlib import Path

import atheris


def main() -> None:
    """Fuzz one target."""
    name, folder, *options = sys.argv[1:]
    with atheris.instrument_imports(include=["putback"]):
        from tests.fuzz.attempting import attempted
        from tests.fuzz.corpus import kept
        from tests.fuzz.targets import attempt_of

        attempt, failures = attempt_of(name), Path(folder)
        for data in kept(name):  # so that what is imported late is seen as well
            attempted(attempt, data)

    def one(data: bytes) -> None:
        failure = attempted(attempt, data).failure
        if failure is not None:
            path = failures / f"{failure.stem}.json"
            found = {"failed": failure.kind, "detail": failure.detail, "target": name, "input": data.decode("latin-1")}
            if not path.exists() or len(data) < len(json.loads(path.read_text(encoding="utf-8"))["input"]):
                path.write_text(json.dumps(found, indent=1) + "\n", encoding="utf-8")

    # To merge, libFuzzer calls a shell with the first argument and its own options.
    again = shlex.join([sys.executable, "-m", "tests.fuzz.worker", name, folder])
    atheris.Setup([again, *options], one)
    atheris.Fuzz()


if __name__ == "__main__":
    main()
