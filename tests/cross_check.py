#!/usr/bin/env python3
"""Holds the calculations against SciPy, a general-purpose library that is not ours, on random inputs.

usage: cross_check.py PROGRAM [SEED [CASES]]   prints how many answers of each question agree; needs SciPy

Ends with 0 when all agree, 1 when one does not (each is printed), 77 when SciPy is not installed. Where the program has
a closed formula, SciPy goes another way: the press fit is solved as a boundary value problem, its elastic limit by
searching, the circle by a general minimiser.
"""
import json
import math
import random
import subprocess
import sys

try:
    import numpy
    import scipy
    from scipy import linalg, optimize, stats
except ImportError as missing:
    print(f"SciPy cannot be used here: {missing}")
    sys.exit(77)

RELATIVE = 1e-9
dice = random.Random()


def freedom():
    return dice.choice([1, 2, 3, 4.7, 9, 30, 250, 1e4, 10 ** dice.uniform(0, 6), "infinite"])


def distribution(nu):
    return stats.norm() if nu == "infinite" else stats.t(nu)


def length(low, high):
    return 10 ** dice.uniform(math.log10(low), math.log10(high))


def quantile():
    probability = dice.choice([dice.uniform(0.001, 0.999), 0.975, 10 ** dice.uniform(-12, -3)])
    nu = freedom()
    return {"probability": probability, "degrees_of_freedom": nu}, {"quantile": distribution(nu).ppf(probability)}, 1e-12


def normal_quantile():
    inputs, _, _ = quantile()
    inputs["degrees_of_freedom"] = "infinite"
    return inputs, {"quantile": stats.norm.ppf(inputs["probability"])}, 1e-12


def circle():
    radius, count = length(0.5, 500), dice.randint(4, 24)
    centre = numpy.array([dice.uniform(-400, 400), dice.uniform(-400, 400)])
    arc, start = math.radians(dice.choice([90, 150, 360])), dice.uniform(0, 2 * math.pi)
    angles = [start + arc * (place + dice.uniform(-0.2, 0.2)) / count for place in range(count)]
    points = numpy.array([
        centre + (radius + dice.gauss(0, 1e-4 * radius)) * numpy.array([math.cos(a), math.sin(a)]) for a in angles
    ])
    # Seen from the middle of the points and in their size, so that the minimiser keeps its digits.
    middle, size = points.mean(axis=0), numpy.abs(points - points.mean(axis=0)).max()
    small = (points - middle) / size

    def residuals(unknown):
        return numpy.hypot(small[:, 0] - unknown[0], small[:, 1] - unknown[1]) - unknown[2]

    def jacobian(unknown):
        away = small - unknown[:2]
        return numpy.column_stack([-away / numpy.hypot(away[:, 0], away[:, 1])[:, None], -numpy.ones(count)])

    first = numpy.append((centre - middle) / size, radius / size)
    found = optimize.least_squares(residuals, first, jacobian, method="lm", xtol=1e-15, ftol=1e-15, gtol=1e-15)
    best = residuals(found.x)
    expected = {
        "centre_x": middle[0] + size * found.x[0],
        "centre_y": middle[1] + size * found.x[1],
        "radius": size * found.x[2],
        "roundness": size * numpy.ptp(best),
    }
    if count > 3:
        expected["residual_deviation"] = size * math.sqrt(best @ best / (count - 3))
    return {"points": points.tolist()}, expected, 1e-9 * radius


def line():
    count, slope = dice.randint(3, 30), dice.gauss(0, 0.01)
    positions = [dice.uniform(-300, 300) for _ in range(count)]
    readings = [dice.uniform(-1, 1) + slope * x + dice.gauss(0, 0.003) for x in positions]
    fit = stats.linregress(positions, readings)
    left = numpy.array(readings) - fit.intercept - fit.slope * numpy.array(positions)
    expected = {
        "slope": 1000 * fit.slope,
        "intercept": fit.intercept,
        "slope_uncertainty": 1000 * fit.stderr,
        "residual_deviation": math.sqrt(left @ left / (count - 2)),
        "straightness": numpy.ptp(left),
    }
    return {"positions": positions, "readings": readings}, expected, 1e-11


def least_squares(columns, readings):
    """Coefficients, residuals and their deviation (none when nothing is left over)."""
    rows, readings = numpy.column_stack(columns), numpy.array(readings)
    coefficients = linalg.lstsq(rows, readings, lapack_driver="gelsy")[0]
    left, spare = readings - rows @ coefficients, len(readings) - rows.shape[1]
    return coefficients, left, math.sqrt(left @ left / spare) if spare else None


