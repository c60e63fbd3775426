"""What every lesson's cells call: choose a build, show its numbers, compare by hand, make the checks.

A lesson begins with ``from evlib import lesson`` and ``build = lesson.start("orchard_van")``.
"""

from evlib.lesson.parts import agree, checks, compare, numbers, start, table, value, worst, write_sheet

__all__ = ["agree", "checks", "compare", "numbers", "start", "table", "value", "worst", "write_sheet"]
