"""Gearing: road load, planetary sets, pull against road, changing gear, and the driveline behind the box."""
