"""The small package is run on its own, as that of somebody else."""

collect_ignore = ["package"]
