"""The site's words: `site.pot` with every message, a catalogue `<language>.po` for each language it is there in.

In: the sources and templates. Out: the two kinds of file, brought up to date by `python -m sitegen.words`. No module here
is imported when a site is made: `ingest.words` reads the catalogues.
"""
