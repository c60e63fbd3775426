"""Checks of the gearing topic on a build."""
