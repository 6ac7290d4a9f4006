"""Conversions by the units library pint, every pair of units of a quantity: run with `python units_pint.py > units_pint.csv`.

The library is from the Python registry; its values rest on the same definitions but on none of this project's code. Printed with
15 digits.
"""

import itertools

import pint

UNITS = {
    "length": {"in": "inch", "ft": "foot", "mm": "millimeter", "cm": "centimeter", "m": "meter"},
    "time": {"s": "second", "min": "minute", "h": "hour"},
    "volume": {
        "gal": "gallon",
        "qt": "quart",
        "cup": "cup",
        "oz": "fluid_ounce",
        "imp_gal": "imperial_gallon",
        "ft3": "foot**3",
        "m3": "meter**3",
        "L": "liter",
        "mL": "milliliter",
    },
    "flow": {"gpm": "gallon/minute", "L/min": "liter/minute"},
    "pressure": {"psi": "psi", "kPa": "kilopascal", "bar": "bar"},
}
BILLED = {"CCF": ("foot**3", 100), "kgal": ("gallon", 1000)}

registry = pint.UnitRegistry()
print(f"# Conversions by pint {pint.__version__} from the Python registry (tests/oracles/units_pint.py), 15 digits.")
print("source,one,in,published")
for units in UNITS.values():
    for (code, name), (to, other) in itertools.permutations(units.items(), 2):
        value = registry.Quantity(7.25, registry(name).units).to(other).magnitude
        print(f"pint,7.25 {code},{to},{value:.15g}")
for code, (name, times) in BILLED.items():
    for to, other in UNITS["volume"].items():
        value = registry.Quantity(7.25 * times, registry(name).units).to(other).magnitude
        print(f"pint,7.25 {code},{to},{value:.15g}")
for value in (-40.0, 32.0, 98.6, 110.0, 120.0, 140.0, 210.0):
    celsius = registry.Quantity(value, registry.degF).to("degC").magnitude
    print(f"pint,{value} F,C,{celsius:.15g}")
for value in (-40.0, 0.0, 48.9, 60.0, 100.0):
    fahrenheit = registry.Quantity(value, registry.degC).to("degF").magnitude
    print(f"pint,{value} C,F,{fahrenheit:.15g}")
