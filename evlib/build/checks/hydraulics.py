"""Checks of the hydraulics topic on a build."""
