"""Shafts: torque through the line, splines, the cut plan, the gearbox joint, bolts, and what fits under the floor."""
