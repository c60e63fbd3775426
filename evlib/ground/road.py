"""The road: what it asks of a vehicle, and how much load each axle carries. Shared by gearing and parking."""

from __future__ import annotations

from typing import Annotated, Literal

import numpy as np

from evlib.ground.errors import OutOfRange
from evlib.ground.quantity import Number, Quantity, calculation, result

GRAVITY = 9.80665  # m/s2; standard value, ISO 80000-3
GAS_CONSTANT_AIR = 287.053  # J/(kg K); ISO 2533 standard atmosphere
SEA_LEVEL_PRESSURE = 101_325.0  # Pa; ISO 2533
SEA_LEVEL_TEMPERATURE = 288.15  # K; ISO 2533
LAPSE = 0.0065  # K/m, up to 11 km; ISO 2533
STANDARD_AIR = SEA_LEVEL_PRESSURE / (GAS_CONSTANT_AIR * SEA_LEVEL_TEMPERATURE)  # 1.225 kg/m3

Mass = Annotated[
    Number,
    Quantity("m", "kg", "mass of the vehicle as driven", above=0, high=60_000, slider=(600, 4000), spread="measured",
             how="weigh the converted vehicle with driver on a public scale"),
]  # fmt: skip
WheelRadius = Annotated[
    Number,
    Quantity("r", "m", "loaded radius of a driven tyre", above=0.05, high=1.5, slider=(0.2, 0.45), spread="measured",
             how="measure from the ground to the wheel centre with the vehicle standing"),
]  # fmt: skip
DragCoefficient = Annotated[
    Number,
    Quantity("Cd", "", "air drag coefficient", low=0, high=2, slider=(0.2, 0.7),
             how="look it up for the body shape, or fit a coast-down"),
]  # fmt: skip
FrontalArea = Annotated[
    Number,
    Quantity("A", "m2", "frontal area", low=0, high=20, slider=(1.2, 4.0),
             how="about 0.85 of height times width, or outline a photograph"),
]  # fmt: skip
RollingCoefficient = Annotated[
    Number,
    Quantity("Crr", "", "rolling resistance coefficient at walking pace", low=0, high=0.5, slider=(0.005, 0.03),
             how="fit a coast-down, or 0.010 to 0.015 for road tyres"),
]  # fmt: skip
RollingSpeedTerm = Annotated[
    Number,
    Quantity("Crv", "s/m", "rise of the rolling coefficient per unit of speed", low=0, high=0.01, slider=(0, 0.0006),
             how="fit a coast-down, or about Crr / 45 m/s for a road tyre"),
]  # fmt: skip
Wheelbase = Annotated[
    Number,
    Quantity("L_w", "m", "wheelbase", above=0.5, high=10, slider=(1.8, 4.0), spread="measured",
             how="measure from front to rear wheel centre"),
]  # fmt: skip
CgHeight = Annotated[
    Number,
    Quantity("h_c", "m", "height of the centre of gravity", low=0, high=3, slider=(0.4, 1.0), spread="guess",
             how="weigh one axle level and again with the other axle raised, or about 0.4 of the roof height"),
]  # fmt: skip
RearAxleShare = Annotated[
    Number,
    Quantity("s_r", "", "share of the weight on the rear axle, standing level", low=0, high=1, slider=(0.3, 0.7),
             spread="measured", shown={"SI": "%", "shop": "%"}, how="weigh each axle"),
]  # fmt: skip
Grip = Annotated[
    Number,
    Quantity("mu", "", "grip of the tyre on the road (friction coefficient)", above=0, high=2, slider=(0.1, 1.1),
             spread="guess", how="about 0.8 dry, 0.5 wet, 0.2 snow"),
]  # fmt: skip
Grade = Annotated[
    Number,
    Quantity("G", "", "grade: rise per horizontal distance", low=-1, high=1, slider=(-0.1, 0.35), spread="guess",
             shown={"SI": "%", "shop": "%"}, how="road sign, or height gained / distance on a map"),
]  # fmt: skip
AirDensity = Annotated[
    Number,
    Quantity("rho", "kg/m3", "density of the air", low=0, high=2, slider=(0.8, 1.4), how="from temperature and height"),
]  # fmt: skip
AirTemperature = Annotated[
    Number,
    Quantity("Θ_a", "K", "air temperature", low=200, high=340, slider=(253.15, 313.15), kind="reading",
             spread="measured", how="thermometer in the shade"),
]  # fmt: skip
Altitude = Annotated[
    Number,
    Quantity("H", "m", "height above sea level", low=-500, high=11_000, slider=(0, 3000), spread="measured",
             shown={"SI": "m", "shop": "ft"}, how="map"),
]  # fmt: skip
Headwind = Annotated[
    Number,
    Quantity("v_w", "m/s", "wind against the vehicle (with it: negative)", low=-60, high=60, slider=(-15, 15),
             spread="guess", how="flag, anemometer or weather report"),
]  # fmt: skip
RoadSpeed = Annotated[
    Number, Quantity("v", "m/s", "road speed", low=0, high=150, slider=(0, 50), how="read it from the log")
]
Acceleration = Annotated[
    Number,
    Quantity("a", "m/s2", "acceleration along the road", low=-30, high=30, slider=(-5, 5), how="speed trace"),
]  # fmt: skip
Axle = Literal["rear", "front", "all"]


