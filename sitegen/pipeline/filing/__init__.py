"""Commands that change the files of a journal: what is to be written is read and judged first, in memory.

`sitegen log` asks `pipeline/filing/`: `meaning.py` tells keys from words, `planning.py` reads and judges the file
as it would be, in memory, and finds what the entry brings; `entries.py` writes it under the journal's lock.
`filing/entries/append.py` says where the bytes go, `undo.py` keeps them.

`sitegen log --from inbox.txt`: `filing/inbox/lines.py` reads lines into visits, `written_days.py` and
`run_names.py` their days and names (`dates.py` reads days and dates for all of `filing`); `placing.py` finds the
one experiment of each, by name and by the days on which it grew. A plan judges each entry in memory
(`pipeline/filing/planning.py`): what would be an error stays in the inbox.

The logs and the inbox change together (`filing/inbox/transaction.py`). An *intent* is written beside the inbox
first: every file before and after, and the inbox in pieces with the logs that each goes to. Then the logs are
replaced, then the inbox, then the intent is removed; a command that finds one finishes it. A file that is neither
as before nor as after was changed by the author: it is not touched, and its lines stay unless it holds them. Lines
are told apart by their place, never by their text. `tests/kills/killing.py` kills a filing before each of its file
operations.

`sitegen log --photos FOLDER` copies under a free name, beside the place and then renamed (`filing/new_file.py`); a
photo is known by its digest, and the log needs no entry for it.
"""
