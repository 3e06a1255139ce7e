"""Arms of one run, and runs with one another.

Whatever divides the plants of a run is an arm of it: groups, tubs or varieties (`core/records/arms.py`). `measure`
gives each its figures (`measure/run/plant_sets.py`); `across/run_arms.py` takes those into `RunArms`, a part of the
run's summary, so that comparing measures nothing again.

`RunArms` of several runs → `across/comparison.py` → `Comparison`: independent units (`units.py`: one tub at one
time counts once), pairs of varieties and of systems, and for each its row of the decision table (`evidence.py`,
with the tests of `significance.py`). `differences.py` names what else differed, `outlook.py` what is to come in a
run that still grows. The types lie in `core/facts/across.py`, and so does the protocol `Across`: a page calls these
functions through its context, since `render` imports no other stage. What may be said stands in
`render/story/evidence/evidence_words.py`, and as a table on the methods page.

An index page reads the summaries of its runs. The page of a run reads of the last three runs of its crop before it
what it shows of them (`nearest` in `core/site/site_map.py`: title, date, conditions), and while it grows, of all before
it what its outlook reads (`for_outlook`). A photo, an answer or a height of an earlier run so makes no other run's page
again, a circumstance or a pick does. Summaries are made before any page of a run.
"""
