# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Flue gas by another library: composition by chemical equilibrium, enthalpy by GRI-Mech 3.0.

Reads lines `fuel c h o o2_dry stack_K air_K co2_dry h2o_wet air_kg enthalpy_J` (per kg of fuel, all
water as vapour), computes the last four itself, prints the largest relative difference of each.
Exit status 0: all within 0.1 %; 1: not; 77: the library is not installed.
"""

import sys

LIMIT = 0.001
AIR = {"O2": 0.20946, "N2": 0.7812, "AR": 0.00934}

try:
    import cantera
except ImportError as why:
    print(f"no reference: {why}")
    sys.exit(77)


def gas_of(c, h, o):
    known = {s.name: s for s in cantera.Species.list_from_file("gri30.yaml")}
    atoms = {k: v for k, v in {"C": c, "H": h, "O": o}.items() if v > 0}
    fuel = cantera.Species("fuel", atoms)
    fuel.thermo = known["CH4"].thermo  # never asked for: the fuel burns out
    keep = [known[n] for n in ("N2", "O2", "CO2", "H2O", "CO", "AR")]
    return cantera.Solution(thermo="ideal-gas", species=keep + [fuel])


def burn(gas, phi):
    """Mass fraction of fuel before, dry oxygen after."""
    gas.TP = 500, 101325
    gas.set_equivalence_ratio(phi, "fuel", AIR)
    fuel = gas["fuel"].Y[0]
    gas.equilibrate("TP")
    x = gas.mole_fraction_dict()
    return fuel, x["O2"] / (1 - x["H2O"]), x


def at_oxygen(gas, oxygen):
    low, high = 0.05, 1.0
    for _ in range(60):
        phi = (low + high) / 2
        low, high = (low, phi) if burn(gas, phi)[1] < oxygen else (phi, high)
    return burn(gas, (low + high) / 2)


def main():
    worst = {}
    for line in sys.stdin:
        name, *numbers = line.split()
        c, h, o, oxygen, stack, air, *ours = map(float, numbers)
        gas = gas_of(c, h, o)
        fuel, _, x = at_oxygen(gas, oxygen)
        gas.TP = air, 101325
        cold = gas.enthalpy_mass
        gas.TP = stack, 101325
        theirs = (x["CO2"] / (1 - x["H2O"]), x["H2O"], (1 - fuel) / fuel,
                  (gas.enthalpy_mass - cold) / fuel)
        for what, a, b in zip(("co2_dry", "h2o_wet", "air", "enthalpy"), ours, theirs):
            worst[name, what] = max(worst.get((name, what), 0), abs(a / b - 1))
    for (name, what), apart in sorted(worst.items()):
        print(f"{name} {what}: at most {100 * apart:.4f} % apart")
    print(f"cantera {cantera.__version__}, gri30.yaml")
    return 0 if worst and max(worst.values()) < LIMIT else 1


if __name__ == "__main__":
    sys.exit(main())
