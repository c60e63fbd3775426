"""Exercises: declared once, numbers of the learner's own, one marker, two ways in.

A lesson's cells begin with ``from evlib.exercises import answer, ask, outcome, predict, solution``.
"""

from evlib.exercises.box import answer, ask, my_code, numbers_of, outcome, predict, right_at_once, solution

__all__ = ["answer", "ask", "my_code", "numbers_of", "outcome", "predict", "right_at_once", "solution"]
