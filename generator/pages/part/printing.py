"""How a part is printed, in words: pose, plate, time and material. The rows of the page, and of `spares printing`."""

from collections.abc import Callable, Mapping
from math import acos, degrees, radians, sin

from generator.geometry.printing.pose import Pose
from generator.pages.wording import Wording
from generator.planning.print_time import FEWEST_RUNS, ProcessModel, Range
from generator.planning.printing import PrintEstimate, Printing
from generator.records.catalogue import Catalogue
from generator.records.makers import Process
from generator.rules.printable import Finer
from generator.rules.sheet import Sheet

Row = tuple[str, str]


def printing_rows(printing: Printing, w: Wording, *, for_author: bool = False) -> tuple[Row, ...]:
    """A row each of what is known; the pose that speaks is that of the settings, where they name one.

    for_author: who can mend part.yml is told that they name none.
    """
    told = {
        "best": f"{_stands(printing.best, w)} {w(f'printing.why.{printing.why}')}",
        "approved": _approved(printing, w) if printing.approved or for_author else "",
        "below": _speaks_of(printing, w),
        "contact": w("printing.contact_is", contact=_cm2(printing.pose.contact_mm2, w), height=w.number(printing.pose.height_mm, 1)),
        "overhang": _overhang(printing, w),
        "hollow": _hollow(printing, w),
        "rooms": "; ".join(
            w(f"printing.room.{room.turned}" if room.turned else "printing.room.none", maker=room.maker.id) for room in printing.rooms
        ),
        "finer": _finer(printing.finer, w),
        "solid": w("printing.solid_is", infill=w.measure(printing.unwalled_percent)) if printing.unwalled_percent is not None else "",
        "minutes": _each(printing, w, _minutes),
        "grams": _each(printing, w, _grams),
    }
    return tuple((w(f"printing.{key}"), value) for key, value in told.items() if value)


def reckoned(models: Mapping[Process, ProcessModel], printing: Printing, w: Wording) -> str:
    """The model behind the time, with its coefficients; empty where there is none."""
    said = []
    for told in printing.told:
        model = models.get(told.process)
        if model and model.minutes and model.minutes.runs:
            start, shell, core, layer = model.minutes.coefficients
            solid, support = model.grams.coefficients
            said.append(
                w(
                    "printing.reckoned",
                    process=w.term("process", told.process),
                    start=w.number(start, 1),
                    shell=w.number(shell, 2),
                    core=w.number(core, 2),
                    layer=w.number(layer, 3),
                    solid=w.number(solid, 2),
                    support=w.number(support, 2),
                )
            )
    return " ".join(said)


def why_unknown(sheet: Sheet, catalogue: Catalogue, w: Wording) -> str:
    """Why nothing can be said of how a part is printed."""
    part = sheet.part
    if part is None:
        return w("printing.unknown.unread")
    if part.no_model:
        return w(f"printing.unknown.{part.no_model.because}")
    if sheet.mesh is None:
        return w("printing.unknown.unmeasured")
    if not any(name in catalogue.makers for name in part.makers):
        return w("printing.unknown.no_maker")
    if sheet.mesh.volume_mm3 is not None:  # its poses were left out
        return w("printing.unknown.unmeasured")
    return w("printing.unknown.no_volume")


def _stands(pose: Pose, w: Wording) -> str:
    x, y, z = (w.number(side, 1) for side in pose.size_mm)
    return w("printing.stands", way=pose_words(pose, w), x=x, y=y, z=z)


def pose_words(pose: Pose, w: Wording) -> str:
    """Which axis of the model points up, or from which the part is leant, how far, and towards which."""
    if pose.axis:
        return w("printing.axis", axis=pose.axis)
    along = sorted(zip("xyz", pose.up, strict=True), key=lambda each: -abs(each[1]))
    (nearest, most), *others = [("+" + name if share > 0 else "-" + name, abs(share)) for name, share in along]
    towards = [name for name, share in others if share > sin(radians(1))] or [others[0][0]]
    angle = max(1, round(degrees(acos(min(1.0, most)))))
    return w("printing.askew", axis=nearest, angle=w.number(angle, 0), towards=" / ".join(towards))


def _speaks_of(printing: Printing, w: Wording) -> str:
    """Of which pose all that follows is said."""
    key = "of_settings" if printing.approved else "of_best"
    return w(f"printing.below_is.{key}", way=pose_words(printing.pose, w))


