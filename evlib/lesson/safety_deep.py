"""What the cells of the safety lesson's Deep parts call: joints, a body, an arc, polarity."""

from __future__ import annotations

import numpy as np

from evlib.build.line import open_volts
from evlib.build.protection import full_volts, short_circuits
from evlib.build.schema import Build
from evlib.build.sheet import both
from evlib.build.view import View
from evlib.ground import fuse
from evlib.ground.shown import Shown
from evlib.lesson.safety import said, view
from evlib.safety import arc, body, cables

ARM = 0.45  # m; from an arc at the hands to face and chest: a working distance often taken


def joint_table(build: Build, *, milliohms: tuple[float, ...] = (0.05, 0.1, 0.5, 2.0)) -> Shown:
    """Heat and rise of one joint at the pack cable's steady current."""

    def make(b: View) -> list[tuple[str, ...]]:
        current = b.protection.pack_cable.steady_current
        rows: list[tuple[str, ...]] = []
        for milli in milliohms:
            ohms = milli * 1e-3
            rise = cables.joint_rise(current, joint_resistance=ohms, joint_surface=0.01, heat_transfer=10.0)
            rows.append((f"{milli:g} mohm", f"{float(cables.joint_power(current, joint_resistance=ohms)):.1f} W",
                         both(float(rise), "K difference")))  # fmt: skip
        return rows

    return said(build, make, ("joint", "heat", "rise, by 100 cm² in still air"))


def body_table(build: Build, *, body_resistance: float = 1000.0) -> Shown:
    """Information only: the current through a body that touches one pole, by the leak of the other."""

    def make(b: View) -> list[tuple[str, ...]]:
        volts = float(np.asarray(full_volts(b)))
        rows: list[tuple[str, ...]] = []
        for words, leak in (("1000 ohm/V", 1000 * volts), ("100 ohm/V", 100 * volts), ("10 ohm/V", 10 * volts),
                            ("other pole joined to the chassis", 1e-3)):  # fmt: skip
            through = float(body.current_through_body(volts, leak=leak, body_resistance=body_resistance))
            rows.append((words, f"{1e3 * through:.3g} mA", body.band(through, kind="DC")))
        return rows

    return said(build, make, ("leak of the other pole", "through 1000 ohm", "band, 2 s and more"))


def arc_table(build: Build) -> Shown:
    """Information only: heat of an arc at an arm's length by the maximum-power method, with this build's fuse."""

    def make(b: View) -> list[tuple[str, ...]]:
        short, part = short_circuits(b), b.protection.fuse
        low = open_volts(b, state_of_charge=b.protection.short_circuit.lowest_charge)
        rows: list[tuple[str, ...]] = []
        for words, current, volts in (("hot and full", short.largest, full_volts(b)),
                                      ("cold and low", short.smallest, low)):  # fmt: skip
            bolted = float(np.asarray(current))
            clears = float(fuse.clearing_time(bolted / 2, curve=part.fuse_curve, arcing_time=part.fuse_arcing_time))
            broken = np.isfinite(clears) and bolted / 2 >= part.fuse_minimum_breaking
            time = min(clears, arc.LONGEST_EXPOSURE) if broken else arc.LONGEST_EXPOSURE
            heat = float(
                arc.incident_energy(float(np.asarray(volts)), prospective_current=bolted, arc_time=time, distance=ARM)
            )
            ends = f"the fuse, {time:.3g} s" if broken and clears <= time else f"stepping back, {time:g} s"
            rows.append((words, both(bolted / 2, "A"), ends, f"{heat / 1e4:.1f} J/cm² ({heat / 41840:.1f} cal/cm²)"))
        return rows

    return said(build, make, ("pack", "arc current", "ended by", f"heat at {100 * ARM:.0f} cm, in the open"))


def say_polarity(build: Build) -> str:
    """What to look at in the main contactor's polarity."""
    b = view(build)
    comes_back = b.machine.kind == "ac"  # an inverter gives current back; a series machine's chopper does not
    return f"{build.name}: {arc.polarity(b.protection.contactor.contactor_polarised, current_comes_back=comes_back)}."
