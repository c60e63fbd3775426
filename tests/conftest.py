"""For every test: an example may take its time, because how long it takes says more of the machine than of the code."""

from hypothesis import settings

settings.register_profile("no clock", deadline=None)
settings.load_profile("no clock")
