"""What the maker decides: one quilt, by names and choices, as it would be told to a friend.

Lengths are in millimetres, as on the bench. A field that does not apply to a choice (the gap of
staggered baffles in a quilt of full baffles) keeps its value and is not used.
"""

from typing import Literal

from pydantic import Field, model_validator

from engine.models import ID_PATTERN, Frozen, GoodId, choice, measure

CLOSEST_QUILTING_MM = 50.0
"""Lines closer than this are a slip of the pen; they would take days to sew."""

Kind = Literal["underquilt", "top quilt"]
Shape = Literal["rectangle", "taper", "tapered ends"]
EndShape = Literal["plain", "gathered", "darted"]
Surplus = Literal["eased in", "pleated", "gathered with the end"]
Layout = Literal["none", "sewn-through", "full, lengthwise", "full, crosswise", "staggered", "alternating"]
SHORT_BAFFLES: tuple[Layout, ...] = ("staggered", "alternating")
"""Layouts of short baffles with open ends, between which down is shaken in."""
EdgeKind = Literal["pinched", "low edge wall", "box edge"]
FillRule = Literal["overstuff", "grams"]
Footbox = Literal["none", "sewn with end panel", "drawn and zipped", "gathered"]


class Outline(Frozen):
    """The inner shell laid flat, cut to cut without allowances, head end first."""

    shape: Shape = choice(
        "rectangle",
        label="Outline",
        text="Rectangle; taper towards the foot; or tapered ends (six-sided).",
    )
    length_mm: float = measure(
        1900,
        low=600,
        high=2600,
        unit="mm",
        label="Length",
        text="Underquilt full 1850 to 2050, three-quarter 1300 to 1550, torso 1000 to 1250; "
        "top quilt: height + 200 to 250 mm.",
        step=10,
    )
    width_mm: float = measure(
        1120,
        low=500,
        high=2000,
        unit="mm",
        label="Width",
        text="At the widest. Underquilt 1050 to 1200; top quilt in a hammock 1200 to 1300 mm.",
        step=10,
    )
    foot_width_mm: float = measure(
        970,
        low=300,
        high=2000,
        unit="mm",
        label="Foot width",
        text="Taper only. Top quilt 900 to 1050 mm.",
        step=10,
    )
    taper_from_mm: float = measure(
        900,
        low=0,
        high=2400,
        unit="mm",
        label="Taper starts from head",
        text="Taper only. Usual 800 to 1000 mm.",
        step=10,
    )
    end_run_mm: float = measure(
        380,
        low=50,
        high=1000,
        unit="mm",
        label="Length of tapered end",
        text="Tapered ends only. Usual 300 to 450 mm.",
        step=10,
    )
    end_inset_mm: float = measure(
        150,
        low=0,
        high=500,
        unit="mm",
        label="Inset at each side",
        text="Tapered ends only. Usual 100 to 200 mm.",
        step=10,
    )

    @model_validator(mode="after")
    def _closes(self) -> "Outline":
        if self.shape == "taper" and self.taper_from_mm >= self.length_mm:
            raise ValueError(
                f"taper_from_mm is {self.taper_from_mm:g} mm; "
                f"allowed: less than the length, {self.length_mm:g} mm"
            )
        if self.shape == "taper" and self.foot_width_mm > self.width_mm:
            raise ValueError(
                f"foot_width_mm is {self.foot_width_mm:g} mm; allowed: up to the width, {self.width_mm:g} mm"
            )
        if self.shape == "tapered ends":
            if 2 * self.end_run_mm > self.length_mm:
                raise ValueError(
                    f"end_run_mm is {self.end_run_mm:g} mm; "
                    f"allowed: up to half the length, {self.length_mm / 2:g} mm"
                )
            if 2 * self.end_inset_mm > 0.8 * self.width_mm:
                raise ValueError(
                    f"end_inset_mm is {self.end_inset_mm:g} mm; allowed: up to 40 % of the width, "
                    f"{0.4 * self.width_mm:g} mm"
                )
        return self


class Ends(Frozen):
    """How the two ends are shaped, and where the longer edge of the outer shell goes."""

    shape: EndShape = choice(
        "gathered",
        label="Ends",
        text="Gathered by a cord in a channel, darted in both shells, or plain.",
    )
    gathered_percent: float = measure(
        60,
        low=30,
        high=100,
        unit="%",
        label="Gathered to",
        text="Of the flat width. Usual 50 to 65 %.",
        step=5,
    )
    dart_count: int = measure(2, low=1, high=6, unit="", label="Darts each end", text="Usual 2.")
    dart_width_mm: float = measure(
        32, low=10, high=120, unit="mm", label="Dart width", text="At the edge. Usual 25 to 40 mm."
    )
    dart_length_mm: float = measure(
        250, low=50, high=600, unit="mm", label="Dart length", text="Usual 200 to 300 mm.", step=10
    )
    surplus: Surplus = choice(
        "gathered with the end",
        label="Surplus of the outer shell",
        text="Where the outer is longer than what it joins: eased in, pleated, or gathered with the end.",
    )