def _approved(printing: Printing, w: Wording) -> str:
    if printing.approved is None:
        return w("printing.not_said")
    if printing.approved == printing.best:
        return w("printing.same", axis=printing.approved.axis or "")
    key = "as_good" if printing.is_as_good else "worse"
    return f"{_stands(printing.approved, w)} {w(f'printing.{key}')}"


def _overhang(printing: Printing, w: Wording) -> str:
    if printing.angle_deg is None:
        return w("printing.in_powder")
    leaning = printing.pose.leaning_at(printing.angle_deg)
    if leaning.overhang_mm2 <= 0:
        return w("printing.hangs_nowhere", angle=str(printing.angle_deg))
    area, volume = _cm2(leaning.overhang_mm2, w), w.number(leaning.support_mm3 / 1000, 1)
    return w("printing.hangs", angle=str(printing.angle_deg), area=area, volume=volume)


def _hollow(printing: Printing, w: Wording) -> str:
    if printing.void is None:
        return ""
    long, wide, high = (w.measure(float(f"{side:.2g}")) for side in printing.void.size_mm)
    return w("printing.hollow_is", long=long, wide=wide, high=high, others=str(printing.other_voids) if printing.other_voids else None)


def _cm2(area_mm2: float, w: Wording) -> str:
    return w.number(area_mm2 / 100, 1)


def _finer(found: tuple[Finer, ...], w: Wording) -> str:
    """Makers that say the same are named together."""
    makers: dict[tuple[str, float, bool], list[Finer]] = {}
    for each in found:
        makers.setdefault((each.limit.value, each.held.least_mm, each.held.is_own), []).append(each)
    return " ".join(
        w(
            f"printing.finer_than.{limit}",
            found=w.measure(same[0].found_mm),
            least=w.measure(least),
            share=w.measure(100 * same[0].share, 1) if same[0].share is not None else None,
            n=w.number(same[0].count),
            makers=", ".join(each.maker.id for each in same),
            rule=w("printing.own_rule" if is_own else "printing.usual_rule"),
        )
        for (limit, least, is_own), same in makers.items()
    )


def _each(printing: Printing, w: Wording, words: Callable[[PrintEstimate, Wording], str]) -> str:
    """Of one process its figure; of several each behind its name."""
    if len(printing.told) == 1:
        return words(printing.told[0], w)
    return "; ".join(f"{w.term('process', told.process)}: {words(told, w)}" for told in printing.told)


def _minutes(told: PrintEstimate, w: Wording) -> str:
    if told.minutes is None:
        return w("printing.no_time_unread") if told.is_unread else w("printing.no_time", n=str(FEWEST_RUNS))
    return _range(told.minutes, lambda minutes: duration(minutes, w), w, is_unread=told.is_unread)


def _grams(told: PrintEstimate, w: Wording) -> str:
    digits = 0 if told.grams.high >= 10 else 1
    return _range(told.grams, lambda grams: f"{w.number(grams, digits)} g", w, is_unread=told.is_unread)


def _range(told: Range, words: Callable[[float], str], w: Wording, *, is_unread: bool) -> str:
    low, high, runs, n = words(told.low), words(told.high), str(told.runs), str(FEWEST_RUNS)
    if told.off is None:
        guess = w("printing.guess_unread") if is_unread else w("printing.guess", n=n)
        return f"{w('printing.about', likely=words(told.likely or 0), low=low, high=high)} {guess}"
    off, left_out = w.number(100 * told.off, 0), str(told.left_out) if told.left_out else None
    if told.likely is None:
        return f"{w('printing.between', low=low, high=high)} {w('printing.disagree', runs=runs, off=off, left_out=left_out)}"
    about = w("printing.about", likely=words(told.likely), low=low, high=high)
    return f"{about} {w('printing.recorded', runs=runs, off=off, held=str(told.held), left_out=left_out)}"


def duration(minutes: float, w: Wording) -> str:
    """To five minutes, as one plans with it."""
    rounded = max(5, 5 * round(minutes / 5))
    hours, rest = divmod(rounded, 60)
    return w("printing.hours", hours=str(hours), minutes=f"{rest:02d}") if hours else w("printing.minutes_alone", minutes=str(rest))
