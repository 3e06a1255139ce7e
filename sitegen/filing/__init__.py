"""Text, spreadsheets and pictures → records in the files of a journal.

In: what an author says, types or drops in. Out: the new content of files of the journal, and how to take it back. Only
this stage knows how a file of the journal is changed: every byte that is not about the change stays as it was.
"""
