"""The machine and its jobs, as plain frozen data.

`machine` and `job` hold the records, `reading` and the `build_*` modules make them from loaded files. Names that a file
uses are kept as `Ref`: whether they exist is for the checks to say. `verbs` has one record for each verb, that says all
of it; `states` is what the account of a thing can hold.
"""
