"""Words that belong to no subject: marks, denials, doubts, and words that say nothing.

In: nothing. Out: `MARKS`, `DENIALS`, `DOUBTS`, `FILLERS`, `BREAKS`, and words by which a line is known to be German.
"""

from __future__ import annotations

from sitegen.filing.words.phrases import Phrases, words_in

# How another word is meant: its name, and what people say.
_MARKS = (
    ("each", "each|apiece|per plant|jeweils|je"),
    ("together", "together|combined|zusammen|insgesamt|gemeinsam"),
    (
        "a spot",
        "per spot|a spot|each spot|in each spot|per cup|a cup|per pot|a pot|per hole|per cell|per plug",
    ),
    (
        "a spot",
        "in each cup|in every spot|in each pot|pro platz|je platz|pro topf|je topf|pro becher|pro loch",
    ),
    ("every spot", "every spot|in every spot|an jedem platz|jeder platz"),
    ("in all", "in total|in all|total|altogether|overall|insgesamt|zusammen"),
    ("as labelled", "as labelled|as labeled|as the label says|nach etikett|wie auf dem etikett"),
    (
        "unweighed",
        "unweighed|not weighed|didn't weigh it|didn't weigh|did not weigh it|did not weigh|wasn't weighed",
    ),
    (
        "unweighed",
        "didn't weigh them|did not weigh them|without weighing|nicht gewogen|ungewogen|ohne wiegen",
    ),
    ("a day", "a day|per day|each day|am tag|pro tag"),
    ("order", "before|after|then|down to|from|first|vorher|nachher|davor|danach|dann|von|auf|zuerst"),
    ("any more", "any more|anymore|any longer|no longer|nicht mehr|keine mehr|mehr"),
)
MARKS = Phrases((phrase, name) for name, said in _MARKS for phrase in said.split("|"))

_DENIALS = (
    "not|no|none|nothing|no one|isn't|aren't|hasn't|haven't|wasn't|weren't|still no|not yet|yet|still",
    "nicht|nichts|kein|keine|keinen|keiner|keines|noch|noch nicht|noch keine|noch nichts|bisher|none of them",
)
DENIALS = Phrases((phrase, phrase) for said in _DENIALS for phrase in said.split("|"))
EMPHASIS = frozenset({"yet", "still", "noch", "bisher"})  # alone they deny nothing

# What makes a line no record of this visit: wishes, plans, guesses, other days, differences.
_DOUBTS = (
    "should|shall|will|would|want|wants|wanted|need|needs|needed|must|maybe|perhaps|probably|possibly|might|could",
    "tomorrow|yesterday|ago|next|last|soon|almost|nearly|not quite|just under|just over|a little over|never|without",
    "except|or|instead|forgot|forget|plan|planning|going to|if|unless|until|than|didn't|did not|don't|do not|won't",
    "can't|cannot|couldn't|shouldn't|wouldn't|?|looks like|think|thought|guess|unsure|wrong|supposed|day|days|weeks",
    "soll|sollte|sollten|will|wollte|möchte|muss|müsste|müssen|vielleicht|wahrscheinlich|könnte|morgen|gestern|nächste*",
    "bald|fast|knapp|nie|niemals|ohne|außer|oder|statt|vergessen|wenn|falls|bevor|als|tag|tage|tagen|wochen|glaube|letzte*",
)
DOUBTS = Phrases((phrase, phrase) for said in _DOUBTS for phrase in said.split("|"))
# Before an amount they make a difference of it.
DIFFERENCES = frozenset(
    {"by", "um", "another", "noch", "weitere", "plus", "+", "minus", "grew", "grown", "gewachsen"}
)

_FILLERS = (
    "the|a|an|it|its|them|they|their|i|we|he|she|is|are|was|were|has|have|had|been|be|today|now|just|also|again|so",
    "of|on|in|at|from|for|with|to|into|up|there|here|this|that|some|got|gave|did|added|put|poured",
    "all right|ok|okay|measured|read|reads",
    "der|die|das|den|dem|des|ein|eine|einen|einem|einer|er|sie|es|ich|wir|ist|sind|war|waren|hat|haben|wurde|wurden",
    "heute|jetzt|gegeben|zugegeben|dazu|gerade|auch|wieder|an|auf|bei|am|im|von|vom|mit|in|zu|zum|ins|gemessen|gewogen|dort|hier|:|=|-|(|)|'|[|]|{|}|→",
)
FILLERS = frozenset(word for said in _FILLERS for word in said.split("|"))
# Before plants they belong to them.
PREPOSITIONS = frozenset(
    {"of", "on", "in", "at", "from", "for", "an", "auf", "bei", "von", "am", "the", "den", "die"}
)

BREAKS = frozenset(
    {",", ";", ".", "!", "\n", "and", "then", "but", "while", "und", "dann", "aber", "&", "–", "—"}
)
SENTENCE_ENDS = frozenset({";", ".", "!", "\n"})

GERMAN = words_in(
    "der die das den dem des ein eine einen einem ich wir ist sind hat haben wurde und dann aber nicht "
    "noch kein keine auf bei von mit an am im alle beide einige pflanze pflanzen gramm zentimeter liter "
    "grad prozent wasser etwa ungefähr"
)
ENGLISH = words_in(
    "the an it is are was has have had and then but not no yet on of from with all both some plant plants "
    "grams inches litres liters degrees percent water about"
)