class Shells(Frozen):
    """The two large pieces."""

    inner: GoodId = choice(
        "nylon-10d-26",
        label="Inner shell",
        text="The side towards the sleeper. A film here keeps the sleeper's damp out of the fill.",
        goods="fabric:shell",
    )
    outer: GoodId = choice(
        "nylon-10d-26",
        label="Outer shell",
        text="The side towards the night. A film here behind a breathable inner keeps damp in the fill.",
        goods="fabric:shell",
    )


class Cut(Frozen):
    """Flat, or differential: the outer shell larger by the wrap angle times the baffle height."""

    kind: Literal["flat", "differential"] = choice(
        "differential",
        label="Cut",
        text="Differential: outer width = inner width + wrap angle × baffle height.",
    )
    wrap_across_rad: float = measure(
        2.0,
        low=0,
        high=3.2,
        unit="rad",
        label="Wrap across",
        text="Underquilt at the hips 1.5 to 2.5 rad, top quilt 0.5 to 1.0 rad.",
        step=0.1,
    )
    wrap_along_rad: float = measure(
        0.0,
        low=0,
        high=2.0,
        unit="rad",
        label="Wrap along",
        text="Underquilt 0.7 to 1.1 rad; 0 leaves the outer as long as the inner.",
        step=0.1,
    )


class Baffles(Frozen):
    """What holds the two shells apart, and where it stands."""

    layout: Layout = choice(
        "full, lengthwise",
        label="Baffle layout",
        text="Full lengthwise keeps down from sliding to the middle of an underquilt; staggered: short "
        "baffles in rows (karo step); alternating: short ones lengthwise and crosswise in turn; "
        "sewn-through: quilting lines, lightest and least warm.",
    )
    height_mm: float = measure(
        50,
        low=5,
        high=300,
        unit="mm",
        label="Baffle height",
        text="Finished. Near 5 °C 32 to 38, 0 °C 45 to 50, −7 °C 57 to 64, −15 °C 76 to 83 mm.",
    )
    spacing_mm: float = measure(
        122,
        low=40,
        high=600,
        unit="mm",
        label="Chamber width",
        text="On the inner shell. Usual 2.2 × the height (1.8 to 2.5); sewn-through 100 to 140 mm.",
    )
    fabric: GoodId = choice(
        "mesh-24",
        label="Baffle cloth",
        text="Mesh is soft and light; film or shell offcuts do too.",
        goods="fabric:baffle",
    )
    piece_length_mm: float = measure(
        150,
        low=40,
        high=600,
        unit="mm",
        label="Baffle length",
        text="Short baffles only. Usual 120 to 180 mm.",
        step=5,
    )
    gap_mm: float = measure(
        90,
        low=20,
        high=400,
        unit="mm",
        label="Gap between baffles",
        text="Staggered only. Usual 75 to 120 mm.",
        step=5,
    )
    end_chamber_percent: float = measure(
        70,
        low=40,
        high=100,
        unit="%",
        label="First and last chamber",
        text="Of the chamber width. Usual 60 to 75 %.",
        step=5,
    )


class Edges(Frozen):
    """How the two shells meet all round."""

    kind: EdgeKind = choice(
        "pinched",
        label="Edges",
        text="Pinched: the shells meet and the outer 60 to 100 mm is half loft. Low edge wall: 20 to 40 mm. "
        "Box edge: a side strip of full height.",
    )
    low_wall_mm: float = measure(
        30,
        low=5,
        high=150,
        unit="mm",
        label="Edge wall height",
        text="Low edge wall only. Usual 20 to 40 mm.",
    )


class EndPanels(Frozen):
    """Strips of their own cloth that close the two ends: the vents of an airtight quilt."""

    fitted: bool = Field(
        False,
        title="End panels",
        description="A strip of baffle height across each end, of a cloth that lets air through.",
    )
    fabric: GoodId = choice(
        "ripstop-38",
        label="End panel cloth",
        text="Uncoated ripstop passes 20 to 100 mm/s at 100 Pa.",
        goods="fabric:vent",
    )


class Joints(Frozen):
    """One method for each class of joint."""

    baffles: GoodId = choice(
        "sewn-seam", label="Baffles to shells", text="How each baffle edge is fixed.", goods="joint:baffles"
    )
    edges: GoodId = choice(
        "sewn-double", label="Edges", text="How the two shells are closed all round.", goods="joint:edges"
    )
    ends: GoodId = choice(
        "cord-channel", label="Ends and end panels", text="How the ends are finished.", goods="joint:ends"
    )
    panel_joins: GoodId = choice(
        "sewn-seam",
        label="Panel joins",
        text="Where a shell is wider than the roll.",
        goods="joint:panel joins",
    )
    raw_edges: GoodId | None = choice(
        "seared-edge",
        label="Raw edges",
        text="Woven cloth frays: sear it. Film does not: none.",
        goods="joint:raw edges",
    )


