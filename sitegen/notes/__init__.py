"""Episode notes: what is told of a run, spoken and written, from its facts.

`sitegen notes` asks `pipeline/notes/material.py` for `Material`: the facts of a run (kept in the store), its
earlier runs, its outlook. `notes/moments/` finds what could be told, a module a subject: a `Moment` is one thing
with its sentences. `scoring.py` gives each its points (the table is `BASE` in `moments/moment.py`) and obeys
`tell:`; `joining.py` puts sentences in a row; `kinds/` has a module for each kind of notes; `markdown.py`,
`data.py` and a journal's template (`templates.py`) write the draft.

A sentence is a `Passage`: text and values by reference. Its text holds no digit and no number word
(`tests/notes/test_literal_text.py`), a value that is missing unmakes it, and it carries the lines that it rests on.
`speech/` says values aloud: number words, fractions for the ear, days with their preposition. `check/` is the way
back: a narration becomes sentences and claims (`sentences/`; numbers by `core/language/number_words/`), and
verdicts (`verdicts.py`) by what is known of the run: `known_of/` has a module for each kind of number that a log
holds. `python -m tests.notes.check.spoken_claims` measures it on a table of claims, each with the verdict that a person
gives.

Number words are written by a small table of our own: the libraries for that are not under permissive licences.
"""
