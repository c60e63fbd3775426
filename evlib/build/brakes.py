"""The build's handbrake, from the hand to the road."""

from __future__ import annotations

from typing import Any, Literal

from evlib.build.view import View, derived
from evlib.ground.quantity import Number
from evlib.parking import handbrake

Rolling = Literal["forward", "backward"]


def road_force(b: View, hand_force: Any, *, rolling: Rolling, **changed: Any) -> Number:
    """Force along the road [N] of a hand force [N], before grip, for the way the car wants to roll.

    ``changed`` replaces ``handbrake_kind``, ``lining_friction`` or ``cable_efficiency`` of the build.
    """
    hand = b.parking.handbrake

    def value(name: str) -> Any:
        return changed[name] if name in changed else getattr(hand, name)

    force = handbrake.shoe_force(
        hand_force,
        lever_ratio=hand.lever_ratio,
        cable_efficiency=value("cable_efficiency"),
        actuating_ratio=hand.actuating_ratio,
    )
    if value("handbrake_kind") == "disc":
        torque = handbrake.disc_torque(force, lining_friction=value("lining_friction"), pad_radius=hand.pad_radius)
    else:
        torque = handbrake.drum_torque(
            force,
            kind=value("handbrake_kind"),
            rolling=rolling,
            lining_friction=value("lining_friction"),
            drum_radius=hand.drum_radius,
            pivot_radius=hand.shoe_pivot_radius,
            shoe_arm=hand.shoe_arm,
            shoe_start=hand.shoe_start,
            shoe_end=hand.shoe_end,
        )
    return handbrake.road_force(torque, wheel_radius=b.vehicle.wheel_radius)


@derived
def brake_force(b: View) -> tuple[Number, Number]:
    """Force along the road of the handbrake at the hand-force limit, nose up and nose down [N], before grip."""
    limit = b.parking.handbrake.hand_force
    return road_force(b, limit, rolling="backward"), road_force(b, limit, rolling="forward")


def kinds(b: View) -> tuple[str, ...]:
    """The kinds of brake that the build's measures suffice for, its own first."""
    hand = b.parking.handbrake
    own = str(hand.handbrake_kind)
    drum = ("leading and trailing drum", "two leading drum") if hand.known("drum_radius") else ()
    disc = ("disc",) if hand.known("pad_radius") else ()
    return tuple(dict.fromkeys((own, *drum, *disc)))
