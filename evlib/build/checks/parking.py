"""Checks of the parking topic on a build."""
