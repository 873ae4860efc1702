# SPDX-License-Identifier: MIT
"""How a pane comes to its compression: ions swapped in a salt bath, or faces cooled first.

`salt_bath` diffuses ions and turns them into stress, `bath_glasses` holds the numbers of
named glasses, `interdiffusion` lets both ions move; `quenching` freezes a cooled plate, from
`cooling` and `relaxation`.
"""

from glasskit.toughening.bath_glasses import (
    BathGlass,
    bath_glass,
    diffusivity,
    relaxation_time,
)
from glasskit.toughening.cooling import Cooling, conductivity, cool_plate, heat_capacity
from glasskit.toughening.interdiffusion import PlateExchange, interdiffuse
from glasskit.toughening.quenching import (
    Quench,
    freeze_in,
    instant_freezing,
    quench,
    slow_limit,
)
from glasskit.toughening.relaxation import SODA_LIME, Relaxation
from glasskit.toughening.salt_bath import (
    SaltBath,
    TradeOff,
    diffuse,
    residual_stress,
    squeeze,
    strained_share,
    trade_off,
)

__all__ = [
    "SODA_LIME",
    "BathGlass",
    "Cooling",
    "PlateExchange",
    "Quench",
    "Relaxation",
    "SaltBath",
    "TradeOff",
    "bath_glass",
    "conductivity",
    "cool_plate",
    "diffuse",
    "diffusivity",
    "freeze_in",
    "heat_capacity",
    "instant_freezing",
    "interdiffuse",
    "quench",
    "relaxation_time",
    "residual_stress",
    "slow_limit",
    "squeeze",
    "strained_share",
    "trade_off",
]
