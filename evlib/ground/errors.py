"""Errors that say in one sentence what was given and what is allowed."""

from __future__ import annotations


class OutOfRange(ValueError):
    """A value lies outside the table or correlation that would be asked about it.

    Raised instead of clamping or extrapolating. Names the quantity, the value, the range and the range's source.
    """

    def __init__(self, name: str, value: object, low: float, high: float, source: str) -> None:
        self.name, self.value, self.low, self.high, self.source = name, value, low, high, source
        super().__init__(f"{name}: {value} is outside {low:g} to {high:g}, the range of {source}")


class NotKnown(LookupError):
    """A build does not state a value that a calculation needs."""

    def __init__(self, path: str, how: str = "") -> None:
        self.path, self.how = path, how
        super().__init__(f"{path} is not known" + (f": {how}" if how else ""))


class DoesNotApply(LookupError):
    """A calculation is about a part that this build declares as not fitted."""

    def __init__(self, why: str) -> None:
        self.why = why
        super().__init__(why)
