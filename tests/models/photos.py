"""Writes the demo's pictures of parts in their place and of broken originals: python -m tests.models.photos.

They are drawn, not photographed, and say so. Each scene is a few solids of different colour under one camera.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

import numpy as np
from build123d import Box, Part, Pos, Rot, extrude
from numpy.typing import NDArray
from PIL import Image, ImageDraw, ImageFont

from generator.geometry.mesh import Mesh
from generator.geometry.render.camera import View, camera_for, in_scene
from generator.geometry.render.encoded import encoded
from generator.geometry.render.picture import picture
from generator.geometry.render.raster import rasterised
from tests.models import brackets, covers, ducts, knobs, rotating, threaded
from tests.models.features import FROM_FLOOR, at, drill, peg, slab, turned, upright, upward
from tests.models.writing import triangles

CATALOGUE = Path(__file__).parents[2] / "catalogue"
SIZE_PX = (800, 600)
STEEL, PANEL, GLASS, BRASS, RUBBER = (0.62, 0.65, 0.68), (0.86, 0.84, 0.78), (0.72, 0.82, 0.86), (0.78, 0.67, 0.4), (0.3, 0.31, 0.33)  # fmt: skip
GREY, NATURAL, BLACK, YELLOWED = (0.5, 0.55, 0.6), (0.88, 0.87, 0.83), (0.26, 0.29, 0.33), (0.8, 0.7, 0.48)
Tint = tuple[float, float, float]
Scene = list[tuple[Part, Tint]]


@dataclass(frozen=True, slots=True)
class Photo:
    folder: str
    name: str
    says: str
    scene: Callable[[], Scene]


def window_knob_fitted() -> Scene:
    """TV-0417 on the rail of a saloon window, latched."""
    rail = Pos(0, 8, -60) * Box(190, 16, 52, align=FROM_FLOOR)
    post = Pos(-84, 10, -60) * Box(22, 20, 150, align=FROM_FLOOR)
    glass = Pos(10, 11, -8) * Box(168, 4, 98, align=FROM_FLOOR)
    seal = Pos(10, 9, -10) * Box(168, 9, 5, align=FROM_FLOOR)
    plate = Pos(0, 0, -34) * Rot(90, 0, 0) * slab(78, 40, 3, 12)
    plate -= at([(x, -4, -34) for x in (-31, 31)], Rot(90, 0, 0) * drill(4, 8))
    knob = Pos(0, -3, -34) * Rot(90, 0, 0) * knobs.window_latch_knob()
    return [
        (rail + post, PANEL),
        (glass, GLASS),
        (seal, RUBBER),
        (plate, BRASS),
        (knob, GREY),
    ]


def window_knob_broken() -> Scene:
    """The old knob: one half of the wing snapped off and lying beside it."""
    whole = knobs.window_latch_knob()
    cut = Pos(16, 0, 15) * Rot(0, 14, 8) * Box(20, 40, 40, align=FROM_FLOOR)
    rough = [
        Pos(6.2, y, 15 + 3 * i) * Rot(20 * i, 35, 25) * Box(3.4, 3, 5)
        for i, y in enumerate((-3, 0, 3, 1, -2))
    ]
    piece = Pos(26, -12, 0) * Rot(0, 96, 24) * Pos(-20, 0, -17) * (whole & cut)
    low = piece.bounding_box().min.Z
    return [(whole - cut - rough, YELLOWED), (Pos(0, 0, -low) * piece, YELLOWED)]


def gear_fitted() -> Scene:
    """TV-0292 on its shaft, meshing with the pinion of the motor."""
    plate = Pos(16, 0, -8) * slab(130, 84, 6, 5) - at([(72, y, -2) for y in (-32, 32)], drill(5, 8))
    plate -= at([(-40, y, -2) for y in (-32, 32)], drill(5, 8))
    gear = rotating.mixing_damper_drive_gear()
    shaft = Pos(0, 0, -2) * peg(11, 25) + Pos(0, 0, -2) * peg(18, 2)
    clip = Pos(0, 0, 18.4) * (peg(17, 1) - Pos(0, 0, -1) * peg(11, 3) - Pos(8, 0, 0) * Box(10, 5, 5))
    pinion = rotating.involute_gear(2, 12)
    small = Pos(38, 0, -1) * Rot(0, 0, 15) * (Part() + extrude(pinion, 14)) + Pos(38, 0, -2) * peg(6, 19)
    return [(plate, STEEL), (gear, NATURAL), (shaft + clip, STEEL), (small, BRASS)]


def gear_broken() -> Scene:
    """The old gear: five teeth stripped on one side."""
    gear = rotating.mixing_damper_drive_gear()
    bites = [
        Rot(0, 0, 360 / 26 * (i - 10))
        * Pos(28.1, 0, -1)
        * Rot(0, 0, 9 * (-1) ** i)
        * Box(8.4 + i % 3, 7.4, 16, align=FROM_FLOOR)
        for i in range(5)
    ]
    tooth = Rot(0, 0, -360 / 26 * 4) * Pos(26, 0, 0) * Box(8, 6.2, 24, align=FROM_FLOOR)
    lost = (
        Pos(16, -36, 0)
        * Rot(90, 0, 40)
        * Pos(-14, 18, -5)
        * (rotating.mixing_damper_drive_gear() & tooth)
    )
    low = lost.bounding_box().min.Z
    return [(gear - bites, YELLOWED), (Pos(0, 0, -low) * lost, YELLOWED)]


def vanes_fitted() -> Scene:
    """TV-0123: four vanes in the frame of a heater outlet."""
    frame = Pos(0, 4, 0) * Box(176, 30, 168, align=FROM_FLOOR) - Pos(0, 0, 16) * Box(
        138.6, 60, 136, align=FROM_FLOOR
    )
    back = Pos(0, 17, 12) * Box(150, 3, 144, align=FROM_FLOOR)
    vane = ducts.louvre_vane()
    vanes = [Pos(0, 2, 36 + 32 * i) * vane for i in range(4)]
    return [(frame, PANEL), (back, BLACK), (Part() + vanes, GREY)]


def horn_spacer_fitted() -> Scene:
    """TV-0215 between the roof and the bracket of the horn."""
    roof = Pos(0, 0, -6) * slab(220, 170, 6, 4)
    spacer = brackets.horn_bracket_spacer()
    places = [(0, 38, 22), (-33, -19, 22), (33, -19, 22)]
    bracket = Pos(0, 10, 22) * slab(96, 92, 5, 18) - at([(0, 0, 27)], drill(26, 6))
    stand = Pos(0, 54, 22) * Box(70, 6, 62, align=FROM_FLOOR)
    bolts = at([(x, y, 27) for x, y, _ in places], peg(16, 1.6) + Pos(0, 0, 1.6) * _hexagon(13, 5.3))
    horn = (
        Pos(0, 50, 62)
        * Rot(90, 0, 0)
        * turned([(0, 0), (9, 0), (9, 24), (14, 54), (30, 84), (27.5, 84), (11, 52), (0, 50)])
    )
    return [(roof, PANEL), (spacer, BLACK), (bracket + stand, STEEL), (Part() + bolts, STEEL), (horn, BRASS)]


def _hexagon(across: float, height: float) -> Part:
    corners = [
        (across / 1.7320508 * np.cos(a), across / 1.7320508 * np.sin(a))
        for a in np.radians(range(0, 360, 60))
    ]
    return upward([(float(x), float(y)) for x, y in corners], height)


def step_light_fitted() -> Scene:
    """TV-0203 round the lens of a step light in the riser of the entrance."""
    tread = Pos(0, -40, -54) * Box(300, 90, 5, align=FROM_FLOOR)
    riser = Pos(0, 6, -54) * Box(300, 5, 108, align=FROM_FLOOR)
    nose = Pos(0, -9, 52) * Box(300, 36, 6, align=FROM_FLOOR)
    retainer = covers.step_light_lens_retainer()
    middle = retainer.bounding_box()
    fitted = Pos(0, 3.5 - middle.max.Y, -(middle.min.Z + middle.max.Z) / 2) * retainer
    lens = Pos(0, 1, 0) * Box(108, 3, 25)
    return [(tread + riser, STEEL), (nose, RUBBER), (lens, GLASS), (fitted, BLACK)]


def filler_cap_fitted() -> Scene:
    """TV-0276 screwed on the neck of a sand box."""
    box = Pos(0, 10, -66) * slab(230, 190, 36, 6)
    neck = Pos(0, 0, -32) * (peg(86, 28) - Pos(0, 0, 2) * peg(68, 40))
    bead = Pos(0, 0, -31) * turned([(42, 0), (50, 0), (45, 4), (42, 5)])
    cap = threaded.sand_box_filler_cap()
    up = cap.bounding_box()
    fitted = Pos(0, 0, -4 - (up.max.Z - 21)) * cap
    eye = Pos(62, 30, -30) * upright(turned([(4, 0), (8, 0), (8, 5), (4, 5)]))
    return [(box, STEEL), (neck + bead, STEEL), (eye, STEEL), (fitted, NATURAL)]


def duty_card_clip() -> Scene:
    """TV-0300, as it is bought: a bent sheet with two lips, on the driver's desk with a card in it."""
    desk = Pos(0, 0, -6) * slab(150, 110, 6, 4)
    base = slab(64, 38, 1.2, 3) - at([(x, 8, -1) for x in (-20, 20)], drill(4.4, 4))
    back = Pos(0, 18, 0) * Box(64, 1.2, 12, align=FROM_FLOOR)
    lips = [Pos(x, -2, 7) * Rot(-14, 0, 0) * slab(24, 40, 1.2, 3) for x in (-18, 18)]
    screws = at([(x, 8, 1.2) for x in (-20, 20)], peg(8, 2.2))
    card = Pos(0, -32, 1.6) * Box(88, 84, 0.6, align=FROM_FLOOR)
    return [(desk, PANEL), (base + back + lips[0] + lips[1], STEEL), (Part() + screws, BRASS), (card, GLASS)]


