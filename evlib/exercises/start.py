"""Lesson 0: the safety gate, ten questions to get right before any task that is not at the desk; and first steps."""

from __future__ import annotations

from evlib.exercises.base import Exercise
from evlib.exercises.choice import Choice, Option
from evlib.exercises.free import Free, Prediction
from evlib.exercises.number import Draw, Number, Slip, Step
from evlib.exercises.order import Before, Order, Stage
from evlib.ground.checks import Check
from evlib.ground.quantity import Quantity

TORQUE = Quantity("T", "N m", "torque", above=0)
MARGIN = Quantity("m", "", "margin", shown={"SI": "percent", "shop": "percent"})

OBJECTIVE = "say what must be done before you touch the vehicle, and who must be there"


def _question(number: int, text: str, right: tuple[str, str], *others: tuple[str, str], teacher: str = "") -> Choice:
    """One question of the gate: the right option first, then those that are not; (text, reason) each."""
    options = [Option(text=right[0], reason=right[1], right=True)]
    options += [Option(text=wrong, reason=reason) for wrong, reason in others]
    return Choice(
        id=f"start.{number}", objective=OBJECTIVE, depth="Shop", text=text, choices=tuple(options), teacher=teacher
    )


GATE: list[Exercise] = [
    _question(
        1,
        "The vehicle is about to get its first turn of the motors, with the wheels on the ground. How do you keep it "
        "from moving?",
        (
            "Level ground, and chocks on both sides of two wheels, before power is connected.",
            "Chocks work when everything else fails, and they work in both directions.",
        ),
        (
            "The gearbox stays in park, because park holds a vehicle on any street.",
            "In this conversion park is one of the things not tried yet; a single pawl may also not be engaged.",
        ),
        (
            "The parking brake, pulled as hard as you can, with the shift lever in neutral.",
            "A cable can be slack, and on many vehicles it holds one axle only: what helps when it slips?",
        ),
        (
            "A second person stands in front of it, watches, and shouts when it starts to roll.",
            "Nobody stands where a vehicle may go: a person cannot hold one, and the motor may start either way.",
        ),
    ),
    _question(
        2,
        "You take the service disconnect out of the pack. What else belongs to lock-out?",
        (
            "Lock it away, hang up your tag, and keep the key on you.",
            "Then nobody can put it back while your hands are inside. Tell the others; only you take your lock off.",
        ),
        (
            "Lay it on the bench beside you, where you can see it all the time.",
            "Somebody who means well may put it back: what stops them?",
        ),
        (
            "Switch the vehicle's key off as well, and put the key on the dashboard.",
            "A key switch is a control, not a disconnect; it can be turned again.",
        ),
        (
            "Nothing more: with the disconnect out, the pack is dead.",
            "The cells are never dead; you have only opened the path, and the path can be closed again.",
        ),
    ),
    _question(
        3,
        "The pack is disconnected and locked out. What comes before you touch a terminal?",
        (
            "Wait for the capacitors, then test the meter, measure, and test the meter again.",
            "This is called proving dead: a broken meter also shows zero, so a known source tests it before and after.",
        ),
        (
            "Nothing more: it is locked out, so nobody can switch it on.",
            "Capacitors in the controller keep their charge after the pack is gone.",
        ),
        (
            "Measure once with a good meter: zero volts is zero volts.",
            "A meter with a flat battery, a blown fuse or the wrong range shows the same zero.",
        ),
        (
            "Short the terminals with an insulated screwdriver, to be sure that nothing is left in them.",
            "If you are wrong, that makes an arc in your face; and it can ruin what is not wrong.",
        ),
    ),
    _question(
        4,
        "You must measure on parts that may be live. Which gloves?",
        (
            "Insulating gloves rated above the voltage, in test date, with leather over them.",
            "The rubber insulates, the leather keeps it whole; before each use, fill them with air to find a pinhole.",
        ),
        (
            "Thick, dry leather work gloves without any metal on them.",
            "Leather is no insulator, least of all when it is damp.",
        ),
        (
            "Any rubber gloves without a hole, because rubber insulates.",
            "Household and oil gloves have no rating, and may have pinholes.",
        ),
        (
            "Insulating gloves rated above the voltage; how old they are does not matter.",
            "Rubber ages and is cut: there is a date for the next test, and a check before every use.",
        ),
    ),
    _question(
        5,
        "A series-wound motor lies on the bench with nothing on its shaft. You want to see it turn. What may happen on "
        "full pack voltage?",
        (
            "It speeds up without limit, until the rotor bursts.",
            "This is runaway: without load the field fades. So: low voltage, clamped, guarded, for seconds.",
        ),
        (
            "It turns at the speed on its rating plate, as any motor does.",
            "The rated speed belongs to the rated load: what does a series motor do when the load goes away?",
        ),
        (
            "It draws a very large current, gets hot, and stops.",
            "A free shaft asks for almost no torque, so for little current: think about what that does to the field.",
        ),
        (
            "Nothing much, if you hold the shaft with a thick rag.",
            "Nobody holds a shaft that can turn, and a rag winds itself and your hand around it.",
        ),
        teacher="The hazard that combustion workshops do not expect. It comes back when a coupling breaks.",
    ),
    _question(
        6,
        "What is precharge for?",
        (
            "It fills the controller's capacitors slowly before the contactor closes.",
            "An empty capacitor is nearly a short circuit: a resistor limits the rush that welds the tips.",
        ),
        (
            "It warms the cells gently before they must give a large current.",
            "Nothing is warmed: think about what an empty capacitor does to a pack.",
        ),
        (
            "It is the first, slow part of charging an empty pack at the wall.",
            "It happens at every switch-on, long after charging.",
        ),
        (
            "It empties the controller's capacitors through a resistor when you switch off.",
            "That is the other way round, and a part of its own; this one is about switching on.",
        ),
    ),
    _question(
        7,
        "A motor pair of 160 kg must go up to the gearbox. How?",
        (
            "With a rated hoist, nobody under it, and stands before any hand goes in.",
            "A rated hoist lifts, stands hold; nothing that only lifts is trusted with a hand underneath.",
        ),
        (
            "Three strong people lift it on a plank, and a fourth puts the bolts in.",
            "A load like that crushes fingers when one of them slips: backs and planks have no rating.",
        ),
        (
            "With a trolley jack, and you guide it from underneath with both hands.",
            "A jack sinks when a seal goes: who is underneath then?",
        ),
        (
            "With a rated hoist; you may reach under it for a moment to guide the shaft.",
            "A moment is all it takes; what is under the load before you are?",
        ),
    ),
    _question(
        8,
        "A hose of the gearbox pump leaks a fine mist while it runs. What do you do?",
        (
            "Switch off, let pressure and heat go, and only then look for the hole.",
            "A fine jet goes through skin and gloves. Oil under the skin looks harmless: go to hospital at once.",
        ),
        (
            "Find the hole by feel, with a thick glove on, while it still shows.",
            "A fine jet goes through a glove: what lies behind it?",
        ),
        (
            "Tighten the fitting a little while it runs, and watch whether it stops.",
            "It can let go while your hand is there, and the oil may be hot enough to burn.",
        ),
        (
            "Wrap a rag round it, finish the run, and mend it in the evening.",
            "Oil mist burns, and the rag hides the leak: what is the pump still doing meanwhile?",
        ),
    ),
    _question(
        9,
        "Your calculation says that a cable is large enough. The local code wants a larger one, or a licensed "
        "person to do it. What counts?",
        (
            "The code and the licence; the calculation helps you to ask.",
            "These lessons teach and check; they neither replace the rules of your place nor allow what those forbid.",
        ),
        (
            "The calculation, because it is about your own vehicle.",
            "A calculation knows only what you told it; who answers for what it leaves out?",
        ),
        (
            "Whichever is cheaper, as long as the fuse is small enough.",
            "Price says nothing of danger, and an insurer and an inspector will ask for something else.",
        ),
        (
            "Neither: it is your own vehicle, and you bear the risk.",
            "It goes on roads that others use, and it may burn in a garage that others live above.",
        ),
    ),
    _question(
        10,
        "When may you work alone on a pack above 60 V?",
        (
            "Never: a second person who can switch off and help is there.",
            "A shock takes away the power to let go and to call. The other knows the switch, the number and first aid.",
        ),
        (
            "When you have done the same work many times before.",
            "Experience does not open a hand that is cramped around a terminal.",
        ),
        (
            "When your telephone lies within reach and somebody expects a call.",
            "After a shock you may not be able to reach it or to speak.",
        ),
        (
            "When it is a short job, such as tightening one terminal.",
            "A shock takes less than a second; how long is the job?",
        ),
    ),
]

