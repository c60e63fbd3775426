"""Checks of the shafts topic on a build."""
