"""The parts of a build's protection."""

from __future__ import annotations

from typing import Literal

from evlib.ground.fuse import (
    ArcingTime,
    ClearingIntegral,
    FuseBreakingCapacity,
    FuseCurve,
    FuseMinimumBreaking,
    FuseRating,
    FuseResistance,
    FuseTimeConstant,
    FuseVoltageRating,
)
from evlib.ground.quantity import part
from evlib.ground.wire import (
    AmbientTemperature,
    CableDiameter,
    CableLength,
    ConductorArea,
    InsulationLimit,
    ShortCircuitLimit,
    StrandingFactor,
)
from evlib.safety.quantities import (
    AllowedDrop,
    ClosingDifference,
    ColdestPack,
    ContactorBreakingCurrent,
    ContactorContinuousCurrent,
    ContactorReleaseTime,
    ContactResistance,
    DetectionDelay,
    DischargePowerRating,
    DischargeResistance,
    DischargeTimeAllowed,
    HottestPack,
    JointCount,
    JointResistance,
    LeakNegative,
    LeakPositive,
    LinkCapacitance,
    LoopInductance,
    LowestCharge,
    MeterResistance,
    OhmPerVolt,
    PeakTime,
    PrechargePowerRating,
    PrechargeResistance,
    PrechargeWait,
    PulseEnergyRating,
    SteadyCurrent,
    TripSpeed,
)


@part
class Fuse:
    """The fuse between pack and controller."""

    fitted: bool = True
    fuse_rating: FuseRating | None = None
    fuse_voltage_rating: FuseVoltageRating | None = None
    fuse_breaking_capacity: FuseBreakingCapacity | None = None
    fuse_minimum_breaking: FuseMinimumBreaking | None = None
    fuse_time_constant: FuseTimeConstant | None = None
    fuse_resistance: FuseResistance | None = None
    fuse_curve: FuseCurve | None = None
    fuse_clearing_integral: ClearingIntegral | None = None
    fuse_arcing_time: ArcingTime | None = None


@part
class Contactor:
    """The main contactor: a switch worked by a coil, that joins the pack to the controller."""

    fitted: bool = True
    contactor_continuous_current: ContactorContinuousCurrent | None = None
    contactor_breaking_current: ContactorBreakingCurrent | None = None
    contactor_release_time: ContactorReleaseTime | None = None
    contact_resistance: ContactResistance | None = None
    contactor_polarised: Literal["yes", "no"] | None = None


@part
class Precharge:
    """The resistor that fills the controller's capacitor before the main contactor closes."""

    fitted: bool = True
    link_capacitance: LinkCapacitance | None = None
    precharge_resistance: PrechargeResistance | None = None
    precharge_wait: PrechargeWait | None = None
    precharge_closing_difference: ClosingDifference | None = None
    precharge_pulse_energy: PulseEnergyRating | None = None
    precharge_power_rating: PrechargePowerRating | None = None


@part
class Discharge:
    """The resistor that empties the controller's capacitor after switching off."""

    fitted: bool = True
    discharge_resistance: DischargeResistance | None = None
    discharge_time_allowed: DischargeTimeAllowed | None = None
    discharge_power_rating: DischargePowerRating | None = None


@part
class Cable:
    """A run of two like cables, out and back."""

    fitted: bool = True
    conductor_area: ConductorArea | None = None
    cable_length: CableLength | None = None
    cable_diameter: CableDiameter | None = None
    stranding_factor: StrandingFactor | None = None
    insulation_limit: InsulationLimit | None = None
    short_circuit_limit: ShortCircuitLimit | None = None
    cable_ambient: AmbientTemperature | None = None
    steady_current: SteadyCurrent | None = None
    peak_time: PeakTime | None = None
    allowed_drop: AllowedDrop | None = None
    joint_resistance: JointResistance | None = None
    joint_count: JointCount | None = None


@part
class Insulation:
    """What holds the pack's voltage away from the chassis, as measured, and what is asked of it."""

    fitted: bool = True
    leak_positive: LeakPositive | None = None
    leak_negative: LeakNegative | None = None
    meter_resistance: MeterResistance | None = None
    ohm_per_volt: OhmPerVolt | None = None


@part
class ShortCircuit:
    """What else the current of a short circuit depends on."""

    fitted: bool = True
    coldest_pack: ColdestPack | None = None
    hottest_pack: HottestPack | None = None
    lowest_charge: LowestCharge | None = None
    loop_inductance: LoopInductance | None = None


@part
class OverspeedTrip:
    """The device that opens the main contactor when the motors turn too fast."""

    fitted: bool = True
    trip_speed: TripSpeed | None = None
    detection_delay: DetectionDelay | None = None


@part
class Protection:
    """What protects people and parts from the pack and from runaway motors."""

    fitted: bool = True
    fuse: Fuse | None = None
    contactor: Contactor | None = None
    precharge: Precharge | None = None
    discharge: Discharge | None = None
    pack_cable: Cable | None = None
    motor_cable: Cable | None = None
    insulation: Insulation | None = None
    short_circuit: ShortCircuit | None = None
    overspeed_trip: OverspeedTrip | None = None