FIRST: list[Exercise] = [
    Number(
        id="start.11",
        objective="read a check: demand, capacity, margin and verdict",
        depth="Shop",
        text="A check says: the sleeve between the motors must carry {demand}; it can carry {capacity}. "
        "What is the margin, in per cent of the demand?",
        given={
            "demand": Draw(TORQUE, "210 N m", "390 N m", "20 N m"),
            "capacity": Draw(TORQUE, "450 N m", "750 N m", "50 N m"),
        },
        answer=MARGIN,
        right=lambda demand, capacity: Check("sleeve", "start", demand, capacity, "N m").margin,
        steps=(
            Step("spare", "capacity - demand", "N m", lambda demand, capacity: capacity - demand),
            Step("margin", "spare / demand", "", lambda spare, demand: spare / demand),
        ),
        slips=(
            Slip(
                "part of the capacity",
                lambda demand, capacity: (capacity - demand) / capacity,
                "Per cent of what? Here the margin is measured against what is demanded.",
            ),
            Slip(
                "ratio for margin", lambda demand, capacity: capacity / demand, "How much is there beyond the demand?"
            ),
            Slip("upside down", lambda demand, capacity: demand / capacity, "That is how much of it is used up."),
        ),
    ),
    Choice(
        id="start.12",
        objective="name the parts of this conversion and what each is for",
        depth="Shop",
        text="The gearbox has no torque converter, and the motors stand still at a red light. What keeps oil pressure "
        "on the clutches?",
        choices=(
            Option(
                text="An electric pump beside the gearbox.",
                reason="Its check valve lets the gearbox's own pump take over when the shaft turns.",
                right=True,
            ),
            Option(text="The gearbox's own pump.", reason="What drives that pump, and does it turn at a red light?"),
            Option(
                text="A spring in each clutch.", reason="In most gearboxes of this kind the spring opens the clutch."
            ),
            Option(
                text="The motors, which keep idling.",
                reason="An electric motor has no need to idle, and here it stands when the vehicle stands.",
            ),
        ),
    ),
    Choice(
        id="start.13",
        objective="tell the three task places apart",
        depth="Shop",
        text="A task is marked “bench, energised”. What does that tell you?",
        choices=(
            Option(
                text="Parts on the bench are live or can turn; a second person must be there.",
                reason="And the cautions stand with the task: read them before you begin.",
                right=True,
            ),
            Option(
                text="It is done at the desk, with the computer switched on.",
                reason="A desk task is marked as such; what is on the bench?",
            ),
            Option(
                text="The part lies on the bench, and nothing is connected to it.",
                reason="That is the other of the two marks for the bench.",
            ),
            Option(
                text="The whole vehicle is on a lift with the pack connected.",
                reason="What is done on the vehicle is marked with the vehicle.",
            ),
        ),
    ),
    Free(
        id="start.14",
        objective="name the parts of this conversion and what each is for",
        depth="Why",
        text="In your own words: which parts does torque pass on its way from the motors to the road, in order?",
        guide=(
            "both motors on one shaft line, joined by a sleeve",
            "then the gearbox, and the propeller shaft behind it",
            "then the final drive, the half shafts and the tyres",
            "the order is right from end to end",
        ),
        model="Two motors turn one shaft line through a sleeve. It drives the gearbox; a propeller shaft goes on "
        "to the final drive, then two half shafts go to the wheels, and the tyres push on the road.",
        teacher="Have them point at the parts on a real driveline while they say it.",
    ),
    Prediction(
        id="start.p1",
        objective=OBJECTIVE,
        depth="Shop",
        text="Before you begin: how many of the ten questions of the safety gate will you get right at the first try?",
    ),
]