@calculation
def air_density(temperature: AirTemperature, *, altitude: Altitude) -> Number:
    """Density of the air [kg/m3] at a measured temperature and a height above sea level.

    rho = p(H) / (R T), with p = p0 (1 - L H / T0)^(g / (R L)) of the standard atmosphere.

    temperature [K], altitude [m]. Dry air, standard pressure for the height (weather moves it by about 3 %).
    Moisture is ignored (hot damp air is up to 2 % thinner). Source: ISO 2533.

    >>> round(air_density(288.15, altitude=0.0), 3), round(air_density(308.15, altitude=1500.0), 3)
    (1.225, 0.956)
    """
    pressure = SEA_LEVEL_PRESSURE * (1 - LAPSE * altitude / SEA_LEVEL_TEMPERATURE) ** (
        GRAVITY / (GAS_CONSTANT_AIR * LAPSE)
    )
    return pressure / (GAS_CONSTANT_AIR * temperature)


@calculation
def slope_angle(grade: Grade) -> Number:
    """Angle of the road [rad] from its grade: theta = arctan(G).

    >>> round(float(np.degrees(slope_angle(0.20))), 3)
    11.31
    """
    return np.arctan(grade)


@calculation
def grade_force(mass: Mass, *, grade: Grade) -> Number:
    """Pull of the slope along the road [N]: F = m g sin(arctan G); against the vehicle where it climbs.

    mass [kg], grade [1]. The sine, not the grade: at 20 % the grade itself would be 2 % too much.

    >>> round(grade_force(1200.0, grade=0.20), 1)
    2307.9
    """
    return mass * GRAVITY * np.sin(np.arctan(grade))


@calculation
def rolling_force(mass: Mass, *, rolling_coefficient: RollingCoefficient, rolling_speed_term: RollingSpeedTerm = 0.0,
                  speed: RoadSpeed = 0.0, grade: Grade = 0.0) -> Number:  # fmt: skip
    """Rolling resistance of all tyres [N]: F = m g cos(theta) (Crr + Crv v).

    mass [kg], rolling_coefficient [1], rolling_speed_term [s/m], speed [m/s], grade [1]. Warm tyres on a straight
    road; a curve, a cold tyre or a soft road adds to it. Form: Mannering and Washburn, Principles of Highway
    Engineering and Traffic Analysis, eq. 2.5.

    >>> round(rolling_force(1000.0, rolling_coefficient=0.012), 1)
    117.7
    """
    return mass * GRAVITY * np.cos(np.arctan(grade)) * (rolling_coefficient + rolling_speed_term * speed)


