"""Any planetary set from its members, its meshes and its tooth counts: speeds, torques, what clutches and bands hold.

A mesh ties two members as seen from their carrier (Willis): z_a (w_a - w_c) + z_b (w_b - w_c) = 0 outside, minus where
one of the two is a ring. A brake ties one member to the case, a clutch ties two to each other. All ties are rows of one
matrix A with A w = 0; equilibrium without friction is then A^T f + T = 0 (virtual work), where f holds each tie's
torque and T the torque from outside on each member. So speeds and torques come from the same matrix, for any set.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, NamedTuple

import numpy as np

from evlib.gearing import quantities as q
from evlib.ground.quantity import Array, Number, calculation, result


class Mesh(NamedTuple):
    """Two members in mesh on one carrier; ``internal`` where ``second`` is a ring with teeth inside."""

    first: str
    second: str
    carrier: str
    internal: bool = False


@result
class Train:
    """A planetary set: which members mesh, and each toothed member's count. ``joined`` members share one shaft."""

    meshes: tuple[Mesh, ...]
    teeth: Mapping[str, Number]
    joined: tuple[tuple[str, str], ...] = ()

    @property
    def members(self) -> tuple[str, ...]:
        """Every member, central ones and planets, in the order in which the meshes name them."""
        named = [name for mesh in self.meshes for name in (mesh.first, mesh.second, mesh.carrier)]
        return tuple(dict.fromkeys(named))

    @property
    def planets(self) -> tuple[str, ...]:
        """The members that ride on a carrier: those that no shaft reaches, named with 'planet'."""
        return tuple(name for name in self.members if "planet" in name)


@result
class Solution:
    """What one gear of a set does: each member's speed, the torque from outside on it, and what each tie carries.

    ``ratio`` is input speed / output speed, negative where the output turns backwards. ``torque`` is 0 on a planet
    and on a free member. ``hold`` gives the torque in each brake (by the member's name) and each clutch ("a + b").
    ``tooth_torque`` gives, for each mesh, the torque it puts on its first member, all planets together.
    """

    ratio: Number
    speed: dict[str, Number]
    torque: dict[str, Number]
    hold: dict[str, Number]
    tooth_torque: dict[str, Number]

    def pin_speed(self, planet: str, *, carrier: str = "carrier") -> Number:
        """Speed of a planet on its pin [rad/s]: what its needle bearing sees."""
        return self.speed[planet] - self.speed[carrier]


@calculation
def simple_set(sun: q.Teeth, *, ring: q.Teeth) -> Train:
    """Sun, planets on a carrier, ring; the planets have (ring - sun) / 2 teeth.

    >>> simple_set(20, ring=34).teeth["planet"]
    7.0
    """
    _whole((ring - sun) / 2, "ring - sun must be even and positive, or no planet fits between them")
    meshes = (Mesh("sun", "planet", "carrier"), Mesh("planet", "ring", "carrier", internal=True))
    return Train(meshes, {"sun": sun, "planet": (ring - sun) / 2, "ring": ring})


@calculation
def double_planet_set(sun: q.Teeth, *, inner_planet: q.Teeth, outer_planet: q.Teeth, ring: q.Teeth) -> Train:
    """Sun, two planets in a row, ring: with the carrier held the ring turns as the sun does.

    >>> solve(double_planet_set(24, inner_planet=18, outer_planet=18, ring=72), driven="sun", output="ring",
    ...       held=("carrier",)).ratio
    3.0
    """
    meshes = (
        Mesh("sun", "inner planet", "carrier"),
        Mesh("inner planet", "outer planet", "carrier"),
        Mesh("outer planet", "ring", "carrier", internal=True),
    )
    return Train(meshes, {"sun": sun, "inner planet": inner_planet, "outer planet": outer_planet, "ring": ring})


