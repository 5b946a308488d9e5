"""Is a quilt sewn, bonded or both, and what does that ask of the table? What steps and care depend on."""

from dataclasses import dataclass
from typing import Literal, TypeAlias

from engine.catalogue.load import Catalogue
from engine.catalogue.models import JointMethod
from engine.design import Design
from engine.joint_uses import method_of_joints
from engine.score import Score

Way: TypeAlias = Literal["sewn", "bonded", "mixed"]


@dataclass(frozen=True)
class Construction:
    """What holds this quilt together, and which dangers come with it."""

    methods: dict[str, JointMethod]
    """Of the joints that it has, by their names in the bill."""
    patched: bool
    """Tabs have stitched patches, whatever else is bonded."""
    film_shells: bool
    """Both shells or one let no air through."""
    woven_shells: bool
    """Both shells or one are woven."""
    baffled: bool
    """Strips of cloth stand between the shells."""
    film_anywhere: bool
    """Film in the baffles or panels counts too: its offcuts lie about."""

    @property
    def sewn(self) -> bool:
        """Thread goes into it somewhere."""
        return self.patched or any(method.thread_m_per_m > 0 for method in self.methods.values())

    @property
    def taped(self) -> bool:
        """Tape goes into it somewhere."""
        return any(method.tape_m_per_m > 0 for method in self.methods.values())

    @property
    def sealed(self) -> bool:
        """Sealant goes into it somewhere."""
        return any(method.sealant_ml_per_m > 0 for method in self.methods.values())

    @property
    def bonded(self) -> bool:
        """Tape or sealant goes into it somewhere."""
        return self.taped or self.sealed

    @property
    def hot(self) -> bool:
        """A hot knife is used."""
        return any(method.hot for method in self.methods.values())

    @property
    def solvent(self) -> bool:
        """Something in it gives off solvent."""
        return any(method.solvent for method in self.methods.values())

    @property
    def way(self) -> Way:
        """In one word."""
        if self.sewn and self.bonded:
            return "mixed"
        return "bonded" if self.bonded else "sewn"


def construction_of(design: Design, catalogue: Catalogue, score: Score) -> Construction:
    """How one quilt is held together, by the joints of its bill.

    Raises  Refusal for an unknown good
    Source  definition
    """
    methods, found = method_of_joints(design), dict[str, JointMethod]()
    for joint in score.bill.joints:
        id = methods.get(joint.name)
        if id and float(joint.length_m) > 0:
            found[joint.name] = catalogue.joint(id)
    shells = [catalogue.fabric(id) for id in (design.shells.inner, design.shells.outer)]
    others = [catalogue.fabric(design.baffles.fabric)]
    if design.end_panels.fitted:
        others.append(catalogue.fabric(design.end_panels.fabric))
    return Construction(
        methods=found,
        patched=design.tabs > 0,
        film_shells=any(cloth.airtight for cloth in shells),
        woven_shells=any(not cloth.airtight for cloth in shells),
        baffled=any(part.name == "baffles" and float(part.count) > 0 for part in score.bill.parts),
        film_anywhere=any(cloth.airtight for cloth in (*shells, *others)),
    )
