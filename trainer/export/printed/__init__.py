"""What is printed: sheets as PDF, pure, one module a sheet, each a frozen report and ``render(report, words, now)``.

``pocket`` is the card for the floor, ``tailgate`` the sheet of a talk, ``talk`` one that was held, ``wall`` one crew
for the doghouse, ``poster`` the whole matrix, ``record`` one hand's card, ``watch`` a signed observation,
``orientation`` the first day.

Start at ``canvas``: the one page to draw on, in millimetres, and the only module that knows the PDF library. ``signs``
draws shapes, ``forms`` what is filled in by hand, ``blocks`` what flows down a page, ``grid`` hands by competencies;
``source`` says where a sheet comes from, ``missing`` what a hand still lacks. The same report at the same moment gives
the same bytes. Imported only where something is printed, because the library takes half a second.
"""
