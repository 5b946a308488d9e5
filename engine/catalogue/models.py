"""What can be bought: one row of the catalogue, in the units printed on the roll, bag or tube.

Prices are invented for the demonstration, in one currency without a name.
"""

from typing import Literal

from pydantic import Field, model_validator

from engine.models import ID_PATTERN, Frozen, GoodId

Role = Literal["shell", "baffle", "vent"]
JointClass = Literal["baffles", "edges", "ends", "panel joins", "raw edges"]


class Good(Frozen):
    """Anything sold: an id that designs refer to, a name to print, and where its numbers come from."""

    id: GoodId = Field(pattern=ID_PATTERN)
    name: str = Field(min_length=3, max_length=80)
    source: str = Field(min_length=3, description="published source, or 'common practice, no source'")
    own: bool = Field(False, description="the maker has put in numbers of their own")
    own_numbers: tuple[str, ...] = Field((), description="which of them: names of OwnGood")


class Fabric(Good):
    """A cloth or film as sold off the roll."""

    roles: tuple[Role, ...] = Field(min_length=1)
    construction: Literal["laminate film", "calendered ripstop", "uncoated ripstop", "coated ripstop", "mesh"]
    areal_mass_g_m2: float = Field(gt=5, lt=200, title="Areal mass", description="finished, coating included")
    roll_width_mm: float = Field(ge=300, le=3500, title="Roll width")
    selvedge_mm: float = Field(ge=0, le=60, description="unusable strip along each side of the roll")
    price_per_m: float = Field(ge=0, le=1000, title="Price a metre")
    air_permeability_mm_s: float = Field(ge=0, le=3000, description="at 100 Pa, as ISO 9237 states it")
    downproof: Literal["any down", "good down", "small vents only", "no"]
    vapour_sd_m: float = Field(gt=0, le=100, description="still air layer of the same vapour resistance")
    tape: Literal["holds", "stitch too", "refuses"]
    shows_light: bool
    heat_cuts: bool

    @property
    def airtight(self) -> bool:
        """True of film: no air passes, whatever the pressure."""
        return self.air_permeability_mm_s < 0.5


class Fill(Good):
    """Loose down, sold by the gram, or sheet insulation, sold by the metre."""

    form: Literal["down", "sheet"]
    water_repellent: bool
    fill_power_in3_oz: float | None = Field(None, ge=400, le=1050, title="Fill power")
    price_per_100_g: float | None = Field(None, ge=0, le=1000, title="Price per 100 g")
    bag_sizes_g: tuple[float, ...] = ()
    areal_mass_g_m2: float | None = Field(None, gt=20, lt=500, title="Areal mass")
    loft_mm: float | None = Field(None, gt=2, lt=60)
    roll_width_mm: float | None = Field(None, ge=300, le=3500, title="Roll width")
    price_per_m: float | None = Field(None, ge=0, le=1000, title="Price a metre")
    extinction_m2_kg: float = Field(ge=10, le=300, description="radiation stopped per mass, median")
    extinction_low_m2_kg: float = Field(ge=5, le=300)
    extinction_high_m2_kg: float = Field(ge=10, le=400)
    pivot_density_kg_m3: float = Field(ge=40, le=200, description="bulk density at 35 kPa")

    @model_validator(mode="after")
    def _has_what_its_form_needs(self) -> "Fill":
        needed = {
            "down": ("fill_power_in3_oz", "price_per_100_g"),
            "sheet": ("areal_mass_g_m2", "loft_mm", "roll_width_mm", "price_per_m"),
        }[self.form]
        for name in needed:
            if getattr(self, name) is None:
                raise ValueError(f"{name} is empty; a {self.form} fill needs it")
        return self


class JointMethod(Good):
    """One way to join two pieces, with what it uses, takes and holds per metre."""

    kind: Literal["tape", "tape and stitch", "glued fold", "sewn", "seared edge", "cord channel"]
    classes: tuple[JointClass, ...] = Field(min_length=1)
    width_mm: float = Field(ge=0, le=60)
    tape_m_per_m: float = Field(ge=0, le=4)
    thread_m_per_m: float = Field(ge=0, le=20)
    sealant_ml_per_m: float = Field(ge=0, le=20)
    mass_g_m: float = Field(ge=0, le=30, description="what stays in the quilt per metre of joint")
    price_per_m: float = Field(ge=0, le=100, title="Price per metre of joint", description="without waste")
    pack_m: float = Field(
        gt=0, le=5000, description="joint metres from one roll, spool or tube, without waste"
    )
    minutes_per_m: float = Field(ge=0, le=60, title="Minutes a metre")
    minutes_per_piece: float = Field(ge=0, le=60, title="Minutes a piece")
    cure_h: float = Field(ge=0, le=120, description="before the next step or filling; full strength later")
    peel_n_m: float = Field(
        ge=0, le=20000, title="Peel strength", description="per metre of peel front, where it holds"
    )
    shear_n_m: float = Field(ge=0, le=50000)
    solvent: bool
    hot: bool


class Hardware(Good):
    """Cords, hooks, locks, closures: by the metre or by the piece."""

    sold_by: Literal["m", "piece"]
    mass_g: float = Field(ge=0, le=200, description="per metre or per piece")
    price: float = Field(ge=0, le=200, title="Price each or a metre")
    use: Literal["suspension", "closure"]


GoodKind = Literal["fabric", "fill", "joint", "hardware"]


class OwnGood(Frozen):
    """The maker's own numbers for one good of the catalogue; what is None stays as catalogued."""

    kind: GoodKind
    id: GoodId = Field(pattern=ID_PATTERN)
    price: float | None = Field(None, ge=0, le=1000, title="Price")
    roll_width_mm: float | None = Field(None, ge=300, le=3500, title="Roll width")
    areal_mass_g_m2: float | None = Field(None, gt=5, lt=500, title="Areal mass")
    fill_power_in3_oz: float | None = Field(None, ge=400, le=1050, title="Fill power")
    peel_n_m: float | None = Field(None, ge=0, le=20000, title="Peel strength")
    minutes_per_m: float | None = Field(None, ge=0, le=60, title="Minutes a metre")
    minutes_per_piece: float | None = Field(None, ge=0, le=60, title="Minutes a piece")
