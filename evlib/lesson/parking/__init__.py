"""What the cells of the parking lesson call: sums on paper, the story of one trip, the selector, slowing."""

from evlib.lesson.parking.sums import dropping_in, pawl, rolling_back, strengths, ways_on_paper
from evlib.lesson.parking.tried import braked, gripped, pressed, requests, rolled_on, selector_table
from evlib.lesson.parking.trip import STORY, caught, forgotten, proof, rolls, shoes, slowing, story, swapped, taken_up

__all__ = [
    "STORY", "braked", "caught", "dropping_in", "forgotten", "gripped", "pawl", "pressed", "proof", "requests",
    "rolled_on", "rolling_back", "rolls", "selector_table", "shoes", "slowing", "story", "strengths", "swapped",
    "taken_up", "ways_on_paper",
]  # fmt: skip
