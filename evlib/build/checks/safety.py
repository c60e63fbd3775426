"""Checks of the safety topic on a build."""
