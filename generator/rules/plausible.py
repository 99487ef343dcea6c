"""Does the mesh make sense for the part: its size at its place, its soundness, room on a maker's plate?"""

from typing import NamedTuple

from generator.geometry.facts import MeshFacts
from generator.planning.offers import fits_plate
from generator.records.catalogue import Catalogue
from generator.records.parts import Part


class MeshDoubt(NamedTuple):
    """A reason to look at the mesh again; never a reason to change it silently."""

    code: str
    says: str
    fix: str


def mesh_doubts(part: Part, facts: MeshFacts, catalogue: Catalogue) -> tuple[MeshDoubt, ...]:
    """Everything about a readable mesh that a person should look at."""
    return (
        *_size_doubts(part, facts, catalogue),
        *_soundness_doubts(facts),
        *_room_doubts(part, facts, catalogue),
    )


def _size_doubts(part: Part, facts: MeshFacts, catalogue: Catalogue) -> list[MeshDoubt]:
    longest = max(facts.size_mm)
    size = " × ".join(f"{side:.4g}" for side in facts.size_mm) + " mm"
    doubts = []
    for fit in part.fits:
        place = catalogue.place(fit.fleet, fit.place)
        if place and longest > place.largest_mm:
            says = f"measures {size}, too large for {place.name} (at most {place.largest_mm:g} mm)"
            in_micron = place.smallest_mm <= longest / 1000 <= place.largest_mm
            fix = (
                "if the file is in other units, say so in part.yml ('mesh_units: micron'); else mend the place's largest_mm"
                if in_micron
                else "check the units it was saved in; if they are right, mend the place's largest_mm"
            )
            doubts.append(MeshDoubt("SIZE01", says, fix))
        elif place and longest < place.smallest_mm:
            says = f"measures {size}, too small for {place.name} (at least {place.smallest_mm:g} mm)"
            fix = "if the file is in other units, say so in part.yml, such as 'mesh_units: m' or 'mesh_units: inch'"
            doubts.append(MeshDoubt("SIZE02", says, fix))
    return doubts[:1]


def _soundness_doubts(facts: MeshFacts) -> list[MeshDoubt]:
    if not facts.defects:
        return []
    listed = ", ".join(f"{defect.kind.replace('_', ' ')} ({defect.count:,})" for defect in facts.defects)
    volume = "" if facts.volume_mm3 is not None else "; it gives no volume, mass or price"
    return [
        MeshDoubt(
            "SOUND01",
            f"is not a sound solid: {listed}{volume}",
            "repair it in the CAD program and export it again",
        )
    ]


def _room_doubts(part: Part, facts: MeshFacts, catalogue: Catalogue) -> list[MeshDoubt]:
    makers = [catalogue.makers[name] for name in part.makers if name in catalogue.makers]
    if not makers or any(fits_plate(facts.oriented_size_mm, maker.build_volume_mm) for maker in makers):
        return []
    names = ", ".join(maker.id for maker in makers)
    return [
        MeshDoubt(
            "ROOM01",
            f"fits on no plate of {names}",
            "name a maker with a larger build volume, or split the part",
        )
    ]
