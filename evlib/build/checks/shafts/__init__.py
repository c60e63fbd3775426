"""Checks of the shafts topic on a build: strength, cut plan, frames, gearbox joint, the whole line."""

from evlib.build.checks.shafts import cut, frames, joint, strength, whole

__all__ = ["cut", "frames", "joint", "strength", "whole"]