PHOTOS = (
    Photo("TV-0417-window-latch-knob", "fitted", "TV-0417 on the window rail, latched", window_knob_fitted),
    Photo(
        "TV-0417-window-latch-knob",
        "broken-original",
        "old knob 4-117-0417, wing snapped off",
        window_knob_broken,
    ),
    Photo(
        "TV-0292-mixing-damper-drive-gear",
        "fitted",
        "TV-0292 with the motor pinion, cover off",
        gear_fitted,
    ),
    Photo(
        "TV-0292-mixing-damper-drive-gear", "broken-original", "old gear, teeth stripped", gear_broken
    ),
    Photo("TV-0123-louvre-vane", "fitted", "TV-0123 in the heater outlet, strip off", vanes_fitted),
    Photo("TV-0215-horn-bracket-spacer", "fitted", "TV-0215 under the horn bracket", horn_spacer_fitted),
    Photo("TV-0203-step-light-lens-retainer", "fitted", "TV-0203 in the step riser", step_light_fitted),
    Photo("TV-0300-duty-card-clip", "as-bought", "TV-0300 as it is bought, on the driver's desk", duty_card_clip),
    Photo("TV-0276-sand-box-filler-cap", "fitted", "TV-0276 on the neck of the sand box", filler_cap_fitted),
)


