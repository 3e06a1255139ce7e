"""What an author says of a visit → keys of an entry: rules by subject, English and German.

In: a line as spoken or typed, what is known of the run. Out: `Understood`: fields, and a note of what no rule took.
The function is `understood` of the module `understanding`.

`line.py` makes atoms of a line (names, amounts, words of rules), `sentences.py` parts of a sentence,
`understanding.py` gives each part to the rules; a module a subject has the words and makes the value, or None where
it is not certain: then the words become the note. A new word is one word in a table, and a line in
`tests/filing/words/lines.txt` with what it has to become.
"""

from sitegen.filing.words.known import Known, Understood

__all__ = ["Known", "Understood"]