def plane():
    count = dice.randint(4, 20)
    tilt = [dice.gauss(0, 0.02), dice.gauss(0, 0.02)]
    points = [[dice.uniform(-80, 80), dice.uniform(-80, 80)] for _ in range(count)]
    points = [[x, y, 0.3 + tilt[0] * x + tilt[1] * y + dice.gauss(0, 0.002)] for x, y in points]
    x, y, heights = numpy.array(points).T
    (height, slope_x, slope_y), left, deviation = least_squares([numpy.ones(count), x, y], heights)
    expected = {
        "height_at_origin": height,
        "slope_x": 1000 * slope_x,
        "slope_y": 1000 * slope_y,
        # The tilt is the angle between the plane's normal and the vertical.
        "tilt_angle": math.degrees(math.acos(1 / linalg.norm([slope_x, slope_y, 1]))),
        "residual_deviation": deviation,
        "largest_residual": numpy.abs(left).max(),
    }
    return {"points": points}, expected, 1e-9


def harmonic():
    count = dice.randint(4, 36)
    angles = [360 * place / count + dice.uniform(-3, 3) for place in range(count)]
    size, high = length(1e-3, 1), dice.uniform(0, 360)
    readings = [0.2 + size * math.cos(math.radians(a - high)) + dice.gauss(0, 1e-3) for a in angles]
    turns = numpy.radians(angles)
    columns = [numpy.ones(count), numpy.cos(turns), numpy.sin(turns)]
    (mean, cosine, sine), _, deviation = least_squares(columns, readings)
    wave = complex(cosine, sine)
    expected = {
        "mean": mean,
        "cosine_part": cosine,
        "sine_part": sine,
        "amplitude": abs(wave),
        "run_out": 2 * abs(wave),
        "residual_deviation": deviation,
    }
    return {"angles": angles, "readings": readings}, expected, 1e-12


def welch_satterthwaite():
    contributions = [
        {"sensitivity": dice.gauss(0, 1), "standard_uncertainty": length(1e-4, 1e-2), "degrees_of_freedom": freedom()}
        for _ in range(dice.randint(1, 8))
    ]
    probability = dice.choice([0.6827, 0.9, 0.95, 0.9973])
    parts = numpy.array([c["sensitivity"] * c["standard_uncertainty"] for c in contributions])
    freedoms = numpy.array([math.inf if c["degrees_of_freedom"] == "infinite" else c["degrees_of_freedom"] for c in contributions])
    combined = linalg.norm(parts)
    share = numpy.sum((parts / combined) ** 4 / freedoms)
    effective = 1 / share if share else "infinite"
    factor = distribution(effective).ppf((1 + probability) / 2)
    expected = {
        "combined_uncertainty": combined,
        "effective_degrees_of_freedom": effective,
        "coverage_factor": factor,
        "expanded_uncertainty": factor * combined,
    }
    return {"contributions": contributions, "coverage_probability": probability}, expected, 0


def conformity():
    nu, spread = freedom(), length(1e-4, 1e-2)
    low = dice.uniform(-100, 100)
    high = low + spread * length(0.5, 20)
    estimate = dice.uniform(low - 6 * spread, high + 6 * spread)
    inputs = {
        "lower_limit": low,
        "upper_limit": high,
        "estimate": estimate,
        "standard_uncertainty": spread,
        "degrees_of_freedom": nu,
    }
    truth = distribution(nu)
    below, above = truth.cdf((low - estimate) / spread), truth.sf((high - estimate) / spread)
    inside = truth.cdf((high - estimate) / spread) - below
    return inputs, {"probability_below": below, "probability_above": above, "probability_inside": inside}, 1e-13


def joint():
    """Random rings of a press fit."""
    fit = length(2, 80)
    return {
        "fit_diameter": fit,
        "hub_outside_diameter": fit * dice.uniform(1.2, 5),
        "pin_inside_diameter": dice.choice([0, fit * dice.uniform(0.1, 0.8)]),
        "hub_modulus": dice.uniform(60e3, 220e3),
        "hub_poisson": dice.uniform(0.2, 0.4),
        "pin_modulus": dice.uniform(60e3, 220e3),
        "pin_poisson": dice.uniform(0.2, 0.4),
    }


def stress(modulus, poisson, parts, radius):
    """Radial and hoop stress (plane stress) of the displacement parts[0] r + parts[1] / r."""
    stretch, around = parts[0] - parts[1] / radius**2, parts[0] + parts[1] / radius**2
    factor = modulus / (1 - poisson**2)
    return factor * (stretch + poisson * around), factor * (around + poisson * stretch)