@calculation
def air_force(speed: RoadSpeed, *, drag_coefficient: DragCoefficient, frontal_area: FrontalArea,
              density: AirDensity = STANDARD_AIR, headwind: Headwind = 0.0) -> Number:  # fmt: skip
    """Air drag [N]: F = rho/2 Cd A (v + v_w) |v + v_w|; a following wind faster than the vehicle pushes.

    speed [m/s], drag_coefficient [1], frontal_area [m2], density [kg/m3], headwind [m/s]. Wind along the road; a
    side wind raises Cd and is ignored.

    >>> round(air_force(30.0, drag_coefficient=0.35, frontal_area=2.0, density=1.2), 1)
    378.0
    """
    through_air = speed + headwind
    return density / 2 * drag_coefficient * frontal_area * through_air * np.abs(through_air)


@calculation
def road_load(speed: RoadSpeed, *, mass: Mass, rolling_coefficient: RollingCoefficient,
              drag_coefficient: DragCoefficient, frontal_area: FrontalArea,
              rolling_speed_term: RollingSpeedTerm = 0.0, grade: Grade = 0.0, density: AirDensity = STANDARD_AIR,
              headwind: Headwind = 0.0) -> Number:  # fmt: skip
    """Force that the road and the air ask for at a steady speed [N]: rolling + air + grade.

    F = m g cos(theta) (Crr + Crv v) + rho/2 Cd A (v + v_w)|v + v_w| + m g sin(theta). Arguments as in
    :func:`rolling_force`, :func:`air_force` and :func:`grade_force`.

    >>> flat = dict(mass=1500.0, rolling_coefficient=0.012, drag_coefficient=0.35, frontal_area=2.0)
    >>> round(road_load(25.0, **flat), 1), round(road_load(25.0, grade=0.06, **flat), 1)
    (444.5, 1325.2)
    """
    weight = mass * GRAVITY
    angle = np.arctan(grade)
    through_air = speed + headwind
    return (
        weight * np.cos(angle) * (rolling_coefficient + rolling_speed_term * speed)
        + density / 2 * drag_coefficient * frontal_area * through_air * np.abs(through_air)
        + weight * np.sin(angle)
    )


@result
class AxleLoads:
    """Load that each axle presses on the road with [N]."""

    front: Number
    rear: Number


@calculation
def axle_loads(mass: Mass, *, rear_axle_share: RearAxleShare, wheelbase: Wheelbase, cg_height: CgHeight,
               grade: Grade = 0.0, acceleration: Acceleration = 0.0) -> AxleLoads:  # fmt: skip
    """Load on each axle on a slope and while accelerating: the rear gains what the front loses.

    N_rear = m g cos(theta) s_r + (m g sin(theta) + m a) h_c / L_w; N_front = m g cos(theta) - N_rear.

    mass [kg], rear_axle_share [1], wheelbase [m], cg_height [m], grade [1] (uphill positive, nose up), acceleration
    [m/s2]. Rigid suspension; air lift and the air's own moment are ignored. An axle that would lift is refused.

    >>> axle_loads(1500.0, rear_axle_share=0.5, wheelbase=2.5, cg_height=0.6, acceleration=3.0)
    AxleLoads(front=6274.98..., rear=8434.98...)
    """
    angle = np.arctan(grade)
    across = mass * GRAVITY * np.cos(angle)
    moved = (mass * GRAVITY * np.sin(angle) + mass * acceleration) * cg_height / wheelbase
    front, rear = across * (1 - rear_axle_share) - moved, across * rear_axle_share + moved
    lifted = np.minimum(front, rear) < -1e-9 * across  # an axle that just lifts is no rounding error
    if np.any(lifted):
        share = float(np.extract(lifted, rear / across)[0])
        raise OutOfRange("share of the load on the rear axle", round(share, 3), 0.0, 1.0, "a vehicle on four wheels")
    return AxleLoads(front=front, rear=rear)
