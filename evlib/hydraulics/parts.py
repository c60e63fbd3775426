"""The parts that keep the clutches applied. ``None``: *not known*; ``fitted = False``: it is not there."""

from __future__ import annotations

from typing import Literal

from evlib.ground.quantity import part
from evlib.hydraulics import quantities as q


@part
class Oil:
    """The gearbox oil, and how cold and hot it gets."""

    viscosity_40: q.Viscosity40 | None = None
    viscosity_100: q.Viscosity100 | None = None
    density_15: q.Density15 | None = None
    reference_temperature: q.ReferenceTemperature | None = None
    hot_temperature: q.HotTemperature | None = None
    cold_temperature: q.ColdTemperature | None = None


@part
class ElectricPump:
    """The 12 V pump that feeds the clutches at rest: two points of its curve, its currents and its duty."""

    fitted: bool = True
    free_flow: q.FreeFlow | None = None
    rated_flow: q.RatedFlow | None = None
    rated_pressure: q.RatedPressure | None = None
    rated_voltage: q.PumpVolts | None = None
    slip_share: q.SlipShare | None = None
    pump_relief_pressure: q.PumpReliefPressure | None = None
    free_current: q.FreeCurrent | None = None
    rated_current: q.RatedCurrent | None = None
    inrush_current: q.InrushCurrent | None = None
    spin_up_time: q.SpinUpTime | None = None
    duty_limit: q.DutyLimit | None = None
    on_share: q.OnShare | None = None


@part
class InternalPump:
    """The gearbox's own pump, turned by its input shaft."""

    displacement: q.Displacement | None = None
    internal_slip: q.InternalSlip | None = None
    clearance_growth: q.ClearanceGrowth | None = None
    back_flow: Literal["open", "outlet valve"] | None = None  # is its outlet shut when only the electric pump feeds?


@part
class CheckValve:
    """The valve that lets the electric pump feed the gearbox and stops oil from flowing back through it."""

    fitted: bool = True
    cracking_pressure: q.CrackingPressure | None = None
    check_loss: q.CheckLoss | None = None


@part
class Leakage:
    """Where oil goes at rest, measured at one pressure with oil at its reference temperature."""

    leak_test_pressure: q.TestPressure | None = None
    seal_leak: q.SealLeak | None = None
    valve_body_leak: q.ValveBodyLeak | None = None
    open_feed: q.OpenFeed | None = None


@part
class Regulator:
    """The main pressure regulator, and what now stands in for engine vacuum, throttle cable and governor."""

    regulator_set: q.RegulatorSet | None = None
    load_boost: q.LoadBoost | None = None
    reverse_boost: q.ReverseBoost | None = None
    regulator_override: q.RegulatorOverride | None = None
    load_signal: Literal["none", "always full", "follows load"] | None = None
    valve_body: Literal["automatic", "manual"] | None = None


@part
class HoldingElement:
    """One clutch or band: what it holds by, its lining, and the piston that applies it."""

    holds_by: Literal["plates", "band"] | None = None
    dynamic_friction: q.DynamicFriction | None = None
    static_friction: q.StaticFriction | None = None
    piston_outer_diameter: q.PistonOuter | None = None
    piston_inner_diameter: q.PistonInner | None = None
    return_spring_force: q.SpringForce | None = None
    fill_volume: q.FillVolume | None = None
    # plates
    friction_faces: q.Faces | None = None
    face_outer_diameter: q.FaceOuter | None = None
    face_inner_diameter: q.FaceInner | None = None
    drum_turns: Literal["yes", "no"] | None = None  # does the piston's oil turn with the drum?
    oil_bleed: Literal["none", "check ball"] | None = None
    oil_inlet_radius: q.OilRadius | None = None
    # band
    drum_diameter: q.DrumDiameter | None = None
    band_width: q.BandWidth | None = None
    wrap_angle: q.WrapAngle | None = None
    lever_ratio: q.LeverRatio | None = None
    band_sense: Literal["energising", "overrunning"] | None = None  # when the motors drive


@part
class Switch:
    """What turns the electric pump on and off, and what forbids drive without pressure."""

    switch_on_speed: q.SwitchOnSpeed | None = None
    switch_off_speed: q.SwitchOffSpeed | None = None
    switch_delay: q.SwitchDelay | None = None
    sees_direction: Literal["yes", "no"] | None = None
    hardest_braking: q.Braking | None = None
    pressure_switch: Literal["inhibits drive", "lamp only", "none"] | None = None
    inhibit_pressure: q.InhibitPressure | None = None


@part
class LaunchLimit:
    """What the controller lets the motors give while the clutches hang on the electric pump alone."""

    launch_current_low: q.LaunchCurrentForward | None = None
    launch_current_reverse: q.LaunchCurrentReverse | None = None


@part
class Line:
    """Hoses from pan to electric pump (suction) and from pump to gearbox (pressure)."""

    line_bore: q.LineBore | None = None
    line_length: q.LineLength | None = None
    line_fittings: q.LineFittings | None = None
    line_loss_allowed: q.LossTarget | None = None
    suction_bore: q.SuctionBore | None = None
    suction_length: q.SuctionLength | None = None
    suction_fittings: q.SuctionFittings | None = None
    suction_lift: q.SuctionLift | None = None
    inlet_pressure_allowed: q.InletAllowed | None = None


@part
class Supply:
    """The 12 V side of the electric pump."""

    supply_voltage: q.SupplyVolts | None = None
    pump_fuse_rating: q.FuseRating | None = None
    pump_relay_rating: q.RelayRating | None = None
    pump_wire_area: q.WireArea | None = None
    pump_wire_length: q.WireLength | None = None
    pump_wire_allowed: q.WireAllowed | None = None
    pump_drop_allowed: q.DropAllowed | None = None


@part
class Hydraulics:
    """All that holds the clutches at rest and under way; ``fitted = False`` for a build without gearbox hydraulics."""

    fitted: bool = True
    oil: Oil = Oil()
    electric_pump: ElectricPump = ElectricPump()
    internal_pump: InternalPump = InternalPump()
    check_valve: CheckValve = CheckValve()
    leakage: Leakage = Leakage()
    regulator: Regulator = Regulator()
    low: HoldingElement = HoldingElement()
    direct: HoldingElement = HoldingElement()
    reverse: HoldingElement = HoldingElement()
    switch: Switch = Switch()
    launch: LaunchLimit = LaunchLimit()
    line: Line = Line()
    supply: Supply = Supply()
