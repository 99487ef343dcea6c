"""Which solid belongs to which part number, in which file, facetted how finely?"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from build123d import Part

from tests.models import brackets, caps, covers, ducts, frames, handles, knobs, rotating, shrouds, threaded


@dataclass(frozen=True, slots=True, kw_only=True)
class CatalogueModel:
    """One part's solid and how its file is written.

    tolerance_mm: how far a facet may lie from the exact surface.
    angle_rad: how much two neighbouring facets on a curve may turn.
    """

    number: str
    slug: str
    build: Callable[[], Part]
    suffix: str = "stl"
    tolerance_mm: float = 0.04
    angle_rad: float = 0.22

    @property
    def path(self) -> str:
        """Where the file stands below the catalogue folder."""
        return f"parts/{self.number}-{self.slug}/model.{self.suffix}"


def _model(
    number: str, slug: str, build: Callable[[], Part], suffix: str = "stl", **facets: float
) -> CatalogueModel:
    return CatalogueModel(number=number, slug=slug, build=build, suffix=suffix, **facets)


# Parts with many small fillets are facetted more coarsely, so that a binary STL (84 + 50 bytes a facet) stays below
# 1 MB, and so are long freely curved ones; thin lens-shaped bodies more finely, because there a facet's error is a large share of the thickness.
COARSE = {"tolerance_mm": 0.05, "angle_rad": 0.3}
FREE = {"tolerance_mm": 0.08, "angle_rad": 0.25}
FINE = {"tolerance_mm": 0.015, "angle_rad": 0.22}

MODELS: tuple[CatalogueModel, ...] = (
    _model("TV-0101", "door-push-button-surround", covers.door_push_button_surround, "3mf"),
    _model("TV-0104", "sun-blind-end-cap-left", caps.sun_blind_end_cap_left),
    _model("TV-0105", "sun-blind-end-cap-right", caps.sun_blind_end_cap_right),
    _model("TV-0112", "seat-rail-end-plug", caps.seat_rail_end_plug),
    _model("TV-0118", "cable-duct-corner", ducts.cable_duct_corner, angle_rad=0.1),
    _model("TV-0123", "louvre-vane", ducts.louvre_vane, **FINE),
    _model("TV-0131", "luggage-rack-bracket-cover", covers.luggage_rack_bracket_cover, angle_rad=0.15),
    _model("TV-0136", "handrail-joint-trim", caps.handrail_joint_trim),
    _model("TV-0140", "sanding-hose-guide", brackets.sanding_hose_guide, "step"),
    _model("TV-0203", "step-light-lens-retainer", covers.step_light_lens_retainer, "3mf"),
    _model("TV-0207", "wiper-linkage-bush", rotating.wiper_linkage_bush, **COARSE),
    _model("TV-0211", "door-drive-idler-pulley", rotating.door_drive_idler_pulley, "step", **COARSE),
    _model("TV-0215", "horn-bracket-spacer", brackets.horn_bracket_spacer),
    _model("TV-0219", "limit-switch-cam", rotating.limit_switch_cam),
    _model("TV-0223", "track-brake-cable-clamp", brackets.track_brake_cable_clamp),
    _model("TV-0227", "ramp-latch-handle", handles.ramp_latch_handle, **FREE),
    _model("TV-0231", "cable-gland-reducer", threaded.cable_gland_reducer, "step"),
    _model("TV-0235", "heater-knob", knobs.heater_knob),
    _model("TV-0236", "heater-knob-with-pointer", knobs.heater_knob_with_pointer, **COARSE),
    _model("TV-0240", "coat-hook", handles.coat_hook),
    _model("TV-0244", "paper-chute", ducts.paper_chute, "obj", angle_rad=0.1),
    _model("TV-0248", "mirror-arm-shroud-left", shrouds.mirror_arm_shroud_left, **FREE),
    _model("TV-0249", "mirror-arm-shroud-right", shrouds.mirror_arm_shroud_right, **FREE),
    _model("TV-0252", "tread-edge-cap", caps.tread_edge_cap),
    _model("TV-0260", "litter-bin-hinge-clip", brackets.litter_bin_hinge_clip, "ply", angle_rad=0.15),
    _model("TV-0264", "grab-strap-end-fitting", handles.grab_strap_end_fitting, **FREE),
    _model("TV-0268", "desk-switch-guard", handles.desk_switch_guard, "glb", **COARSE),
    _model("TV-0272", "fuse-box-label-cover", covers.fuse_box_label_cover),
    _model("TV-0276", "sand-box-filler-cap", threaded.sand_box_filler_cap, "3mf", **COARSE),
    _model("TV-0280", "drivers-air-nozzle", ducts.air_nozzle, tolerance_mm=0.045, angle_rad=0.25),
    _model("TV-0284", "footrest-tilt-lever", handles.footrest_tilt_lever),
    _model("TV-0288", "microphone-cradle", brackets.microphone_cradle),
    _model("TV-0292", "mixing-damper-drive-gear", rotating.mixing_damper_drive_gear, **COARSE),
    _model("TV-0296", "duty-card-frame", frames.duty_card_frame),
    _model("TV-0297", "bell-push-blanking-plate", frames.bell_push_blanking_plate),
    _model("TV-0417", "window-latch-knob", knobs.window_latch_knob),
)
