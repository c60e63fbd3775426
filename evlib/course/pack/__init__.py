"""The teacher's pack: plan, expected wrong answers, marking, worksheets and key, safety sheet, competences, slides."""

from evlib.course.pack.make import arguments, run

__all__ = ["arguments", "run"]