def rings(inputs, interference):
    """Displacements of hub and pin: four linear conditions on two rings, solved together."""
    fit, out, hole = (inputs[key] / 2 for key in ("fit_diameter", "hub_outside_diameter", "pin_inside_diameter"))
    hub, pin = (inputs["hub_modulus"], inputs["hub_poisson"]), (inputs["pin_modulus"], inputs["pin_poisson"])

    def radial(ring, radius):
        return [stress(*ring, parts, radius)[0] / 1e5 for parts in ([1, 0], [0, 1])]

    inner = [*radial(pin, hole), 0, 0] if hole else [0, 1, 0, 0]
    rows = [
        inner,
        [0, 0, *radial(hub, out)],
        [*radial(pin, fit), *(-part for part in radial(hub, fit))],
        [-fit, -1 / fit, fit, 1 / fit],
    ]
    found = linalg.solve(numpy.array(rows, dtype=float), [0, 0, 0, interference / 2])
    return (hub, found[2:]), (pin, found[:2])


def equivalent(radial, hoop):
    """Von Mises of a plane stress, from the deviator of the tensor."""
    tensor = numpy.diag([radial, hoop, 0.0])
    deviator = tensor - numpy.trace(tensor) / 3 * numpy.eye(3)
    return math.sqrt(1.5 * numpy.sum(deviator**2))


def press_fit():
    inputs = joint()
    interference, along = inputs["fit_diameter"] * length(2e-4, 3e-3), length(3, 60)
    friction = dice.uniform(0.05, 0.2)
    (hub, hub_parts), (_, pin_parts) = rings(inputs, interference)
    fit, out, hole = (inputs[key] / 2 for key in ("fit_diameter", "hub_outside_diameter", "pin_inside_diameter"))
    radial, hoop = stress(*hub, hub_parts, fit)
    expected = {
        "pressure": -radial,
        "hub_hoop_stress": hoop,
        "hub_von_mises_stress": equivalent(radial, hoop),
        "least_force": friction * -radial * 2 * math.pi * fit * along,
        "hub_growth": 2 * (hub_parts[0] * out + hub_parts[1] / out),
        "pin_bore_closing": -2 * (pin_parts[0] * hole + pin_parts[1] / hole) if hole else 0,
    }
    asked = {"interference": interference, "engaged_length": along, "friction_low": friction, "friction_high": 0.9}
    return {**inputs, **asked}, expected, 0


def elastic_limit():
    inputs = joint()
    strength, safety = dice.uniform(100, 900), dice.uniform(1, 3)

    def beyond(share):
        (hub, parts), _ = rings(inputs, share * inputs["fit_diameter"])
        return equivalent(*stress(*hub, parts, inputs["fit_diameter"] / 2)) - strength / safety

    share = optimize.brentq(beyond, 0, 0.1, xtol=1e-18, rtol=1e-14)
    expected = {"largest_interference": share * inputs["fit_diameter"]}
    return {**inputs, "yield_strength": strength, "safety_factor": safety}, expected, 0


QUESTIONS = {
    "Student t": ("student-t-quantile", quantile),
    "normal quantile": ("student-t-quantile", normal_quantile),
    "circle": ("circle-fit", circle),
    "line": ("line-fit", line),
    "plane": ("plane-fit", plane),
    "first harmonic": ("first-harmonic", harmonic),
    "Welch-Satterthwaite": ("uncertainty-combine", welch_satterthwaite),
    "conformity": ("conformity", conformity),
    "press fit": ("press-fit-pressure", press_fit),
    "elastic limit": ("press-fit-elastic-limit", elastic_limit),
}


def agrees(found, wanted, absolute):
    if wanted == "infinite" or wanted is None:
        return found == wanted
    number = found["value"] if isinstance(found, dict) else found
    # Endless degrees of freedom may come out as a very large number on the other side.
    return number != "infinite" and number is not None and abs(number - wanted) <= max(RELATIVE * abs(wanted), absolute)


def main(program, seed="20260823", cases="200"):
    dice.seed(int(seed))
    asked = [(title, name, *make()) for title, (name, make) in QUESTIONS.items() for _ in range(int(cases))]
    lines = "".join(json.dumps({"name": name, "inputs": inputs}) + "\n" for _, name, inputs, _, _ in asked)
    answered = subprocess.run([program, "reckon", "--lines"], input=lines, capture_output=True, text=True, check=True)
    answers = [json.loads(line) for line in answered.stdout.splitlines()]
    assert len(answers) == len(asked), f"{len(answers)} answers to {len(asked)} questions"
    wrong, compared = [], dict.fromkeys(QUESTIONS, 0)
    for (title, name, inputs, expected, absolute), answer in zip(asked, answers):
        for key, wanted in expected.items():
            compared[title] += 1
            if not agrees(answer.get(key, {"value": None}), wanted, absolute):
                wrong.append(f"{title}: {key} should be {wanted!r}\n  {json.dumps({'name': name, 'inputs': inputs})}\n  {answer}")
    print("\n".join(wrong[:20]))
    counts = ", ".join(f"{title} {count}" for title, count in compared.items())
    print(f"{sum(compared.values()) - len(wrong)} of {sum(compared.values())} numbers agree with SciPy {scipy.__version__}: {counts}")
    return 1 if wrong else 0


sys.exit(main(*sys.argv[1:]))
