"""Records that were kept elsewhere → the draft of a run: spreadsheets and diaries.

In: the cells of sheets, the text of a diary, what the author answers. Out: the text of an experiment.yaml with
everything that was assumed, and everything that could not be read, in words and with its place. Nothing of the source is
lost, and no guess is silent.
"""
