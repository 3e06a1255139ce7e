"""The build engine: what a journal is made of, what a step reads of it, and which steps are out of date.

`files` and `snapshot` say what there is, `inputs` records what a step reads, `steps` are the steps of a run,
`run_builder` makes them, `processes` has them made by `workers`, `run_pages` orders the pages of many runs,
`stored_results` keeps them, `build` brings all of them up to date.
"""