@calculation
def two_sun_set(input_sun: q.Teeth, *, low_sun: q.Teeth, short_planet: q.Teeth, long_planet: q.Teeth,
                ring: q.Teeth) -> Train:  # fmt: skip
    """Two suns on one carrier: the input sun meshes the long planets, these the short ones, these low sun and ring.

    From Willis: low (low sun held, carrier drives) i = 1 + z_low / z_in; reverse (ring held) i = 1 - z_ring / z_in.
    Both suns and the ring lie on one axis, so z_ring = z_low + 2 z_short; hence low and reverse are of one size
    exactly where z_short = z_in.

    >>> two = two_sun_set(29, low_sun=22, short_planet=29, long_planet=18, ring=80)
    >>> round(solve(two, driven="input sun", output="carrier", held=("low sun",)).ratio, 4)
    1.7586
    >>> round(solve(two, driven="input sun", output="carrier", held=("ring",)).ratio, 4)
    -1.7586
    """
    _whole(
        np.where(ring == low_sun + 2 * short_planet, 1.0, 0.0),
        "ring must equal low_sun + 2 x short_planet, or they have no common axis",
    )
    meshes = (
        Mesh("input sun", "long planet", "carrier"),
        Mesh("long planet", "short planet", "carrier"),
        Mesh("short planet", "low sun", "carrier"),
        Mesh("short planet", "ring", "carrier", internal=True),
    )
    teeth = {"input sun": input_sun, "low sun": low_sun, "short planet": short_planet, "long planet": long_planet}
    return Train(meshes, {**teeth, "ring": ring})


def _whole(value: Any, why: str) -> None:
    value = np.asarray(value, dtype=float)
    if np.any((value <= 0) | (value % 1 != 0)):
        raise ValueError(f"tooth counts: {why}")


@calculation
def solve(train: Train, *, driven: str, output: str, held: Sequence[str] = (), locked: Sequence[tuple[str, str]] = (),
          input_speed: q.ShaftSpeed = 1.0, input_torque: q.Torque = 1.0) -> Solution:  # fmt: skip
    """Speeds, torques and holding torques of a set in one gear.

    A w = 0 with one row per mesh, brake and clutch; A^T f + T = 0 (see the module's text).

    driven, output, held: names of members; locked: pairs tied by a clutch; input_speed [rad/s]; input_torque [N m].
    Tooth counts may be columns. Friction, inertia and oil drag are ignored: torques are steady ones. A set that the
    ties do not fix, or fix twice, is refused.
    Source: Willis, Principles of Mechanism (1841), in matrix form; virtual work.

    >>> low = solve(simple_set(32, ring=72), driven="sun", output="carrier", held=("ring",))
    >>> low.ratio, round(low.hold["ring"], 6), low.torque["carrier"]
    (3.25, 2.25, -3.25)
    """
    members = train.members
    for name in (driven, output, *held, *(name for pair in locked for name in pair)):
        if name not in members:
            raise ValueError(f"member: {name!r} was given; this set has {', '.join(members)}")
    ties = _ties(train, held, locked)
    shape = ties.shape[:-2]
    column = {name: place for place, name in enumerate(members)}
    unit_in, unit_out = np.zeros(len(members)), np.zeros(len(members))
    unit_in[column[driven]], unit_out[column[output]] = 1.0, 1.0
    if ties.shape[-2] != len(members) - 1:
        raise ValueError(
            f"with {_named(held, locked)}, {ties.shape[-2]} ties act on {len(members)} members; "
            f"{len(members) - 1} are wanted: hold or lock {'more' if ties.shape[-2] < len(members) - 1 else 'fewer'}"
        )
    motion = np.concatenate([ties, np.broadcast_to(unit_in, (*shape, 1, len(members)))], axis=-2)
    balance = np.concatenate(
        [np.swapaxes(ties, -1, -2), np.broadcast_to(unit_out[:, None], (*shape, len(members), 1))], axis=-1
    )
    if np.any(np.linalg.cond(motion) > 1e10) or np.any(np.linalg.cond(balance) > 1e10):
        raise ValueError(f"with {_named(held, locked)}, {driven} driven and {output} driving out, the set is not fixed")
    speed = np.linalg.solve(motion, np.broadcast_to(np.eye(len(members))[-1], (*shape, len(members)))[..., None])
    tie = np.linalg.solve(balance, np.broadcast_to(-unit_in, (*shape, len(members)))[..., None])[..., 0]
    speed = speed[..., 0]
    return _solution(train, members, ties, speed, tie, driven, output, held, locked, input_speed, input_torque)


