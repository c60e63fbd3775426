"""Hydraulics: keeping an automatic gearbox's clutches applied when the motors do not turn."""