class Filling(Frozen):
    """What is inside, and how much of it."""

    good: GoodId = choice(
        "down-850", label="Fill", text="Loose down by its fill power, or sheet insulation.", goods="fill:"
    )
    rule: FillRule = choice(
        "overstuff",
        label="Amount by",
        text="Overstuff: percent over the nominal chamber volume. Grams: you give the weight.",
    )
    overstuff_percent: float = measure(
        25,
        low=-50,
        high=150,
        unit="%",
        label="Overstuff",
        text="Full baffles 20 to 30, staggered 25 to 40, film shells 10 to 20 %. Over what the chambers hold "
        "when the baffles stand; area × height is more than that, so makers who count by it say less.",
        step=5,
    )
    grams: float = measure(
        200,
        low=0,
        high=3000,
        unit="g",
        label="Down",
        text="In the chambers, without footbox and collar.",
        step=5,
    )
    layers: int = measure(
        1, low=1, high=6, unit="", label="Layers", text="Sheet insulation only. Usual 1 to 3."
    )
    quilting_mm: float = measure(
        0,
        low=0,
        high=1000,
        unit="mm",
        label="Quilting lines every",
        text="Sheet insulation only. Usual 300 to 600 mm; 0: held at the edges only.",
        step=10,
    )

    @model_validator(mode="after")
    def _quilts_by_hand(self) -> "Filling":
        if 0 < self.quilting_mm < CLOSEST_QUILTING_MM:
            raise ValueError(
                f"quilting_mm is {self.quilting_mm:g} mm; allowed: 0, or {CLOSEST_QUILTING_MM:g} to 1000 mm"
            )
        return self


class SuspensionItem(Frozen):
    """So many metres or pieces of one good."""

    good: GoodId = Field(pattern=ID_PATTERN)
    amount: float = Field(ge=0, le=50, title="Amount", description="metres of cord, or pieces")


class TopQuilt(Frozen):
    """What only a top quilt has."""

    footbox: Footbox = choice(
        "sewn with end panel",
        label="Footbox",
        text="Sewn shut with an oval end panel, drawn in and zipped, gathered only, or none.",
    )
    footbox_length_mm: float = measure(
        500, low=200, high=900, unit="mm", label="Footbox length", text="Usual 450 to 600 mm.", step=10
    )
    panel_width_mm: float = measure(
        420, low=200, high=600, unit="mm", label="End panel width", text="Usual 380 to 450 mm.", step=10
    )
    panel_height_mm: float = measure(
        320, low=150, high=500, unit="mm", label="End panel height", text="Usual 280 to 380 mm.", step=10
    )
    panel_fill_g: float = measure(
        20, low=0, high=100, unit="g", label="Down in the end panel", text="Usual 15 to 30 g."
    )
    collar: bool = Field(
        False, title="Draft collar", description="A tube along the head end; worth it below about −8 °C."
    )
    collar_flat_mm: float = measure(
        160, low=60, high=300, unit="mm", label="Collar, flat width", text="Usual 120 to 200 mm.", step=10
    )
    collar_fill_g: float = measure(
        20, low=0, high=100, unit="g", label="Down in the collar", text="Usual 15 to 30 g."
    )
    neck_closure: bool = Field(
        True, title="Neck closure", description="1.2 m of cord, one lock, one snap: 6 to 10 g."
    )
    straps: bool = Field(
        False, title="Ground straps", description="To close the back over a pad: 20 to 35 g."
    )


class Design(Frozen):
    """One quilt, complete."""

    kind: Kind = choice("underquilt", label="Kind", text="Underquilt hangs below; top quilt lies above.")
    name: str = Field("Untitled quilt", min_length=1, max_length=60, title="Name")
    note: str = Field("", max_length=500, title="Note")
    outline: Outline = Outline()
    ends: Ends = Ends()
    shells: Shells = Shells()
    cut: Cut = Cut()
    baffles: Baffles = Baffles()
    edges: Edges = Edges()
    end_panels: EndPanels = EndPanels()
    joints: Joints = Joints()
    fill: Filling = Filling()
    tabs: int = measure(
        6,
        low=0,
        high=20,
        unit="",
        label="Side tabs",
        text="Each a point load with a 40 × 40 mm patch. Usual 4 to 8.",
    )
    suspension: tuple[SuspensionItem, ...] = Field((), max_length=12, title="Suspension")
    top: TopQuilt = TopQuilt()
