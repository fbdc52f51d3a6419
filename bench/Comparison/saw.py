"""The equations of saw.yaml for SciPy: M y' = -f(y, t), eight voltages, one latched decision.

Reads one JSON request a line from standard input and answers each with one JSON line. Between events the equations are
smooth: solve_ivp runs from corner to corner of the drive's ramp and ends at the decision's crossing, which is how its
manual treats a system that switches (terminal events, no dense output).
"""
import json
import sys
from math import exp, tanh
from time import process_time

import numpy
import scipy
from scipy.integrate import solve_ivp

TOP, SUM, GAIN, CORE, SENSE, HOLD, GATE, BUS = range(8)
LIMIT = 2.5  # V, of the decision
DELAY, RAMP = 200e-9, 20e-9  # s, from the decision to the drive's ramp, and of the ramp
HIGH, LOW = 11.9, -11.9  # V, of the drive


def matrices(resistors, capacitors):
    """Conductance matrix and inverse of the capacitance matrix; None is ground."""

    def stamped(pairs):
        matrix = numpy.zeros((8, 8))
        for a, b, value in pairs:
            for row, column, sign in ((a, a, 1), (b, b, 1), (a, b, -1), (b, a, -1)):
                if row is not None and column is not None:
                    matrix[row, column] += sign * value
        return matrix

    return stamped([(a, b, 1 / r) for a, b, r in resistors]), numpy.linalg.inv(stamped(capacitors))


CONDUCTANCE, INVERSE = matrices(
    [
        (BUS, None, 1e3),
        (GAIN, None, 1e9),
        (CORE, None, 50),
        (TOP, CORE, 1.2e3),
        (CORE, SENSE, 22e3),
        (SENSE, None, 22e3),
        (GATE, None, 50),
        (GATE, HOLD, 15e3),
    ],
    [
        (BUS, None, 100e-12),
        (GAIN, None, 10e-12),
        (CORE, None, 50e-12),
        (SUM, None, 15e-12),
        (TOP, SUM, 2.2e-9),
        (TOP, None, 8e-12),
        (SENSE, None, 5e-12),
        (GATE, None, 20e-12),
        (HOLD, None, 3e-12),
        (HOLD, SENSE, 47e-12),
    ],
)
CONDUCTANCE[CORE, GAIN] -= 1 / 50  # the output follows the gain node and does not load it
LINEAR = -INVERSE @ CONDUCTANCE
# What the converter, the op amp's limited stage and the switch do to each rate, per ampere; the drive per volt; the key.
CONVERTER, STAGE = INVERSE[:, SUM].copy(), INVERSE[:, GAIN].copy()
SWITCH = INVERSE[:, TOP] - INVERSE[:, SUM]
DRIVE, KEY = INVERSE[:, GATE] / 50, INVERSE[:, BUS] / 1e3
COLUMNS = numpy.column_stack([-CONVERTER, -STAGE, -SWITCH, DRIVE, KEY])


def rates(key, drive):
    """y' as a function of t and y, for a drive that is a function of time."""

    def rate(t, y):
        top, total, _, _, _, _, gate, bus = y.tolist()
        inputs = (
            0.36e-6 * exp(0.6931471805599453 * bus) * (1 + (total + 0.6) / 60),
            130e-6 * tanh(188e-6 / 130e-6 * total),
            (1e-11 + 0.015 * (1 + tanh(gate + 2))) * (top - total),
            drive(t),
            key,
        )
        return LINEAR @ y + COLUMNS @ inputs

    return rate


def jacobian(t, y):
    """Of the rates by y."""
    top, total, _, _, _, _, gate, bus = y.tolist()
    current = 0.36e-6 * exp(0.6931471805599453 * bus)
    limited = tanh(188e-6 / 130e-6 * total)
    turned = tanh(gate + 2)
    conductance = 1e-11 + 0.015 * (1 + turned)
    matrix = LINEAR.copy()
    matrix[:, BUS] -= CONVERTER * (0.6931471805599453 * current * (1 + (total + 0.6) / 60))
    matrix[:, SUM] += SWITCH * conductance - CONVERTER * (current / 60) - STAGE * (188e-6 * (1 - limited * limited))
    matrix[:, TOP] -= SWITCH * conductance
    matrix[:, GATE] -= SWITCH * (0.015 * (1 - turned * turned) * (top - total))
    return matrix


