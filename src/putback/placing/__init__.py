"""What was made takes its place as a whole or not at all, and nothing that somebody else made is lost.

`scratch` is a folder beside the place in which things are made. `lock` keeps two programs from placing into one folder
at once. `switch` puts everything in place together, and finishes or takes back what a killed program left half done.
"""
