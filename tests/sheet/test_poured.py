"""How much of each fluid a job takes in all."""

from __future__ import annotations
