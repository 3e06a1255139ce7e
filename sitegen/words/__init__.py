"""Translations of the site: `site.pot` with all messages, a catalogue `<language>.po` for each language.

In: the sources and templates. Out: both kinds of file, updated by `python -m sitegen.words`. No module of this
folder is imported when a site is built: `ingest.catalogues` reads the files.

The site's own words are English messages in the code and the templates; `sitegen/core/language/catalogue.py` says
how they are wrapped. Findings and what commands print are English and are not. A journal's `language:` chooses the
catalogue `sitegen/words/<language>.po` (`de-AT` takes `de`), and numbers, dates and plurals of its locale.

1. `python -m sitegen.words fr` begins `sitegen/words/fr.po`, and brings the others up to date. It finds every message;
   run it again whenever one was added or changed.
2. Write the words after each `msgstr`. `{named}` places and markup stay as they are, in any order. The header
   `Plural-Forms`, which is there already, says how many forms a counted message has. A message without words is shown in
   English.
3. Add the language to the help in `tests/journals/broken/untranslated.txt`, which names all that there are.
4. `pytest tests/words tests/test_findings.py` fails where a catalogue is out of date, has messages without words or
   doubtful ones, or loses a place; it also writes the demo in a language of marks, and fails at any word on a page that
   is not a message (`python -m tests.words.leftovers` lists them).

A journal can bring `look/words/<language>.po` of its own: for a language that is not here, or to say a few things
otherwise, in English too. What such a file gets wrong is a finding.
"""