class Drive:
    """The decision's output: moves that begin after the delay and take the ramp's time along 3x^2 - 2x^3."""

    def __init__(self):
        self.volts = LOW
        self.moves = []  # (start, from, to)

    def decide(self, t, high):
        before = self.moves[-1][2] if self.moves else self.volts
        if self.moves and t + DELAY < self.moves[-1][0] + RAMP:
            raise RuntimeError("two decisions within one ramp")
        self.moves.append((t + DELAY, before, HIGH if high else LOW))

    def corner(self, t):
        """The next start or end of a move after t, s."""
        while self.moves and t >= self.moves[0][0] + RAMP:
            self.volts = self.moves.pop(0)[2]
        if not self.moves:
            return None
        start = self.moves[0][0]
        return start if t < start else start + RAMP

    def between(self, t):
        """The drive from t to the next corner, as a function of time."""
        if not self.moves or t < self.moves[0][0]:
            level = self.volts
            return lambda _: level
        start, low, high = self.moves[0]

        def moving(time):
            x = min(max((time - start) / RAMP, 0.0), 1.0)
            return low + (high - low) * x * x * (3 - 2 * x)

        return moving


def rising(t, y):
    return y[SENSE] - LIMIT


def falling(t, y):
    return y[SENSE] - LIMIT


rising.terminal = falling.terminal = True
rising.direction, falling.direction = 1, -1


def cycles(key, count, options):
    """Moments of the decision's rise, the clock's reading at each, evaluations and steps in all."""
    y = numpy.zeros(8)
    y[TOP] = y[CORE] = y[GAIN] = 1
    y[SENSE], y[GATE], y[HOLD], y[BUS] = 0.5, LOW, LOW, key
    drive, high, t = Drive(), False, 0.0
    moments, clock, evaluations, segments = [], [], 0, 0
    while len(moments) <= count:
        corner = drive.corner(t)
        end = t + 1 if corner is None else corner
        run = solve_ivp(rates(key, drive.between(t)), (t, end), y, events=falling if high else rising, **options)
        if run.status < 0:
            raise RuntimeError(run.message)
        evaluations += run.nfev
        segments += 1
        t, y = float(run.t[-1]), run.y[:, -1]
        if run.status == 1:
            high = not high
            drive.decide(t, high)
            if high:
                moments.append(t)
                clock.append(process_time())
        elif corner is None:
            raise RuntimeError("no decision in a second")
        else:
            t = corner
    return moments, clock, evaluations, segments


def answer(request):
    """Period and time per cycle, after some cycles that are not counted."""
    rtol, held, warm, count = request["rtol"], request["held"], request["warm"], request["cycles"]
    share = numpy.ones(8)
    share[[TOP, SUM, CORE, SENSE]] = held  # what decides a moment may be held tighter, as the engine does
    options = {"method": request["method"], "rtol": rtol * held, "atol": rtol * share}  # rtol is one number for all
    if request["jacobian"]:
        options["jac"] = jacobian
    best = None
    for _ in range(request["repeats"]):
        moments, clock, evaluations, segments = cycles(request["volts"], warm + count, options)
        taken = (clock[-1] - clock[warm]) / count
        best = taken if best is None else min(best, taken)
    return {
        "period": moments[-1] - moments[-2],
        "seconds": best,
        "evaluations": evaluations / (warm + count),
        "segments": segments / (warm + count),
    }


def main():
    print(json.dumps({"scipy": scipy.__version__, "numpy": numpy.__version__, "python": sys.version.split()[0]}), flush=True)
    for line in sys.stdin:
        try:
            print(json.dumps(answer(json.loads(line))), flush=True)
        except (ArithmeticError, RuntimeError, ValueError) as failure:
            print(json.dumps({"failure": str(failure)}), flush=True)


main()
