"""Which values of a build one can change, and how: the one table that decides what may be suggested.

- A *setting* is changed on what is already there: with a screwdriver, a keyboard, a spanner or shims.
- A *part* is bought or made to another size: a ratio, a cable, a pump, a cut. What no line below names is a part.
- A *wish* is what the owner or a rule asks for. Asking for less mends no vehicle, but it may be the right answer.
- A *fact* is given: by the donor vehicle, by nature, by how it is used. What cannot be had alone is a fact too: a
  machine with another resistance differs in all its other numbers as well; so does a gear set with one other count
  of teeth, or an oil.
"""

from __future__ import annotations

import fnmatch
import functools

SETTING, PART, WISH, FACT = "setting", "part", "wish", "fact"
KINDS = (SETTING, PART, WISH, FACT)  # in the order in which a builder would try them

# The first line that fits decides. ``*`` stands for any letters.
TABLE: tuple[tuple[str, str], ...] = (
    ("targets.*", WISH),
    ("*_allowed", WISH), ("parking.hold_grade", WISH), ("parking.reverse_grade", WISH), ("*.hill_grade", WISH),
    ("coupling.launch_cycles", WISH), ("coupling.spline_revolutions", WISH), ("*.gap_reserve", WISH),
    ("*.tail_allowance", WISH), ("*.hardest_braking", WISH), ("*.ohm_per_volt", WISH), ("*.allowed_drop", WISH),
    ("*.precharge_closing_difference", WISH), ("*.crash_a*", WISH), ("*.servo_stops", WISH),
    ("controller.motor_current_limit", SETTING), ("controller.controller_pack_current_limit", SETTING),
    ("controller.duty_limit", SETTING), ("machine.ac.regeneration_torque", SETTING),
    ("gearbox.*shift_speed", SETTING), ("gearbox.change_time", SETTING), ("gearbox.current_overlap", SETTING),
    ("final_drive.joint_angle", SETTING), ("final_drive.stud_clamp", SETTING), ("*.tightening_torque", SETTING),
    ("*.misalignment", SETTING), ("*.regulator_set", SETTING), ("*.load_boost", SETTING),
    ("*.reverse_boost", SETTING), ("*.pump_relief_pressure", SETTING), ("*.switch_o*_speed", SETTING),
    ("*.inhibit_pressure", SETTING), ("*.launch_current_*", SETTING), ("parking.selector.*", SETTING),
    ("*.pull_delay", SETTING), ("*.pull_rise", SETTING), ("*.precharge_wait", SETTING), ("*.trip_speed", SETTING),
    ("*.cable_clearance", SETTING), ("*.full_vacuum", SETTING), ("machine.wiring", SETTING),
    ("machine.*_advanced_for", SETTING), ("machine.*_drive_end_faces", SETTING), ("protection.shutdown.*", SETTING),
    ("hydraulics.regulator.load_signal", SETTING),
    ("vehicle.wheel_radius", PART), ("vehicle.*", FACT),
    ("pack.resistance_temperature_constant", FACT), ("pack.pack_temperature", FACT), ("pack.state_of_charge", FACT),
    ("controller.controller_efficiency", FACT),
    ("pack.cell_cut_off", FACT),
    ("machine.frame_conductance", PART), ("machine.*", FACT),
    ("gearbox.*_efficiency", FACT), ("gearbox.*_teeth", FACT), ("gearbox.planet_count", FACT),
    ("gearbox.tooth_module", FACT), ("gearbox.gearbox_*", FACT), ("gearbox.arrangement", FACT),
    ("gearbox.*_member", FACT), ("final_drive.final_drive_efficiency", FACT),
    ("final_drive.propeller_inertia", FACT), ("final_drive.stud_c*", FACT), ("final_drive.hub_friction", FACT),
    ("coupling.shock_factor", FACT), ("coupling.application_factor", FACT), ("coupling.rotor_distance", FACT),
    ("coupling.excitation_order", FACT), ("coupling.*_shaft.cut_length", PART),
    ("coupling.*_shaft.shaft_chamfer", PART), ("coupling.*_shaft.*", FACT), ("coupling.sleeve.spline_fit", PART),
    ("coupling.sleeve.spline_*", FACT),
    ("coupling.cut.*_rise", FACT), ("coupling.cut.*_time", FACT), ("coupling.cut.flange_expansion", FACT),
    ("coupling.cut.cutter_width", FACT), ("*.nut_factor", FACT), ("*.preload_scatter", FACT),
    ("*.face_friction", FACT), ("*.thread_shear_strength", FACT), ("*.hub_reach", PART),
    ("coupling.gearbox_joint.*", FACT), ("*.adapter_length", PART), ("*.mount_capacity", PART),
    ("coupling.package.*", FACT),
    ("hydraulics.oil.*", FACT), ("*.electric_pump.rated_flow", PART), ("*.rated_pressure", PART),
    ("*.electric_pump.*", FACT), ("hydraulics.internal_pump.*", FACT), ("hydraulics.leakage.*", FACT),
    ("hydraulics.*.friction_faces", PART), ("hydraulics.*.lever_ratio", PART),
    ("hydraulics.*.return_spring_force", PART), ("hydraulics.low.*", FACT), ("hydraulics.direct.*", FACT),
    ("hydraulics.reverse.*", FACT), ("hydraulics.supply.supply_voltage", FACT),
    ("parking.worse_grip", FACT), ("parking.park_lock.*", FACT), ("parking.handbrake.*_ratio", PART),
    ("parking.handbrake.cable_efficiency", PART), ("parking.handbrake.lining_friction", PART),
    ("parking.handbrake.*", FACT),
    ("protection.insulation.*", FACT), ("protection.short_circuit.*", FACT), ("protection.plates.*", FACT),
    ("*.link_capacitance", FACT), ("*.cable_ambient", FACT), ("*.steady_current", FACT), ("*.peak_time", FACT),
    ("*.stranding_factor", FACT), ("*.pack_mass", FACT), ("*.least_vacuum", FACT), ("*.stroke_volume", FACT),
)  # fmt: skip


@functools.cache
def kind_of(path: str) -> str:
    """Whether the value at a build path is a ``setting``, a ``part``, a ``wish`` or a ``fact``."""
    return next((kind for pattern, kind in TABLE if fnmatch.fnmatchcase(path, pattern)), PART)
