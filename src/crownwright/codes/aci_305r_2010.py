"""ACI 305R-10 and ACI 301-20: the temperature of fresh concrete from its ingredients, and the limits in hot weather."""

from __future__ import annotations

from dataclasses import dataclass

SOLIDS_HEAT = 0.22
"""Specific heat of dry cement and aggregate over that of water. 0.20 serves for quick field work (TM 5-852-4)."""
FUSION = 80.0
"""Heat to melt ice over the specific heat of water, K (144 Btu/lb; 143.5 in CRD-C 307-91)."""
ICE_HEAT = 0.5
"""Specific heat of ice over that of water."""
ICE_SHARE = 0.50
"""Share of the mixing water as ice above which the equation under-predicts and turns irrational; 20 % is a cautious ceiling."""
WATER_CAP = 60.0
"""Hottest mixing water, degC (140 F): a bag cannot be kept from meeting the water, so hotter water risks a flash set."""
FLASH = 38.0
"""degC (100 F): above it water and aggregate are to be combined before cement meets them, which a bagged mix cannot do."""
MIX_CAP = 26.7
"""degC (80 F): highest temperature of a mix made with hot water."""
DISCHARGE = 35.0
"""Highest temperature at discharge, degC (95 F): ACI 301-20, 305.1-14."""
DISCHARGE_OLDER = 32.2
"""degC (90 F): the older limit, and that of military paving."""
HOT_AIR = 32.2
"""Air, degC (90 F), from which hot-weather precautions are called for."""
DRY_AIR = 0.25
"""Relative humidity under which, with wind, they are called for in any case."""


@dataclass(frozen=True, slots=True)
class Ingredients:
    """Masses (kg, or any one unit) and temperatures (degC) of what goes into the mixer.

    ``free_water`` is the moisture on the aggregate, at the aggregate's temperature and frozen when ``frozen``. A bagged mix
    is ``aggregate`` at the bag's temperature, with ``cement`` 0: the specific heats are the same.
    """

    cement: float
    aggregate: float
    water: float
    cement_temperature: float
    aggregate_temperature: float
    water_temperature: float
    free_water: float = 0.0
    frozen: bool = False
    ice: float = 0.0
    ice_temperature: float = 0.0


def mix_temperature(mix: Ingredients) -> float:
    """Temperature of the fresh mix, degC: sum of heat over sum of heat capacity, water 1, solids 0.22, ice less its melting.

    T = (0.22 (Ta Wa + Tc Wc) + Tw Ww + Ta Wf - 80 Wi) / (0.22 (Wa + Wc) + Ww + Wf + Wi); frozen free moisture counts at
    0.5 T - 80 (ACI 306R eq. 3-2). One public copy of TM 5-852-4 eq. 16 puts the water inside the 0.22 bracket: a misprint.

    >>> round(mix_temperature(Ingredients(375.0, 2000.0, 180.0, 46.2, 41.0, 35.0)), 1)
    40.1
    """
    solids = SOLIDS_HEAT * (mix.aggregate_temperature * mix.aggregate + mix.cement_temperature * mix.cement)
    free = frozen_moisture(mix.aggregate_temperature) if mix.frozen else mix.aggregate_temperature
    ice = mix.ice * (ICE_HEAT * min(mix.ice_temperature, 0.0) - FUSION)
    heat = solids + mix.water_temperature * mix.water + free * mix.free_water + ice
    return heat / heat_capacity(mix)


def heat_capacity(mix: Ingredients) -> float:
    """Heat capacity of the mix over that of water, in the unit of mass used: 0.22 solids + water + free water + ice.

    >>> heat_capacity(Ingredients(375.0, 2000.0, 180.0, 46.2, 41.0, 35.0))
    702.5
    """
    return SOLIDS_HEAT * (mix.aggregate + mix.cement) + mix.water + mix.free_water + mix.ice


def frozen_moisture(temperature: float) -> float:
    """Temperature at which frozen free moisture counts, degC: 0.5 T - 80 (0.5 T - 128 in F; ACI 306R eq. 3-2, from memory).

    >>> frozen_moisture(-10.0)
    -85.0
    """
    return ICE_HEAT * temperature - FUSION


def water_needed(mix: Ingredients, target: float) -> float:
    """Temperature the mixing water must have to bring the mix to ``target``, degC; the rest of the mix as given.

    Not limited: the caller compares it with freezing and with `WATER_CAP`.

    >>> bag = Ingredients(0.0, 36.287, 2.84, 0.0, 4.4, 60.0)
    >>> round(water_needed(bag, 15.0), 1)
    44.8
    """
    return mix.water_temperature + (target - mix_temperature(mix)) * heat_capacity(mix) / mix.water


def solids_needed(mix: Ingredients, target: float) -> float:
    """Temperature the dry solids must have to bring the mix to ``target``, degC, the water as given.

    >>> bag = Ingredients(0.0, 36.287, 2.84, 35.0, 35.0, 15.0)
    >>> round(solids_needed(bag, 28.0), 1)
    32.6
    """
    solids = SOLIDS_HEAT * (mix.aggregate + mix.cement) + mix.free_water
    mean = (SOLIDS_HEAT * (mix.aggregate_temperature * mix.aggregate + mix.cement_temperature * mix.cement)) / (
        SOLIDS_HEAT * (mix.aggregate + mix.cement)
    )
    return mean + (target - mix_temperature(mix)) * heat_capacity(mix) / solids
