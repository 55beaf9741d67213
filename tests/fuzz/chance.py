"""Chance that is read from bytes: a fuzzer that changes the bytes changes what is drawn, a choice at a time."""

from __future__ import annotations

from random import Random


class Chance(Random):
    """A source of chance that takes each choice from some bytes; when they are used up, always the smaller thing."""

    def __init__(self, data: bytes) -> None:
        super().__init__(0)
        self.data = data
        self.used = 0

    def random(self) -> float:
        """Return a number from 0 to below 1: of one byte."""
        if self.used >= len(self.data):
            return 0.999  # what happens with some probability does not
        self.used += 1
        return self.data[self.used - 1] / 256

    def getrandbits(self, k: int) -> int:
        """Return a number of so many bits."""
        size = (k + 7) // 8
        found = int.from_bytes(self.data[self.used : self.used + size], "little")
        self.used += size
        return found & ((1 << k) - 1)

    def _randbelow(self, n: int) -> int:
        # That of the library throws numbers away, and takes more bytes.
        return self.getrandbits(max(n.bit_length(), 8)) % n
