"""What authors wrote, in other languages: which texts there are, a catalogue of each, and a guide that says them so.

A guide is proved as its author wrote it, and printed in another language from the catalogues in its `translations/`.
The library's texts come with Putback, and so do their translations.
"""
