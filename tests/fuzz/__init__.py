"""A fuzzer of guides: random ones, good ones with a few things changed, and texts that are hardly YAML.

Whatever stands in the files, `lint` must answer without an exception, in bounded time, with findings at places that
exist, in the style of the house, the same each time. `python -m tests.fuzz --runs 1000000 --jobs 2` tries at length.
"""
