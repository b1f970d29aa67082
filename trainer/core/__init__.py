"""The rules, pure: functions over frozen data, with the day or moment always an argument.

Imports ``trainer.mechanics`` and ``trainer.errors`` only: no file, clock, randomness, database, YAML or screen. Nothing
is re-exported here; import the module that has it. To understand who is competent at what, start at ``standing``.

What is given
=============  =====================================================================================================
catalogue      competencies and site figures
lessons tasks  scenes, and what a person is asked to do in them
banks          items of a quiz and the blueprint of a form
checklists     sheets for watching
records        the ledger's records, and the rows that the matrix reads
text           a sentence in several languages; ``glossary`` puts the site's own words into it
durations      ``P12M`` and the days it leads to
units          exact factors between SI and US oilfield units, and figures written with their unit
rig            the site's pipe, string, slips and mud

Standing
=============  =====================================================================================================
standing       ``fold``, ``fold_hand``, ``refold``: catalogue, evidence, stays and a date to a matrix
deciding       the truth table by which one standing applies
matrix         what comes out: cells, standings, reasons
columns        evidence and stays as NumPy columns in the one order; ``recordids`` packs their ids
roster         who is on the matrix on a day
calendars      durations as tables over the days that occur
latest parts   the last rows of each kind; through which day each part holds
due hitch      due dates, working days and cycles
holding        what one hand holds on one day, for observations
progress       how far a hand is with each part, for the card
firstdays      a new hand's subjects in their order, and what he leaves alone until each is held
signoffs       sign-offs that deserve a second look

Quizzes and lessons
=============  =====================================================================================================
forms          drawing a form that the same seed gives again
marking        one answer, one form; ``placing`` marks a crew on the handles, ``workings`` holds the sums
lifted         who lifts how much of the set once a crew is placed on its handles
answers        answers to JSON and back
sheets         a drawn sheet as the choice that it is; ``readings`` has its figures and how each is read
shown telling  what a browser may know before an answer, and what is said after it; ``beside`` puts US by SI in it
retakes        when a quiz may be taken again
playing        a path through a lesson
passcurve      how likely a form is passed
itemstats      how items and observers behave

The rig's own figures
=============  =====================================================================================================
reckoned       what hangs, who lifts what, what worn contact leaves, how high a joint may stand
stopping       a sudden stop as a line against time and as a moving string
bound          what a scene's mistake comes to on this rig; ``onsite`` fills it into a lesson

Watching, talking, and tables that come in
=============  =====================================================================================================
observation    what a watch amounts to, and who may observe whom
tours          on which day a tour counts
tailgate       a talk's points and questions; ``talktopics`` says what to talk about next
gear           slip sets and bowls: what was done to them, and whether they may stand in the table
sitechanges    what is different between two sets of site figures, and what may not change
sitewatch      how many hands and connections the site wants seen in a watch, and what falls short
rows           rows of an imported table; ``crewlist`` and ``earlier`` decide what a roster and evidence file change
"""

__all__: list[str] = []
