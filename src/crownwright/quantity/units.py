"""What one trade unit is in SI, exactly. Inside the program everything is SI; these are for the edge and for clauses.

Multiply to come in (``3 * INCH``), divide to go out (``depth / INCH``).
"""

INCH = 0.0254  # m, exact (international inch, 1959)
FOOT = 12 * INCH
YARD = 3 * FOOT
MILE = 5280 * FOOT
LB = 0.45359237  # kg, exact (international pound, 1959)
G0 = 9.80665  # m/s2, standard gravity, exact (BIPM SI Brochure)
LBF = LB * G0  # N
PSI = LBF / INCH**2  # Pa
PSF = LBF / FOOT**2  # Pa
PCF = LB / FOOT**3  # kg/m3
FT3 = FOOT**3
YD3 = YARD**3
IN2 = INCH**2
IN3 = INCH**3
FT2 = FOOT**2
GALLON = 231 * IN3  # m3, US liquid gallon, exact
QUART = GALLON / 4
FLUID_OUNCE = QUART / 32
MPH = MILE / 3600  # m/s
BTU = 1055.05585262  # J, International Table
HOUR = 3600.0
DAY = 24 * HOUR
ZERO_CELSIUS = 273.15  # K


def celsius(fahrenheit: float) -> float:
    """Degrees Celsius from degrees Fahrenheit.

    >>> celsius(212.0)
    100.0
    """
    return (fahrenheit - 32.0) / 1.8


def fahrenheit(celsius_: float) -> float:
    """Degrees Fahrenheit from degrees Celsius.

    >>> fahrenheit(-40.0)
    -40.0
    """
    return celsius_ * 1.8 + 32.0
