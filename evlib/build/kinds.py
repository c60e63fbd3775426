"""Which values of a build one can change, and how: the one table that decides what may be suggested.

- A *setting* is changed on what is already there: with a screwdriver, a keyboard, a spanner or shims.
- A *part* is bought or made to another size: a ratio, a cable, a pump, a cut. What no line below names is a part.
- A *wish* is what the owner asks for. Asking for less mends no vehicle, but it may be the right answer.
- A *rule* protects people or a material: it is asked for, and not bargained with. Nothing suggests to ask for less.
- A *fact* is given: by the donor vehicle, by nature, by how it is used. What cannot be had alone is a fact too: a
  machine with another resistance differs in all its other numbers as well; so does a gear set with one other count
  of teeth, or an oil.
"""

from __future__ import annotations

import fnmatch
import functools

SETTING, PART, WISH, RULE, FACT = "setting", "part", "wish", "rule", "fact"
KINDS = (SETTING, PART, WISH, RULE, FACT)
CHANGEABLE = (SETTING, PART, WISH)  # what may be suggested

# The first line that fits decides. ``*`` stands for any letters.
TABLE: tuple[tuple[str, str], ...] = (
    ("targets.hottest_air", FACT), ("targets.*", WISH), ("parking.reverse_grade", WISH), ("*.hill_grade", WISH),
    ("*.rollback_allowed", WISH), ("*.line_loss_allowed", WISH), ("*.pump_drop_allowed", WISH),
    ("coupling.launch_cycles", WISH), ("coupling.spline_revolutions", WISH), ("*.tail_allowance", WISH),
    ("*.allowed_drop", WISH),
    ("*_allowed", RULE), ("parking.hold_grade", RULE), ("*.gap_reserve", RULE), ("*.hardest_braking", RULE),
    ("*.ohm_per_volt", RULE), ("*.precharge_closing_difference", RULE), ("*.crash_a*", RULE), ("*.servo_stops", RULE),
    ("controller.motor_current_limit", SETTING), ("controller.controller_pack_current_limit", SETTING),
    ("controller.duty_limit", SETTING), ("machine.ac.regeneration_torque", SETTING),
    ("gearbox.*shift_speed", SETTING), ("gearbox.change_time", SETTING), ("gearbox.current_overlap", SETTING),
    ("final_drive.joint_angle", SETTING), ("final_drive.stud_clamp", SETTING), ("*.tightening_torque", SETTING),
    ("*.misalignment", SETTING), ("*.regulator_set", SETTING), ("*.load_boost", SETTING),
    ("*.reverse_boost", SETTING), ("*.pump_relief_pressure", SETTING), ("*.switch_o*_speed", SETTING),
    ("*.inhibit_pressure", SETTING), ("*.launch_current_*", SETTING), ("parking.selector.*", SETTING),
    ("*.pull_delay", SETTING), ("*.pull_rise", SETTING), ("*.precharge_[wg]*", SETTING), ("*.trip_speed", SETTING),
    ("*.cable_clearance", SETTING), ("*.full_vacuum", SETTING), ("machine.wiring", SETTING),
    ("machine.*_advanced_for", SETTING), ("machine.*_drive_end_faces", SETTING), ("protection.shutdown.*", SETTING),
    ("hydraulics.regulator.load_signal", SETTING),
    ("vehicle.wheel_radius", PART), ("vehicle.*", FACT),
    ("pack.resistance_temperature_constant", FACT), ("pack.pack_temperature", FACT), ("pack.state_of_charge", FACT),
    ("controller.controller_efficiency", FACT),
    ("pack.cell_*", FACT),
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
    ("*.stranding_factor", FACT), ("*.cable_diameter", FACT), ("*.pack_mass", FACT),
    ("*.least_vacuum", FACT), ("*.stroke_volume", FACT),
)  # fmt: skip


@functools.cache
def kind_of(path: str) -> str:
    """Whether the value at a build path is a ``setting``, a ``part``, a ``wish``, a ``rule`` or a ``fact``."""
    return next((kind for pattern, kind in TABLE if fnmatch.fnmatchcase(path, pattern)), PART)
