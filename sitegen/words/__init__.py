"""Translations of the site: `site.pot` with all messages, a catalogue `<language>.po` for each language.

In: the sources and templates. Out: both kinds of file, updated by `python -m sitegen.words`. No module of this folder is
imported when a site is built: `ingest.catalogues` reads the files.
"""