def _solution(train: Train, members: tuple[str, ...], ties: Array, speed: Array, tie: Array, driven: str, output: str,
              held: Sequence[str], locked: Sequence[tuple[str, str]], input_speed: Number, input_torque: Number,
              ) -> Solution:  # fmt: skip
    column = {name: place for place, name in enumerate(members)}
    first = len(train.meshes) + len(train.joined)
    hold = {name: tie[..., first + k] * input_torque for k, name in enumerate(held)}
    hold |= {f"{a} + {b}": tie[..., first + len(held) + k] * input_torque for k, (a, b) in enumerate(locked)}
    torque = {name: np.zeros(tie.shape[:-1]) * input_torque for name in members}
    torque[driven] = torque[driven] + input_torque
    torque[output] = torque[output] + tie[..., -1] * input_torque
    for name in held:
        torque[name] = torque[name] + hold[name]
    teeth = {
        f"{mesh.first} - {mesh.second}": tie[..., k] * ties[..., k, column[mesh.first]] * input_torque
        for k, mesh in enumerate(train.meshes)
    }
    with np.errstate(divide="ignore"):
        ratio = 1.0 / speed[..., column[output]]
    return Solution(
        ratio=ratio,
        speed={name: _plain(speed[..., column[name]] * input_speed) for name in members},
        torque={name: _plain(value) for name, value in torque.items()},
        hold={name: _plain(value) for name, value in hold.items()},
        tooth_torque={name: _plain(value) for name, value in teeth.items()},
    )


def _plain(value: Any) -> Any:
    value = np.asarray(value)
    return value.item() if value.ndim == 0 else value


def _named(held: Sequence[str], locked: Sequence[tuple[str, str]]) -> str:
    said = [f"{name} held" for name in held] + [f"{a} locked to {b}" for a, b in locked]
    return " and ".join(said) or "nothing held"


def _ties(train: Train, held: Sequence[str], locked: Sequence[tuple[str, str]]) -> Array:
    """One row per mesh, joint, brake and clutch: what must be zero of the members' speeds."""
    members = train.members
    column = {name: place for place, name in enumerate(members)}
    counts = [np.asarray(count, dtype=float) for count in train.teeth.values()]
    shape = np.broadcast_shapes(*(count.shape for count in counts))
    rows = len(train.meshes) + len(train.joined) + len(held) + len(locked)
    ties = np.zeros((*shape, rows, len(members)))
    for k, mesh in enumerate(train.meshes):
        first = np.asarray(train.teeth[mesh.first], dtype=float)
        second = np.asarray(train.teeth[mesh.second], dtype=float) * (-1.0 if mesh.internal else 1.0)
        size = np.abs(first) + np.abs(second)  # scaled, so that the condition number means something
        ties[..., k, column[mesh.first]] = first / size
        ties[..., k, column[mesh.second]] = second / size
        ties[..., k, column[mesh.carrier]] = -(first + second) / size
    for k, (a, b) in enumerate((*train.joined, *((name, None) for name in held), *locked), start=len(train.meshes)):
        ties[..., k, column[a]] = 1.0
        if b is not None:
            ties[..., k, column[b]] = -1.0
    return ties


@calculation
def carrier_turns(train: Train, *, fixed: str, carrier: str = "carrier") -> dict[str, Number]:
    """Turns of every member for one turn of the carrier while the member ``fixed`` stands still.

    >>> carrier_turns(simple_set(32, ring=72), fixed="ring")["sun"]
    3.25
    """
    ties = _ties(train, (fixed,), ())
    members = train.members
    unit = np.zeros((*ties.shape[:-2], 1, len(members)))
    unit[..., 0, members.index(carrier)] = 1.0
    motion = np.concatenate([ties, unit], axis=-2)
    if motion.shape[-1] != motion.shape[-2] or np.any(np.linalg.cond(motion) > 1e10):
        raise ValueError(f"with {fixed} held and {carrier} turned, the set is not fixed")
    wanted = np.zeros((*ties.shape[:-2], len(members), 1))
    wanted[..., -1, 0] = 1.0
    turns = np.linalg.solve(motion, wanted)[..., 0]
    return {name: _plain(turns[..., place]) for place, name in enumerate(members)}


@calculation
def assembles(train: Train, *, planet_count: q.PlanetCount) -> Any:
    """Whether equally spaced planets (or planet groups) can be put in: true or false, a column for columns.

    Put in the first group, hold one central gear and turn the carrier by 1/n turn: the next group goes in at the same
    place, if every other central gear has moved by whole teeth. For a simple set this is (z_sun + z_ring)/n whole.

    planet_count [1]. Equal spacing; no planet stepped (a stepped planet must also be timed).
    Source: derived here; the simple-set rule is in any text on planetary gears.

    >>> assembles(simple_set(32, ring=72), planet_count=4), assembles(simple_set(32, ring=72), planet_count=3)
    (True, False)
    """
    centres = [name for name in train.teeth if name not in train.planets]
    turns = carrier_turns(train, fixed=centres[0])
    fits: Any = True
    for name in centres[1:]:
        moved = np.asarray(train.teeth[name] * turns[name] / planet_count)
        fits = fits & (np.abs(moved - np.round(moved)) < 1e-6)
    return _plain(fits)
