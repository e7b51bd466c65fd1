# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""One calculation by hand for each fuel, from cited constants to every figure, step by step.

It shares nothing with the program: it counts in moles per mole of carbon instead of per kilogram,
solves for the air directly, takes enthalpies from the nine-coefficient polynomials of another NASA
report, the dew point by Goff and Gratch, and works in fractions and decimals of 30 digits. The
pages it makes are tests/golden/sheets/*.md. Readings are invented.
"""

from decimal import Decimal, getcontext
from fractions import Fraction

getcontext().prec = 30

CFR_1065 = "40 CFR 1065.655 Table 1 (2015 ed.)"
CFR_75 = "40 CFR 75 App. F 3.3.5 Table 1 (2015 ed.)"
APP_O = "10 CFR 430 Subpart B App. O Table 2 (2015 ed.)"
TABLE_C1 = "40 CFR 98 Table C-1"
BIMSCHV = "1. BImSchV (26 Jan 2010) Annex 2 no. 3.4.1"
ATCT = "Active Thermochemical Tables 1.112"
MCBRIDE = "McBride, Gordon, Reno NASA 7-coefficient set at 298.15 K"

CARBON, HYDROGEN, OXYGEN = Fraction("12.011"), Fraction("1.008"), Fraction("15.999")
# Dry air, handbook: O2 20.946 %, Ar 0.934 %, the rest counted as N2.
AIR_O2, AIR_AR = Fraction("0.20946"), Fraction("0.00934")
AIR_N2 = 1 - AIR_O2 - AIR_AR
GAS_CONSTANT = Decimal("8.31446261815324")
BTU_PER_LB = Fraction("2.326")  # kJ/kg; exact
LATENT = 285825 - 241822        # J/mol water, ATcT
BURNING_CO = 393474 - 110525    # J/mol CO, ATcT

# NASA/TP-2002-211556, 200 to 1000 K: a1 to a7; the constant of integration falls out.
NINE = {
    "N2": ("22103.71497", "-381.846182", "6.08273836", "-8.53091441e-3", "1.384646189e-5",
           "-9.62579362e-9", "2.519705809e-12"),
    "O2": ("-34255.6342", "484.700097", "1.119010961", "4.29388924e-3", "-6.83630052e-7",
           "-2.0233727e-9", "1.039040018e-12"),
    "CO2": ("49436.5054", "-626.411601", "5.30172524", "2.503813816e-3", "-2.127308728e-7",
            "-7.68998878e-10", "2.849677801e-13"),
    "H2O": ("-39479.6083", "575.573102", "0.931782653", "7.22271286e-3", "-7.34255737e-6",
            "4.95504349e-9", "-1.336933246e-12"),
    "CO": ("14890.45326", "-292.2285939", "5.72452717", "-8.176235030e-3", "1.456903469e-5",
           "-1.087746302e-8", "3.027941827e-12"),
    "Ar": ("0", "0", "2.5", "0", "0", "0", "0"),
}


def mass_of(formula):
    h, o = formula
    return CARBON + h * HYDROGEN + o * OXYGEN


def of_mixture(mass_share, ours, theirs):
    """Atoms of H and O for each of C, and the heat per kg, of two fuels mixed by mass."""
    parts = [mass_share * a + (1 - mass_share) * b for a, b in zip(ours[:3], theirs[:3])]
    c, h, o = parts[0] / CARBON, parts[1] / HYDROGEN, parts[2] / OXYGEN
    return (h / c, o / c), mass_share * ours[3] + (1 - mass_share) * theirs[3]


def no2_oil():
    formula = (Fraction("1.80"), Fraction(0))
    return formula, 19500 * BTU_PER_LB  # kJ/kg


def blend(volume):
    """Biodiesel C 77, H 12, O 11 % at 7.3 lb/gal; No. 2 oil at 138000/19500 lb/gal."""
    density, oil = Fraction("7.3"), Fraction(138000, 19500)
    share = volume * density / (volume * density + (1 - volume) * oil)
    formula, heat = no2_oil()
    mass = mass_of(formula)
    diesel = (CARBON / mass, formula[0] * HYDROGEN / mass, Fraction(0), heat)
    bio = (Fraction("0.77"), Fraction("0.12"), Fraction("0.11"),
           Fraction(128000) / density * BTU_PER_LB)
    return of_mixture(share, bio, diesel)


def pure(carbons, hydrogens, formation):
    """Gross heat from formation enthalpies, J/mol of fuel, to kJ/kg."""
    heat = carbons * 393474 + Fraction(hydrogens, 2) * 285825 + formation
    mass = carbons * CARBON + hydrogens * HYDROGEN
    return (Fraction(hydrogens, carbons), Fraction(0)), Fraction(heat) / mass


def natural_gas():
    formula = (Fraction("3.78"), Fraction("0.016"))
    # 1040 scf CO2/mmBtu at 385.35 scf/lbmol: Btu per lbmol of carbon, then kJ per kg of fuel.
    per_carbon = Fraction("385.35") * 1000000 / 1040
    return formula, per_carbon / mass_of(formula) * BTU_PER_LB


OIL_1 = ((Fraction("1.93"), Fraction(0)), 19800 * BTU_PER_LB)
APP_O_ROWS = {  # A, B, C, D, L
    "no1_oil": ("0.0679", "14.22", "0.0179", "0.167", "6.55"),
    "no2_oil": ("0.0667", "14.34", "0.0181", "0.167", "6.50"),
    "natural_gas": ("0.0919", "10.96", "0.0175", "0.171", "9.55"),
    "propane": ("0.0841", "12.60", "0.0177", "0.151", "7.99"),
    "butane": ("0.0808", "12.93", "0.0180", "0.143", "7.79"),
}
F_FACTORS = {"no1_oil": (9190, 1420), "no2_oil": (9190, 1420), "natural_gas": (8710, 1040),
             "propane": (8710, 1190), "butane": (8710, 1250)}
SIEGERT = {"no2_oil": ("0.68", "0.007"), "b5": ("0.68", "0.007"), "b20": ("0.68", "0.007"),
           "b100": ("0.68", "0.007"), "natural_gas": ("0.66", "0.009"),
           "propane": ("0.63", "0.008"), "butane": ("0.63", "0.008")}

# name: (formula and heat, where they come from, O2 %, CO ppm, stack degF, air degF)
SHEETS = {
    "no1_oil": (OIL_1, f"CH1.93: {CFR_1065}; 19800 Btu/lb: {APP_O}", "5.2", "18", "465", "68"),
    "no2_oil": (no2_oil(), f"CH1.80: {CFR_1065}; 19500 Btu/lb: {APP_O}", "5.0", "20", "480", "70"),
    "kerosene": (OIL_1, "No. 1 oil stands in: no published composition was read", "6.0", "35",
                 "430", "65"),
    "b5": (blend(Fraction(5, 100)), f"5 % by volume of B100 in No. 2 oil; heat: {TABLE_C1}", "4.5",
           "25", "475", "70"),
    "b20": (blend(Fraction(20, 100)), f"20 % by volume of B100 in No. 2 oil; heat: {TABLE_C1}",
            "6.5", "25", "440", "70"),
    "b100": (blend(Fraction(1)), "C 77, H 12, O 11 %, 7.3 lb/gal: NREL Biodiesel Handling and Use "
             f"Guide, as quoted by US DOE; 0.128 mmBtu/gal: {TABLE_C1}", "5.5", "15", "455", "72"),
    "natural_gas": (natural_gas(), f"CH3.78 O0.016: {CFR_1065}; heat from Fc 1040 scf CO2/mmBtu: "
                    f"{CFR_75}", "4.0", "12", "360", "70"),
    "propane": (pure(3, 8, -104390), f"C3H8; formation enthalpy -104390 J/mol: {ATCT}", "3.5",
                "30", "390", "60"),
    "butane": (pure(4, 10, -125789), f"C4H10; formation enthalpy -125789 J/mol: {MCBRIDE}", "7.0",
               "110", "410", "75"),
}


def dec(x):
    return Decimal(x.numerator) / Decimal(x.denominator) if isinstance(x, Fraction) else Decimal(x)


def enthalpy(species, t):
    """J/mol, but for a constant."""
    a = [Decimal(c) for c in NINE[species]]
    h = -a[0] / t + a[1] * t.ln()
    for n, c in enumerate(a[2:], 1):
        h += c * t ** n / n
    return GAS_CONSTANT * h


def goff_gratch(t):
    """Saturation pressure over water, Pa; constants from memory, both examples of 40 CFR 1065.645
    reproduced."""
    ratio = Decimal("273.16") / t
    log10 = (Decimal("10.79574") * (1 - ratio) - Decimal("5.02800") * (1 / ratio).log10()
             + Decimal("1.50475e-4") * (1 - 10 ** (Decimal("-8.2969") * (1 / ratio - 1)))
             + Decimal("0.42873e-3") * (10 ** (Decimal("4.76955") * (1 - ratio)) - 1)
             - Decimal("0.2138602"))
    return 1000 * 10 ** log10


def boiling_at(pressure):
    low, high = Decimal(274), Decimal(370)
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if goff_gratch(middle) < pressure else (low, middle)
    return low


class Sheet:
    """The steps, each written down as it is made; figures by the keys of `derive --json`."""

    def __init__(self, fuel):
        self.fuel = fuel
        self.lines = [f"# {fuel}, worked by hand", ""]
        self.figures, self.by_app_o, self.by_siegert = {}, {}, {}
        self.work()

    def say(self, text=""):
        self.lines.append(text)

    def step(self, what, how, value, decimals, unit=""):
        self.say(f"- {what}: {how} = **{dec(value):.{decimals}f}** {unit}".rstrip())
        return value

    def page(self):
        return "\n".join(self.lines) + "\n"

    def work(self):
        ((h, o), heat), source, o2_pct, co_ppm, stack_f, air_f = SHEETS[self.fuel]
        oxygen, monoxide = Fraction(o2_pct) / 100, Fraction(co_ppm) / 1000000
        self.say(f"Readings, invented: O2 {o2_pct} %, CO {co_ppm} ppm, stack {stack_f} degF, "
                 f"combustion air {air_f} degF, dry, 101325 Pa.")
        self.say(f"Fuel: {source}.")
        self.say("Made by tests/cli/sheets.py, which names every constant; all per mole of carbon.")
        self.say()
        self.say("## Fuel")
        self.step("hydrogen", "atoms for each of carbon", h, 5)
        self.step("oxygen", "atoms for each of carbon", o, 5)
        mass = self.step("mass", "12.011 + 1.008 H + 15.999 O", mass_of((h, o)), 5, "g")
        gross = self.step("gross heat", f"{dec(heat):.2f} kJ/kg x mass", heat * mass, 1, "J")
        water = self.step("water made", "H/2", h / 2, 5, "mol")
        latent = self.step("latent heat in it", f"water x {LATENT}", water * LATENT, 1, "J")
        self.say()
        self.air(h, o, oxygen, monoxide)
        self.heat(gross, water, latent, stack_f, air_f)
        self.published(Fraction(o2_pct), stack_f, air_f)
        self.trade(oxygen, monoxide)

    def air(self, h, o, oxygen, monoxide):
        self.say("## Air")
        need = self.step("oxygen it takes", "1 + H/4 - O/2", 1 + h / 4 - o / 2, 5, "mol")
        k = self.step("other air for each mole of oxygen", "79.054/20.946",
                      (1 - AIR_O2) / AIR_O2, 6)
        # dry = carbon + oxygen left + other air; CO leaves half a mole of oxygen behind.
        self.dry = self.step(
            "dry flue gas", "(1 + k x need)/(1 - O2 - k (O2 - CO/2))",
            (1 + k * need) / (1 - oxygen - k * (oxygen - monoxide / 2)), 5, "mol")
        supplied = self.step("oxygen supplied", "need + dry (O2 - CO/2)",
                             need + self.dry * (oxygen - monoxide / 2), 5, "mol")
        self.co = self.step("CO", "dry x CO", self.dry * monoxide, 7, "mol")
        self.moles = {"CO2": 1 - self.co, "CO": self.co, "O2": self.dry * oxygen,
                      "N2": supplied * AIR_N2 / AIR_O2, "Ar": supplied * AIR_AR / AIR_O2}
        assert sum(self.moles.values()) == self.dry  # exactly: these are fractions
        excess = self.step("excess air, exact", "100 (supplied/need - 1)",
                           100 * (supplied / need - 1), 3, "%")
        co2 = self.step("CO2", "100 (1 - CO)/dry", 100 * (1 - self.co) / self.dry, 3, "%")
        self.figures |= {"excess_air_exact_pct": excess, "co2_pct": co2}
        self.say()

    def heat(self, gross, water, latent, stack_f, air_f):
        self.say("## Heat")
        hot, cold = ((Decimal(t) + Decimal("459.67")) / Decimal("1.8") for t in (stack_f, air_f))
        self.step("stack", f"({stack_f} + 459.67)/1.8", hot, 3, "K")
        self.step("air", f"({air_f} + 459.67)/1.8", cold, 3, "K")
        whole, sensible = dec(gross), Decimal(0)
        for name, n in self.moles.items():
            rise = enthalpy(name, hot) - enthalpy(name, cold)
            self.step(f"{name} takes up", f"{dec(n):.5f} mol x {rise:.2f} J/mol", dec(n) * rise, 2,
                      "J")
            sensible += dec(n) * rise
        rise = enthalpy("H2O", hot) - enthalpy("H2O", cold)
        vapour = self.step("vapour takes up", f"{dec(water):.5f} mol x {rise:.2f} J/mol",
                           dec(water) * rise, 2, "J")
        unburnt = self.step("CO keeps", f"CO x {BURNING_CO}", dec(self.co) * BURNING_CO, 2, "J")
        part = {"dry_gas_loss_pct": sensible, "vapour_loss_pct": vapour,
                "latent_loss_pct": dec(latent), "co_loss_pct": unburnt}
        for key, joules in part.items():
            self.figures[key] = self.step(key, "100 x it/gross heat", 100 * joules / whole, 4, "%")
        lost = sum(part.values())
        self.figures["efficiency_gross_pct"] = self.step(
            "efficiency, gross", "100 less the four", 100 - 100 * lost / whole, 3, "%")
        net = (lost - dec(latent)) / (whole - dec(latent))
        self.figures["efficiency_net_pct"] = self.step(
            "efficiency, net", "100 less (losses but latent)/(gross heat - latent)",
            100 - 100 * net, 3, "%")
        moist = dec(water) / (dec(water) + dec(self.dry))
        dew = boiling_at(101325 * moist) * Decimal("1.8") - Decimal("459.67")
        self.figures["dew_point_degF"] = self.step(
            "dew point", f"vapour {100 * moist:.3f} %, where Goff and Gratch have that pressure",
            dew, 2, "degF")
        self.say()

    def published(self, o2, stack_f, air_f):
        net = Fraction(stack_f) - Fraction(air_f)
        if self.fuel in APP_O_ROWS:
            a, b, c, d, latent = map(Fraction, APP_O_ROWS[self.fuel])
            f, fc = F_FACTORS[self.fuel]
            self.say(f"## By {APP_O}")
            co2 = self.step("CO2", f"100 x {fc}/{f} (20.9 - O2)/20.9, {CFR_75}",
                            Fraction(100 * fc, f) * (Fraction("20.9") - o2) / Fraction("20.9"), 3,
                            "%")
            loss = self.step("sensible", "C (A + B/CO2 + D) net", c * (a + b / co2 + d) * net, 3,
                             "%")
            self.by_app_o = {"co2_pct": co2, "dry_gas_loss_pct": loss, "latent_loss_pct": latent}
            self.by_app_o["efficiency_gross_pct"] = self.step(
                "efficiency, gross", "100 - L - sensible", 100 - latent - loss, 3, "%")
            self.say()
        if self.fuel in SIEGERT:
            a, b = map(Fraction, SIEGERT[self.fuel])
            self.say(f"## By {BIMSCHV}")
            loss = self.step("loss, net", "(stack - air in K)(A/(21 - O2) + B)",
                             net * 5 / 9 * (a / (21 - o2) + b), 4, "%")
            tenth = self.step("to one decimal", "halves up", half_up(loss * 10) / Fraction(10), 1,
                              "%")
            whole = self.step("then to the integer", "halves up", half_up(tenth), 0, "%")
            self.by_siegert = {"stack_loss_net_pct": loss, "stack_loss_rounded_pct": whole,
                               "efficiency_net_pct": 100 - loss}
            self.say()

    def trade(self, oxygen, monoxide):
        self.say("## By the trade's short forms, air 20.9 %")
        air = Fraction("0.209")
        self.figures |= {
            "excess_air_pct": self.step("excess air", "100 O2/(20.9 - O2)",
                                        100 * oxygen / (air - oxygen), 3, "%"),
            "air_ratio": self.step("air ratio", "20.9/(20.9 - O2)", air / (air - oxygen), 5),
            "co_air_free_ppm": self.step("CO air-free", "CO x 20.9/(20.9 - O2)",
                                         1000000 * monoxide * air / (air - oxygen), 3, "ppm")}


def half_up(x):
    return Fraction((2 * x + 1).__floor__() // 2)
