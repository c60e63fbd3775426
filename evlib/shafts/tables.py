"""Numbers that the shafts topic reads, each with where it comes from. Tests pin their sums."""

from __future__ import annotations

from evlib.ground.quantity import result

PSI = 6894.757293  # Pa; NIST SP 811
INCH = 0.0254  # m


@result
class SplineSteel:
    """What a steel in one state may bear in a spline [Pa]; compression is for straight and for crowned teeth."""

    shear: float
    straight: float
    crowned: float
    tension: float


# Dudley, When Splines Need Stress Control, Product Engineering 1957, tables I, V and VII, as Machinery's Handbook
# gives them (table "Allowable Shear, Compressive, and Tensile Stresses for Splines"). psi.
SPLINE_STEEL_PSI: dict[str, tuple[float, float, float, float]] = {
    "steel 160-200 HB": (20e3, 1.5e3, 6e3, 22e3),
    "steel 230-260 HB": (30e3, 2e3, 8e3, 32e3),
    "steel 33-38 HRC": (40e3, 3e3, 12e3, 45e3),
    "surface hardened 48-53 HRC": (40e3, 4e3, 16e3, 45e3),
    "case hardened 58-63 HRC": (50e3, 5e3, 20e3, 55e3),
}
SPLINE_STEEL = {name: SplineSteel(*(PSI * value for value in row)) for name, row in SPLINE_STEEL_PSI.items()}

# Dudley, table II: application factor Ka by power source, for an even load, light, intermittent and heavy shock.
APPLICATION = {
    "even (turbine, motor)": (1.0, 1.2, 1.5, 1.8),
    "light shock (hydraulic motor)": (1.2, 1.3, 1.8, 2.1),
    "medium shock (combustion engine)": (2.0, 2.2, 2.4, 2.8),
}
# Dudley, table III: torque cycles (one start and one stop), factor one way, factor fully reversed.
FATIGUE_LIFE = ((1e3, 1.8, 1.8), (1e4, 1.0, 1.0), (1e5, 0.5, 0.4), (1e6, 0.4, 0.3), (1e7, 0.3, 0.2))
# Dudley, table VI: revolutions, wear factor of flexible splines.
WEAR_LIFE = ((1e4, 4.0), (1e5, 2.8), (1e6, 2.0), (1e7, 1.4), (1e8, 1.0), (1e9, 0.7), (1e10, 0.5))
# Dudley, table IV: misalignment [rad] against face width [in] of flexible splines. Fixed splines: 1.
MISALIGNMENTS = (0.001, 0.002, 0.004, 0.008)
FACE_WIDTHS = (0.5, 1.0, 2.0, 4.0)
LOAD_DISTRIBUTION = ((1, 1, 1, 1.5), (1, 1, 1.5, 2), (1, 1.5, 2, 2.5), (1.5, 2, 2.5, 3))

# Tooth heights in modules, added to the number of teeth: internal major, external major, internal minor, external
# minor. ANSI B92.1 (inch) and ANSI B92.2M / ISO 4156 (metric), basic dimensions with es = 0; secondary sources.
# The inch standard gives other external minor diameters for 16/32 and finer: measure the shaft there.
TOOTH_HEIGHTS: dict[tuple[str, float, str], tuple[float, float, float, float]] = {
    ("inch", 30.0, "flat"): (1.35, 1.0, -1.0, -1.35),
    ("inch", 30.0, "fillet"): (1.8, 1.0, -1.0, -1.8),
    ("metric", 30.0, "flat"): (1.5, 1.0, -1.0, -1.5),
    ("metric", 30.0, "fillet"): (1.8, 1.0, -1.0, -1.8),
    ("metric", 37.5, "fillet"): (1.4, 0.9, -0.9, -1.4),
    ("metric", 45.0, "fillet"): (1.2, 0.8, -0.8, -1.2),
}

# ASME B17.1, square keys: shaft diameter up to and including [in], key width [in]. Shigley 9th ed., table 7-6.
INCH_KEYS = (
    (5 / 16, None), (7 / 16, 3 / 32), (9 / 16, 1 / 8), (7 / 8, 3 / 16), (1.25, 1 / 4), (1.375, 5 / 16), (1.75, 3 / 8),
    (2.25, 1 / 2), (2.75, 5 / 8), (3.25, 3 / 4),
)  # fmt: skip
# ISO 773 / DIN 6885-1: shaft diameter over [mm], width, height, depth in the shaft [mm]. From memory.
METRIC_KEYS = (
    (12, 5, 5, 3.0), (17, 6, 6, 3.5), (22, 8, 7, 4.0), (30, 10, 8, 5.0), (38, 12, 8, 5.0), (44, 14, 9, 5.5),
    (50, 16, 10, 6.0), (58, 18, 11, 7.0), (65, 20, 12, 7.5),
)  # fmt: skip
METRIC_KEY_END = 75.0  # mm; the last row reaches to here

# ISO 898-1:2013: proof stress and tensile strength [MPa] by class; 8.8 to 16 mm and above.
PROOF_STRESS = {"8.8": (580.0, 600.0), "9.8": (650.0, 650.0), "10.9": (830.0, 830.0), "12.9": (970.0, 970.0)}
TENSILE_STRENGTH = {"8.8": (800.0, 830.0), "9.8": (900.0, 900.0), "10.9": (1040.0, 1040.0), "12.9": (1220.0, 1220.0)}

# ISO 286-1: sizes over/up to [mm] and standard tolerances IT5 to IT9 [micrometre].
SIZE_STEPS = (3.0, 6.0, 10.0, 18.0, 30.0, 50.0, 80.0, 120.0, 180.0)
STANDARD_TOLERANCE = {
    5: (5, 6, 8, 9, 11, 13, 15, 18), 6: (8, 9, 11, 13, 16, 19, 22, 25), 7: (12, 15, 18, 21, 25, 30, 35, 40),
    8: (18, 22, 27, 33, 39, 46, 54, 63), 9: (30, 36, 43, 52, 62, 74, 87, 100),
}  # fmt: skip
# ISO 286-1: fundamental deviations of shafts [micrometre]: upper for f, g, h; lower for k (grades 5 to 7), m, n, p.
SHAFT_DEVIATION = {
    "f": (-10, -13, -16, -20, -25, -30, -36, -43), "g": (-4, -5, -6, -7, -9, -10, -12, -14),
    "h": (0, 0, 0, 0, 0, 0, 0, 0), "k": (1, 1, 1, 2, 2, 2, 3, 3), "m": (4, 6, 7, 8, 9, 11, 13, 15),
    "n": (8, 10, 12, 15, 17, 20, 23, 27), "p": (12, 15, 18, 22, 26, 32, 37, 43),
}  # fmt: skip

# Linear expansion near room temperature [1/K]; handbook values.
STEEL_EXPANSION = 11.7e-6
CAST_IRON_EXPANSION = 10.5e-6
ALUMINIUM_EXPANSION = 23.0e-6

# Keyseats and fillets: bending Kt, torsion Kts. Shigley 9th ed., p. 373 (first estimates, r/d = 0.02).
KEYSEAT_BENDING, KEYSEAT_TORSION = 2.14, 3.0