DEAD: list[Exercise] = [
    Order(
        id="start.15",
        objective=OBJECTIVE,
        depth="Shop",
        text="A qualified person is to work inside the cover of the traction system. In which order is it made dead, "
        "and proved dead, before that?",
        stages=(
            Stage(name="disconnect", text="Key off and taken out; service disconnect pulled."),
            Stage(name="lock", text="Your own padlock and tag where the disconnect was."),
            Stage(name="wait", text="Wait for the discharge, as long as the parts' papers say."),
            Stage(name="try", text="Try the meter on a source that you know."),
            Stage(name="measure", text="Measure plus to minus, and each of them to the chassis."),
            Stage(name="try again", text="Try the meter on the known source once more."),
            Stage(name="work", text="Take the cover off and begin."),
        ),
        rules=(
            Before(
                first="try again",
                later="work",
                hint="Hands go in. Is it proved by then, and do you know that what "
                "proved it was in order all the time?",
            ),
            Before(first="disconnect", later="lock", hint="A padlock keeps open what is open. Is it open by then?"),
            Before(
                first="lock",
                later="wait",
                hint="Somebody comes by while you stand there. What stops them from switching on?",
            ),
            Before(
                first="wait",
                later="measure",
                hint="A controller holds its voltage for a while after it is cut "
                "off. Has it had its time when you look?",
            ),
            Before(
                first="try",
                later="measure",
                hint="A meter that is broken shows nothing, too. How do you know that yours is not?",
            ),
            Before(
                first="measure",
                later="try again",
                hint="Meters and leads can fail while they are used. Does your order find that out?",
            ),
        ),
        why="What is open is locked, what is stored has gone, and the meter is shown to be sound before and after.",
        teacher="The order is that of EN 50110-1, from memory; the local code may ask for more, such as earthing.",
    ),
]

EXERCISES: list[Exercise] = [*GATE, *FIRST, *DEAD]
