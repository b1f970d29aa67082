"""What people do, one module a thing: each function takes a ``Desk`` and plain arguments, and asks ``may`` first.

Start at ``desk`` (what an action is given), ``opening`` (how a desk is made) and ``may`` (which role may do what).
``look`` is how anybody reads. ``setup`` and ``signing_in`` come before anybody is known; ``people``, ``importing`` and
``voiding`` are the office's; ``learning``, ``quizzing`` and ``watching`` with their helpers are the crew's;
``proposing``, ``tailgating`` and ``vouching`` (over ``meetings``) are a driller's tailgate. A function returns a result
or raises one of ``trainer.errors``. May import ``trainer.core``, ``mechanics`` and ``store``.
"""
