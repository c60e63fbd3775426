"""Checks of the motors topic on a build."""
