"""Where does a night's damp stay? Vapour from the skin through one quilt, and the grams that it keeps.

An upper estimate: no air is exchanged at the edges, and nothing dries. Never added to the heat balance,
whose own moisture from the skin is about a quarter of this by another standard.
"""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from engine.catalogue.load import Catalogue
from engine.design import Design
from engine.formulas import body, heat
from engine.formulas.moisture import Damp, interface_temperatures, mass_a_night, night_damp
from engine.formulas.vapour import saturation_pressure
from engine.night import Night, Sleeper
from engine.quantities import FABRIC_R, Quantities, sleeper_size
from engine.score import Score, half_share

SKIN_C = 34.0
SKIN_SD_M, WETTER_SKIN_SD_M, DRIER_SKIN_SD_M = 0.27, 0.16, 0.40
"""Skin as a layer of still air over water: middle, ISO 7730's diffusion (18 g/m2h), and 7 g/m2h; ours."""
CLOTHING_SD_M = 0.008
FILM_SD_M = 0.007
FILL_SD_PER_M = 1.05
"""Vapour resistance of light sleep clothes, of the air film, and of fill over still air; from memory."""
SLICES = 20
CLAMMY_PERCENT = 95.0
"""Humidity between skin and inner shell from which on it feels wet; ours."""
PLACES = ("on the sleeper's side of the inner shell", "in the fill", "on the outer shell")


@dataclass(frozen=True)
class Layers:
    """What lies between skin and night at the mean loft: R in m2K/W, s_d in m of still air."""

    clothing_r_m2k_w: float
    shell_r_m2k_w: float
    fill_r_m2k_w: float
    film_r_m2k_w: float
    fill_m: float
    inner_sd_m: float
    outer_sd_m: float
    air_c: float
    humidity_percent: float


@dataclass(frozen=True)
class Soaked:
    """Vapour into and out of a stack, and what stays at each of PLACES, in kg/(m2 s)."""

    into: float
    kept: tuple[float, float, float]
    frost: bool
    microclimate_percent: float


@dataclass(frozen=True)
class NightDamp:
    """A night's damp in one quilt, in kg. Low and high: a drier and a wetter skin."""

    layers: Layers
    hours: float
    area_m2: float
    into_kg: float
    into_low_kg: float
    into_high_kg: float
    kept_kg: float
    kept_low_kg: float
    kept_high_kg: float
    kept_by_place_kg: dict[str, float]
    share_of_fill: float | None
    """What is kept over the mass of all fill; None without fill."""
    frost: bool
    """Some of it stands below freezing."""
    microclimate_percent: float
    clammy: bool

    @property
    def wettest(self) -> str:
        """The place where most of it stays."""
        return max(PLACES, key=self.kept_by_place_kg.__getitem__)

    @property
    def past_the_inner_kg(self) -> float:
        """What gets through the inner shell: into the fill, or out through it."""
        return self.into_kg - self.kept_by_place_kg[PLACES[0]]


def sleeper_area(sleeper: Sleeper) -> float:
    """Body surface of the night's sleeper.

    Units   m2
    Source  engine.formulas.body.body_area
    """
    standard = {"standard woman": body.STANDARD_WOMAN_KG_M, "standard man": body.STANDARD_MAN_KG_M}
    mass_kg, _ = standard.get(sleeper.kind, (sleeper.mass_kg, 0.0))
    return float(body.body_area(mass_kg, sleeper_size(sleeper)[0]))


def soak(layers: Layers, skin_sd_m: float = SKIN_SD_M, slices: int = SLICES) -> Soaked:
    """Vapour from wet skin behind a layer of still air, through clothes, shells and fill.

    Units   m of still air -> kg/(m2 s)
    Range   steady state; plane layers at the mean loft
    Raises  ValueError for a negative resistance
    Source  ISO 13788:2012, clause 6; the skin as its source: ours
    """
    sliced = np.full(slices, 1.0 / slices)
    resistance = np.array([0.0, layers.clothing_r_m2k_w, layers.shell_r_m2k_w])
    resistance = np.concatenate(
        [resistance, layers.fill_r_m2k_w * sliced, [layers.shell_r_m2k_w, layers.film_r_m2k_w]]
    )
    sd = np.concatenate(
        [
            [skin_sd_m, CLOTHING_SD_M, layers.inner_sd_m],
            FILL_SD_PER_M * layers.fill_m * sliced,
            [layers.outer_sd_m, FILM_SD_M],
        ]
    )
    temperature = interface_temperatures(SKIN_C, layers.air_c, resistance)
    night_pa = layers.humidity_percent / 100 * float(saturation_pressure(layers.air_c))
    return _by_place(temperature, night_damp(temperature, sd, float(saturation_pressure(SKIN_C)), night_pa))


