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
from evlib.safety.loop import ContactorPoles, Place, Wired
from evlib.safety.quantities import (
    AllowedDrop,
    CableClearance,
    ClosingDifference,
    ColdestPack,
    ContactorBreakingCurrent,
    ContactorContinuousCurrent,
    ContactorReleaseTime,
    ContactResistance,
    CrashAcross,
    CrashAlong,
    DetectionDelay,
    DischargePowerRating,
    DischargeResistance,
    DischargeTimeAllowed,
    FixingAcross,
    FixingAlong,
    FrontAxlePlate,
    FullVacuum,
    HottestPack,
    JointCount,
    JointResistance,
    LeakNegative,
    LeakPositive,
    LeastVacuum,
    LinkCapacitance,
    LoopInductance,
    LowestCharge,
    MeterResistance,
    OhmPerVolt,
    PackMass,
    PeakTime,
    PrechargeGiveUp,
    PrechargePowerRating,
    PrechargeResistance,
    PrechargeWait,
    PropellerTravel,
    PulseEnergyRating,
    RearAxlePlate,
    ReservoirVolume,
    ServoStops,
    SteadyCurrent,
    StrokeVolume,
    TripSpeed,
    VacuumPumpFlow,
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
    precharge_give_up: PrechargeGiveUp | None = None
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
class Shutdown:
    """How the 12 V loop that holds the contactors closed is wired: where each switch stands, seen from 12 V."""

    fitted: bool = True
    key_place: Place | None = None
    emergency_place: Place | None = None
    contactor_poles: ContactorPoles | None = None
    inertia_switch: Wired | None = None
    interlock_line: Wired | None = None
    monitor_relay: Wired | None = None
    overspeed_relay: Wired | None = None
    pressure_relay: Wired | None = None


@part
class PackFixing:
    """What holds the pack in the vehicle, in a crash too."""

    fitted: bool = True
    pack_mass: PackMass | None = None
    crash_along: CrashAlong | None = None
    crash_across: CrashAcross | None = None
    fixing_along: FixingAlong | None = None
    fixing_across: FixingAcross | None = None


@part
class Plates:
    """What the vehicle's plate allows its axles, and how close the traction cables come to what turns."""

    fitted: bool = True
    front_axle_plate: FrontAxlePlate | None = None
    rear_axle_plate: RearAxlePlate | None = None
    cable_clearance: CableClearance | None = None
    propeller_travel: PropellerTravel | None = None


@part
class BrakeServo:
    """The vacuum servo of the brakes, that an engine no longer feeds."""

    fitted: bool = True
    servo_stops: ServoStops | None = None
    full_vacuum: FullVacuum | None = None
    least_vacuum: LeastVacuum | None = None
    reservoir_volume: ReservoirVolume | None = None
    stroke_volume: StrokeVolume | None = None
    vacuum_pump_flow: VacuumPumpFlow | None = None


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
    shutdown: Shutdown | None = None
    pack_fixing: PackFixing | None = None
    plates: Plates | None = None
    brake_servo: BrakeServo | None = None
