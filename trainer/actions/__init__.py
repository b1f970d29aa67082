"""What people do, one module a thing: each function takes a ``Desk`` and plain arguments, and asks ``may`` first.

Start at ``desk`` (what an action is given), ``opening`` (how a desk is made) and ``may`` (which role may do what).
``look`` is how anybody reads, ``printing`` what only paper needs. ``setup`` and ``signing_in`` come before anybody is
known; ``people``, ``importing`` and ``voiding`` are the office's; ``learning``, ``quizzing`` and ``watching`` with
their helpers are the crew's; ``reinstating``, ``dispensing`` and ``leaving_off`` say who may work the slips,
``dispensed`` reads the second of them, ``allowing`` what speaks against it, ``bringing`` keeps
what was typed to bring a hand back, and ``seconds`` is whoever agrees; ``reckoning`` gives the rig's figures;
``proposing``, ``tailgating`` with its two helpers and ``vouching`` (over ``meetings``) are a driller's tailgate. A
function returns a result or raises one of ``trainer.errors``. May import ``trainer.core``, ``mechanics`` and ``store``.
"""
