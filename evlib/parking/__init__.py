"""Parking and reversing: holding a car whose motors freewheel, and going backwards safely."""
