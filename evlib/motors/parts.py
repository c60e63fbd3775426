"""The parts of a build that this topic declares: pack, controller, machine. What is not stated is not known."""

from __future__ import annotations

from typing import Literal

from evlib.ground.quantity import part
from evlib.motors import quantities as q

Turn = Literal["clockwise", "counter-clockwise"]
Facing = Literal["gearbox", "front"]


@part
class Pack:
    """The traction battery: equal cells in series and parallel, with its links and cables."""

    fitted: bool = True
    cells_in_series: q.CellsInSeries | None = None
    cells_in_parallel: q.CellsInParallel | None = None
    cell_capacity: q.CellCapacity | None = None
    cell_open_voltage: q.CellOpenVoltage | None = None
    cell_resistance: q.CellResistance | None = None
    link_resistance: q.LinkResistance | None = None
    resistance_temperature_constant: q.ResistanceTemperatureConstant | None = None
    pack_temperature: q.PackTemperature | None = None
    state_of_charge: q.StateOfCharge | None = None
    cell_cut_off: q.CellCutOff | None = None
    pack_current_limit: q.PackCurrentLimit | None = None


@part
class Controller:
    """The motor controller or controllers: limits are those of one of them."""

    fitted: bool = True
    arrangement: Literal["one for all", "one each"] | None = None
    motor_current_limit: q.MotorCurrentLimit | None = None
    controller_pack_current_limit: q.ControllerPackCurrentLimit | None = None
    duty_limit: q.DutyLimit | None = None
    controller_efficiency: q.ControllerEfficiency | None = None
    ripple_current_limit: q.RippleCurrentLimit | None = None


@part
class AcMachine:
    """What an AC machine with its inverter is known by; for a DC build it is left out."""

    fitted: bool = True
    peak_torque: q.PeakTorque | None = None
    base_speed: q.BaseSpeed | None = None
    pull_out_speed: q.PullOutSpeed | None = None
    regeneration_torque: q.RegenerationTorque | None = None
    ac_efficiency: q.AcEfficiency | None = None


@part
class Machine:
    """The machines on the shaft; every value is that of one of them. A DC build leaves ``ac`` out."""

    fitted: bool = True
    kind: Literal["series", "ac"] | None = None
    machine_count: q.MachineCount | None = None
    wiring: Literal["series", "parallel"] | None = None
    speed_limit: q.SpeedLimit | None = None
    rotor_inertia: q.RotorInertia | None = None
    machine_mass: q.MachineMass | None = None
    # series machine
    mutual_inductance: q.MutualInductance | None = None
    saturation_current: q.SaturationCurrent | None = None
    magnetisation_curve: q.MagnetisationCurve | None = None  # measured; used in place of the two constants above
    winding_resistance: q.WindingResistance | None = None
    brush_drop: q.BrushDrop | None = None
    friction_torque: q.FrictionTorque | None = None
    windage_coefficient: q.WindageCoefficient | None = None
    iron_conductance: q.IronConductance | None = None
    # commutator and brushes
    commutator_bars: q.CommutatorBars | None = None
    poles: q.Poles | None = None
    bar_volts_limit: q.BarVoltsLimit | None = None
    brush_current_limit: q.BrushCurrentLimit | None = None
    stall_current: q.StallCurrent | None = None
    stall_time: q.StallTime | None = None
    # rotation: where each drive end looks, which way the gearbox pump must turn (seen from the front of the line,
    # looking towards the gearbox), which way the maker's connection turns the shaft and the brushes are advanced for
    # (both seen looking at the drive end)
    first_drive_end_faces: Facing | None = None
    second_drive_end_faces: Facing | None = None
    pump_turns: Turn | None = None
    standard_rotation: Turn | None = None
    first_advanced_for: Turn | Literal["neutral"] | None = None
    second_advanced_for: Turn | Literal["neutral"] | None = None
    # heat
    winding_limit: q.WindingLimit | None = None
    winding_heat_capacity: q.WindingHeatCapacity | None = None
    frame_heat_capacity: q.FrameHeatCapacity | None = None
    winding_conductance: q.WindingConductance | None = None
    frame_conductance: q.FrameConductance | None = None
    frame_conductance_still: q.FrameConductanceStill | None = None  # blower off
    ac: AcMachine | None = None
