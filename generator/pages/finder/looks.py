"""What does one see of a part? What its record says, simple forms from its measured model, and the colour of its material."""

from collections.abc import Iterator

from generator.records.materials import Material
from generator.records.parts import Part

Size = tuple[float, float, float]
# Shares of the smallest box; common practice, no source: what people still call round, flat, long.
_ROUND = 0.04
_FLAT = 0.3
_LONG = 2.2
_CUBE = 0.75
# Shares of what fills the box.
_SOLID = 0.6
_THIN_WALLED = 0.2


def looks(part: Part, size_mm: Size | None, volume_mm3: float | None, material: Material | None) -> Iterator[str]:
    """Words and short phrases, the record's own first, then what others call the same."""
    yield from part.looks
    found = forms_of(part, size_mm, volume_mm3)
    yield from found
    yield from _called_also((*part.looks, *found))
    if material:
        yield from _colours(material)


_ALSO = {
    "arch": "bridge, hoop, bow",
    "ball": "knobs, sphere, bead",
    "block": "brick, lump, box",
    "boss": "hub, collar",
    "box": "case, oblong, block",
    "branch": "side arm, tee",
    "cage": "guard, frame, basket",
    "channel": "trough, gutter, groove, scoop",
    "cheeks": "walls, sides, wings",
    "cowl": "hood, funnel, cone, scoop, box",
    "cradle": "saddle, bed, groove, hollow",
    "curved": "bent, bowed, arched",
    "disc": "wheel, coin, washer",
    "ear": "lug, tab, flap",
    "ears": "lugs, tabs, flaps",
    "flange": "collar, rim, mushroom, top hat",
    "flutes": "ribbed, knurled",
    "frame": "border, surround, rim, box",
    "grille": "grid, slats, louvre",
    "grips": "knurled, ribbed, bumps",
    "grooved": "ribbed, fluted",
    "grooves": "ribbed, flutes, rills",
    "hexagon": "hex, spanner, nut",
    "hook": "claw, peg, hanger",
    "hooks": "claws, pegs, hangers",
    "hub": "boss, collar",
    "lever": "arm, handle, crank",
    "lid": "flap, cover",
    "lugs": "ears, tabs",
    "plug": "stopper, stub, peg",
    "pointer": "beak, finger, arrow, nose",
    "prongs": "arms, pegs, fingers, horns",
    "ring": "loop, hoop, collar",
    "shelf": "ledge, tray",
    "shell": "hood, box, case, hollow",
    "slat": "blade, fin, leaf",
    "slide": "scoop, chute, funnel",
    "slot": "slit, groove, opening",
    "strip": "band, profile, edging",
    "stub": "peg, pin, spigot",
    "tapered": "funnel, cone, scoop",
    "tongues": "tabs, barbs, fingers",
    "toothed": "cog, gear, sprocket",
    "tooth": "notch, claw",
    "trough": "scoop, gutter, channel",
    "vanes": "slats, fins, blades",
    "walls": "cheeks, sides",
    "window": "opening, cut-out, frame",
    "wing": "butterfly, fin, blade",
}
"""What people call what the looks name; common practice, no source."""


def _called_also(said: tuple[str, ...]) -> Iterator[str]:
    known = set(" ".join(said).lower().replace(",", " ").replace("-", " ").split())
    for word, others in _ALSO.items():
        if word in known:
            yield others


_SEEN_OTHERWISE = frozenset({"tee", "square", "oblong", "oval", "rectangular", "triangle", "triangular", "angle", "elbow", "l-shaped", "t-shaped", "u-shaped", "half"})
"""Who writes one of these has looked, and what the box of the model tells is no roundness: a tee is as long as wide."""


def forms_of(part: Part | None, size_mm: Size | None, volume_mm3: float | None) -> tuple[str, ...]:
    """The forms of the measured model that the record's own looks do not speak against.

    Of a size by hand nobody knows whether what is as long as wide is round.
    """
    is_by_hand = part is not None and part.no_model is not None
    seen = {word for text in (part.looks if part else ()) for word in text.lower().replace(",", " ").split()}
    found = tuple(forms(size_mm, volume_mm3)) if size_mm else ()
    return tuple(form for form in found if not (form.startswith("round") and seen & _SEEN_OTHERWISE) and not (is_by_hand and "round" in form))


def forms(size_mm: Size, volume_mm3: float | None) -> Iterator[str]:
    """Words for each form that a part of this box has, longest side first, joined by commas."""
    longest, middle, shortest = size_mm
    is_round = longest > 0 and (longest - middle) < _ROUND * longest
    if is_round and shortest < _CUBE * middle:
        yield "round, disc" if shortest < _FLAT * middle else "round"
    if not is_round and (middle - shortest) < _ROUND * middle and longest > _LONG * middle:
        yield "rod, tube, long and round"
    filled = None if volume_mm3 is None else volume_mm3 / max(1e-9, longest * middle * shortest)
    is_shell = filled is not None and filled < _THIN_WALLED
    if shortest < _FLAT * middle and not is_shell:
        yield "flat, plate"
    if longest > _LONG * middle:
        yield "long, strip"
    if filled is not None and filled > _SOLID:
        yield "solid"
    if is_shell:
        yield "hollow, thin-walled, shell"


_PALE = "pale, light, natural, uncoloured"
_COLOURS = {"grey": "grey, gray", "black": "black, dark", "white": "white, pale, light", "clear": "clear, transparent, see-through", "natural": _PALE}
_WHITISH = 0.8
"""Share of full light in the darkest of red, green and blue, from which on people call a natural colour white or off-white."""


def _colours(material: Material) -> Iterator[str]:
    """By its name of the colour; what is natural also by how light it is."""
    for word, said in _COLOURS.items():
        if word in (material.colouring or "").lower().split():
            yield said
    text = (material.colour or "").lstrip("#")
    if "natural" in (material.colouring or "").lower() and len(text) == 6:
        darkest = min(int(text[at : at + 2], 16) for at in (0, 2, 4)) / 255
        yield "white, off-white" if darkest > _WHITISH else "cream, beige, yellowish"