def _by_place(temperature_c: NDArray[np.float64], damp: Damp) -> Soaked:
    """Interfaces 1 and 2 are the two sides of the clothes; the last two the two sides of the outer shell."""
    wet = damp.condensing_kg_m2s
    inside, outside = slice(0, 3), slice(len(wet) - 3, None)
    near = slice(1, 3)
    return Soaked(
        into=damp.flux_in_kg_m2s,
        kept=(float(wet[inside].sum()), float(wet[3:-3].sum()), float(wet[outside].sum())),
        frost=bool(np.any((wet > 0) & (temperature_c < 0))),
        microclimate_percent=100 * float(np.max(damp.pressure_pa[near] / damp.saturation_pa[near])),
    )


def layers_of(design: Design, catalogue: Catalogue, q: Quantities, score: Score) -> Layers:
    """The layers of one quilt (not an array of them) on its night, as the heat balance has them.

    Raises  Refusal for an unknown good
    Source  engine.formulas.heat; vapour resistances from the catalogue
    """
    air_c, loft = float(q.air_c), score.loft
    conductivity = heat.fill_conductivity(
        (SKIN_C + air_c) / 2, float(loft.density_kg_m3), float(q.extinction_m2_kg)
    )
    return Layers(
        clothing_r_m2k_w=float(q.clothing_r_m2k_w),
        shell_r_m2k_w=FABRIC_R,
        fill_r_m2k_w=float(loft.mean_m / conductivity),
        film_r_m2k_w=float(heat.outside_film_resistance(q.wind_m_s, air_c) * q.film_factor),
        fill_m=float(loft.mean_m),
        inner_sd_m=catalogue.fabric(design.shells.inner).vapour_sd_m,
        outer_sd_m=catalogue.fabric(design.shells.outer).vapour_sd_m,
        air_c=air_c,
        humidity_percent=float(q.humidity_percent),
    )


def damp_of(design: Design, night: Night, catalogue: Catalogue, q: Quantities, score: Score) -> NightDamp:
    """A night's damp in one quilt (not an array of them), over the part of its sleeper that it covers.

    Raises  Refusal for an unknown good
    Source  ISO 13788:2012, clause 6; the skin as its source: ours
    """
    layers = layers_of(design, catalogue, q, score)
    area_m2 = sleeper_area(night.sleeper) * float(half_share(q) * score.body_cover)
    middle, low, high = (soak(layers, sd) for sd in (SKIN_SD_M, DRIER_SKIN_SD_M, WETTER_SKIN_SD_M))

    def kilograms(flux_kg_m2s: float) -> float:
        return mass_a_night(flux_kg_m2s, area_m2, night.hours)

    kept_kg, fill_kg = kilograms(sum(middle.kept)), float(score.weight_parts_kg["fill"])
    return NightDamp(
        layers=layers,
        hours=night.hours,
        area_m2=area_m2,
        into_kg=kilograms(middle.into),
        into_low_kg=kilograms(low.into),
        into_high_kg=kilograms(high.into),
        kept_kg=kept_kg,
        kept_low_kg=kilograms(sum(low.kept)),
        kept_high_kg=kilograms(sum(high.kept)),
        kept_by_place_kg={place: kilograms(flux) for place, flux in zip(PLACES, middle.kept, strict=True)},
        share_of_fill=kept_kg / fill_kg if fill_kg > 0 else None,
        frost=middle.frost,
        microclimate_percent=middle.microclimate_percent,
        clammy=middle.microclimate_percent >= CLAMMY_PERCENT,
    )
