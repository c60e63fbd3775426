"""What spinning parts weigh on the road: every rotor, shaft and wheel as kilograms at the tyre."""

from __future__ import annotations

from evlib.gearing import quantities as q
from evlib.ground.quantity import Number, calculation, result


@calculation
def reflected_mass(inertia: q.RotatingInertia, *, total_ratio: q.TotalRatio, wheel_radius: q.WheelRadius,
                   efficiency: q.Efficiency = 1.0) -> Number:  # fmt: skip
    """Mass that a rotating part adds to the vehicle while it accelerates [kg]: m = eta J (i / r)^2.

    inertia [kg m2], total_ratio [1] from this part to the wheel, wheel_radius [m], efficiency [1] between them (what
    the part holds back upstream would have come through less the losses). The square of the ratio is the point: the
    same rotor weighs three times as much in a 1.76 low gear as in direct.
    Source: kinetic energy J w^2 / 2 = m v^2 / 2 with w = i v / r.

    >>> round(reflected_mass(0.24, total_ratio=3.70 * 1.76, wheel_radius=0.30), 1)
    113.1
    """
    return efficiency * inertia * (total_ratio / wheel_radius) ** 2


@result
class RotatingMass:
    """Rotating parts as mass at the tyre [kg]: ``driven`` before the driven tyres, ``dragged`` in wheels that roll."""

    rotors: Number
    propeller: Number
    driven_wheels: Number
    dragged: Number

    @property
    def driven(self) -> Number:
        """All that must be spun up before force reaches the driven tyres [kg]."""
        return self.rotors + self.propeller + self.driven_wheels


@calculation
def rotating_mass(input_inertia: q.RotatingInertia, *, gear_ratio: q.Ratio, final_drive_ratio: q.Ratio,
                  wheel_radius: q.WheelRadius, propeller_inertia: q.RotatingInertia = 0.0,
                  wheel_inertia: q.WheelInertia = 0.0, driven_axle: q.Axle = "rear",
                  gear_efficiency: q.Efficiency = 1.0, final_drive_efficiency: q.Efficiency = 1.0,
                  ) -> RotatingMass:  # fmt: skip
    """Everything that turns, as mass at the tyre: rotors through both ratios, propeller through one, wheels direct.

    m = eta_g eta_f J_in (i_g i_f / r)^2, eta_f J_p (i_f / r)^2, J_w / r^2. With one driven axle half of the wheels'
    inertia is spun up by the drive, the other half is dragged along by the road.

    input_inertia [kg m2] of all rotors and the gearbox input together, at the gearbox input.

    >>> rotating_mass(0.24, gear_ratio=1.76, final_drive_ratio=3.7, wheel_radius=0.3, wheel_inertia=3.6)
    RotatingMass(rotors=113.08..., propeller=0.0, driven_wheels=20.0, dragged=20.0)
    """
    wheels = wheel_inertia / wheel_radius**2
    through = final_drive_efficiency * (final_drive_ratio / wheel_radius) ** 2
    driven_share = 1.0 if driven_axle == "all" else 0.5
    return RotatingMass(
        rotors=gear_efficiency * through * input_inertia * gear_ratio**2,
        propeller=through * propeller_inertia,
        driven_wheels=wheels * driven_share,
        dragged=wheels * (1 - driven_share),
    )