def drawn(scene: Scene) -> NDArray[np.uint8]:
    """The scene in the colours of its solids: (h, w, 3)."""
    pieces = [(triangles(part, 0.05, 0.25), tint) for part, tint in scene]
    vertices, faces, owner, count = [], [], [], 0
    for i, ((points, corners), _) in enumerate(pieces):
        vertices.append(np.asarray(points, dtype=float))
        faces.append(np.asarray(corners, dtype=np.int64) + count)
        owner.append(np.full(len(corners), i))
        count += len(points)
    mesh = Mesh(vertices_mm=np.concatenate(vertices), faces=np.concatenate(faces))
    shares = _shares(mesh, np.concatenate(owner), len(pieces))
    tints = sorted({tint for _, tint in pieces})
    image = np.zeros((SIZE_PX[1], SIZE_PX[0], 3))
    for tint in tints:
        mine = sum((shares[i] for i, (_, own) in enumerate(pieces) if own == tint), np.zeros_like(shares[0]))
        if tint == pieces[0][1]:  # the ground and the outlines on it go with the first colour
            mine = mine + shares[-1]
        image += picture(mesh, size_px=SIZE_PX, tint=tint) * mine[:, :, None]
    return np.clip(image + 0.5, 0, 255).astype(np.uint8)


def _shares(mesh: Mesh, owner: NDArray[np.int64], count: int) -> list[NDArray[np.float64]]:
    """For each solid, and last for the ground, how much of each pixel it fills."""
    fine = 2
    points = in_scene(mesh.vertices_mm, View.FRONT)
    px = camera_for(points, View.FRONT, SIZE_PX).project(points)
    face = rasterised(px[mesh.faces] * [fine, fine, 1.0], SIZE_PX[0] * fine, SIZE_PX[1] * fine).face
    who = np.where(face >= 0, owner[face], count)
    blocks = who.reshape(SIZE_PX[1], fine, SIZE_PX[0], fine)
    return [(blocks == i).mean(axis=(1, 3)) for i in range(count + 1)]


def captioned(image: NDArray[np.uint8], says: str) -> NDArray[np.uint8]:
    """The picture with a line below that says what it shows and that it is drawn."""
    canvas = Image.fromarray(image)
    pen = ImageDraw.Draw(canvas)
    font = ImageFont.load_default(size=17)
    pen.rectangle((0, SIZE_PX[1] - 34, SIZE_PX[0], SIZE_PX[1]), fill=(38, 44, 51))
    pen.text((14, SIZE_PX[1] - 28), says, font=font, fill=(236, 240, 243))
    mark = "DEMO - drawn, not a photo"
    pen.text(
        (SIZE_PX[0] - 14 - pen.textlength(mark, font=font), SIZE_PX[1] - 28),
        mark,
        font=font,
        fill=(255, 207, 92),
    )
    return np.asarray(canvas)


def main() -> int:
    for photo in PHOTOS:
        file = CATALOGUE / "parts" / photo.folder / "photos" / f"{photo.name}.webp"
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_bytes(encoded(captioned(drawn(photo.scene()), photo.says), quality=82))
        print(file.relative_to(CATALOGUE), file.stat().st_size)
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
