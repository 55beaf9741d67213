"""What the script of a job's page knows: the sheet and the ledger as data, shipped beside the page."""

from putback.sphinxext.tracked.data import data_of
from putback.sphinxext.tracked.script import script_of

__all__ = ["data_of", "script_of"]
