"""What is shown for the part: inspection documents, fire results with margins, what its places ask, process, machines, dimensions."""

from collections.abc import Iterator

from generator.pages.fire.need_lines import asked_words, kind_words, need_lines
from generator.pages.fire.row_lines import RowLine, row_line
from generator.pages.fire.section import where_words
from generator.pages.part.asks import SiteAsks, asks
from generator.pages.part.figures import check_lines, figures
from generator.pages.part.printing import printing_rows
from generator.pages.printed.machine_lines import standing_words
from generator.pages.submissions.attached import batches_of, machines_of
from generator.pages.submissions.case import SubmissionCase
from generator.pages.submissions.kinds import Block, SubmissionSection
from generator.planning.printing import printing_of
from generator.records.batches import Batch, Measured, MeasuredCheck
from generator.records.materials import Certificate, Material
from generator.rules.contested import contested
from generator.rules.fire.rows import FireAnswer
from generator.rules.grounds import Ground
from generator.rules.inspection import inspected
from generator.rules.kept import paper_is_kept
from generator.rules.lasting import FOR_EVER, last_day
from generator.rules.production.checked import limits_of
from generator.rules.production.qualifying import HeldCoupons, Qualified, qualified
from generator.rules.production.releasing import standing

_MOST_VALUES = 12


def inspection_rows(material: Material, case: SubmissionCase) -> tuple[tuple[str, ...], ...]:
    """Each inspection document, and whether it counts on the part's route; EN 10204."""
    w, twice = case.w, contested(case.catalogue.materials)
    listed = [(each, each.issued_on <= case.day and paper_is_kept(case.catalogue, twice, each)) for each in material.certificates]
    found = inspected(listed, case.catalogue.inspection_of(case.sheet.history.route), material.supplier)
    why = {id(paper): w(f"submission.unfitting.{reason.value}") for paper, reason in found.unfitting}
    return tuple(
        (
            each.type.value,
            each.reference,
            w(f"submission.speaks_of.{each.speaks_of.value}"),
            ", ".join(filter(None, (each.issued_by, w.day(each.issued_on)))),
            _until(each, case),
            why.get(id(each), "") or _lasts(each, case),
            case.refers(f"materials/{each.file}") or w("missing"),
        )
        for each in material.certificates
    )


def _until(paper: Certificate, case: SubmissionCase) -> str:
    last = last_day(paper)
    return case.w("fire.end_unknown") if last is None else case.w.iso_day("open") if last == FOR_EVER else case.w.day(last)


def _lasts(paper: Certificate, case: SubmissionCase) -> str:
    last = last_day(paper)
    return case.w("submission.counts" if last and last >= case.day else "submission.over")


def fire(case: SubmissionCase) -> SubmissionSection:
    """One table for each place; places that stand alike share one."""
    w = case.w
    folded: dict[tuple[Block, ...], list[str]] = {}
    for ground, _ in case.judged:
        folded.setdefault(tuple(_at(ground, case)), []).append(where_words(ground, case.catalogue, w))
    blocks: list[Block] = []
    for told, where in folded.items():
        blocks += [Block(says=("; ".join(where),)), *told]
    return SubmissionSection(key="fire", heading=w("submission.section.fire"), blocks=tuple(blocks), nothing=w("submission.nothing.fire"))


def _at(ground: Ground, case: SubmissionCase) -> Iterator[Block]:
    w, found = case.w, ground.fire
    need = need_lines(found, case.catalogue.fleets.get(ground.fleet), case.catalogue, w)
    says = tuple(filter(None, (kind_words(found, w), *asked_words(found, w))))
    yield Block(says=says, pairs=tuple((label, told) for label, told, _ in need), documents=case.own(file.file for _, _, file in need if file))
    lines = [row_line(row, case.catalogue, w) for row in found.rows]
    columns = tuple(w(f"submission.label.{key}") for key in ("test", "needed", "found", "specimen_report", "verdict", "document"))
    yield Block(columns=columns if lines else (), rows=tuple(_fire_row(line, case) for line in lines))


def _fire_row(line: RowLine, case: SubmissionCase) -> tuple[str, ...]:
    w = case.w
    about = "\n".join((*line.specimen, *filter(None, (line.report, line.days))))
    return (
        "\n".join(filter(None, (line.test, line.quantity, line.material))),
        f"{line.needed}\n{line.limit_of}",
        "\n".join(filter(None, (line.found, line.margin))),
        "\n".join(filter(None, (about, w("submission.part_has", what="; ".join(line.part)) if line.part else ""))) or w("missing"),
        "\n".join((line.verdict, *line.why)),
        case.refers(f"materials/{line.file}") if line.file else w("missing"),
    )


def open_fire_rows(case: SubmissionCase) -> Iterator[tuple[str, str]]:
    """What of the fire tests does not pass: in words, and where."""
    w = case.w
    for ground, _ in case.judged:
        where = where_words(ground, case.catalogue, w)
        for row in ground.fire.rows:
            if row.answer is not FireAnswer.PASSES:
                line = row_line(row, case.catalogue, w)
                found = ", ".join(filter(None, (line.found, line.margin)))
                why = "; ".join(each for each in (line.why or (line.verdict,)) if each != found)
                yield w("submission.gap.fire", test=line.test, material=line.material, needed=line.needed, found=found, why=why or None), where
        for told in asked_words(ground.fire, w) if ground.fire.need else ():
            yield w("submission.gap.fire_asked", what=told), where


def environment(case: SubmissionCase) -> SubmissionSection:
    w = case.w
    columns = tuple(w(f"submission.label.{key}") for key in ("asked", "needed", "shown", "answer", "document"))
    blocks = tuple(
        Block(
            heading=site.name,
            columns=columns,
            rows=tuple((each.asked, each.needed, "\n".join((each.shown, *each.idle)), each.answer, case.refers(each.proof) or w("missing")) for each in site.lines),
        )
        for site in asked_sites(case)
    )
    says = Block(says=(w("asks.says") if blocks else w("submission.no_environment"),))
    return SubmissionSection(key="environment", heading=w("submission.section.environment"), blocks=(says, *blocks))


def asked_sites(case: SubmissionCase) -> tuple[SiteAsks, ...]:
    """The places that ask anything of the material; of one fleet alone where that is asked."""
    told = asks(case.sheet, case.part, case.stem, case.catalogue, case.w)
    names = {case.w("asks.site", fleet=fit.fleet, place=case.catalogue.place_name(fit.fleet, fit.place)) for fit in case.fits}
    return tuple(site for site in told if site.name in names)


def making(case: SubmissionCase) -> SubmissionSection:
    """Process, settings and pose, who makes it, and how each machine stands with each material on the day."""
    w = case.w
    told = figures(case.sheet, case.part, case.around)
    printed = printing_of(case.sheet, case.catalogue, case.around.print_models)
    makers = tuple(
        (each.id, each.name, w.term("maker_kind", each.kind), w.term("process", each.process), each.machine_model or w("missing"))
        for name in case.part.makers
        if (each := case.catalogue.makers.get(name))
    )
    columns = tuple(w(f"submission.label.{key}") for key in ("maker", "name", "kind", "process", "machine_model"))
    blocks = (
        Block(pairs=told.making),
        Block(columns=columns if makers else (), rows=makers),
        Block(heading=w("submission.pose") if printed else "", pairs=printing_rows(printed, w) if printed else ()),
        *_machines(case),
    )
    return SubmissionSection(key="making", heading=w("submission.section.making"), blocks=blocks, nothing=w("submission.nothing.making"))


def machine_standings(case: SubmissionCase) -> Iterator[tuple[str, str, Qualified]]:
    """Each machine with each material of the part: its name, the material's, and how it stands."""
    for name, machine in machines_of(case.sheet.folder, case.catalogue).items():
        for material in case.part.materials:
            record = case.catalogue.materials.get(material)
            yield name, record.name if record else material, qualified(machine, material, record.required if record else (), case.day)


def _machines(case: SubmissionCase) -> Iterator[Block]:
    w = case.w
    rows = tuple((name, material, standing_words(found, w)) for name, material, found in machine_standings(case))
    columns = tuple(w(f"submission.label.{key}") for key in ("machine", "material", "stands"))
    yield Block(heading=w("submission.qualification"), says=() if rows else (w("submission.no_machine"),), columns=columns if rows else (), rows=rows)
    held = tuple((name, *_held(each, case)) for name, _, found in machine_standings(case) for each in found.held)
    columns = tuple(w(f"submission.label.{key}") for key in ("machine", "property", "required", "coupons", "shown"))
    yield Block(columns=columns if held else (), rows=held)


def _held(each: HeldCoupons, case: SubmissionCase) -> tuple[str, ...]:
    w, judged, required = case.w, each.judged, each.required
    asked = [w("printed.least", value=w.measure(required.least))] if required.least is not None else []
    asked += [w("printed.most", value=w.measure(required.most))] if required.most is not None else []
    bounds = [w("printed.bound", bound=w.measure(side.bound), k=w.number(side.k, 3)) for side in (judged.lower, judged.upper) if side]
    return (
        w.term("coupon_property", required.property),
        f"{'; '.join(asked)}\n{required.source}",
        w.count("printed.values", judged.count),
        "\n".join((w(f"printed.shown.{judged.shown}"), *bounds)),
    )


def dimensions(case: SubmissionCase) -> SubmissionSection:
    """The critical dimensions, and what was measured on the first batch of this revision that was measured."""
    w = case.w
    checks = check_lines(case.part, w)
    rows = tuple((check.name, check.least, check.nominal, check.most, check.measured_with) for check in checks)
    columns = (w("figures.check.name"), w("figures.check.least"), w("figures.check.nominal"), w("figures.check.most"), w("submission.label.measured_with"))
    blocks = (Block(columns=columns if rows else (), rows=rows), *_first_article(case), _batches(case))
    return SubmissionSection(key="dimensions", heading=w("submission.section.dimensions"), blocks=blocks, nothing=w("submission.nothing.dimensions"))


def first_article(case: SubmissionCase) -> tuple[str, Batch] | None:
    """The first batch of the revision that anything was measured of."""
    every = batches_of(case.sheet.folder, case.catalogue).items()
    return next(((name, batch) for name, batch in every if any(isinstance(each, Measured) for each in batch.events)), None)


def _first_article(case: SubmissionCase) -> Iterator[Block]:
    found, w = first_article(case), case.w
    heading = w("submission.first_article")
    if found is None:
        yield Block(heading=heading, says=(w("submission.no_first_article"),))
        return
    name, batch = found
    measured = [event for event in batch.events if isinstance(event, Measured)]
    rows = tuple((each.check, *_measured(each, batch, case), w.day(event.on)) for event in measured for each in event.checks)
    columns = tuple(w(f"submission.label.{key}") for key in ("check", "limits", "measured", "margin", "gauge", "day"))
    says = w("submission.first_batch", batch=name, machine=batch.machine, day=w.day(batch.started.date()), count=w.number(batch.count))
    sheets = (f"batches/{event.sheet}" for event in measured if event.sheet)
    yield Block(heading=heading, says=(says,), columns=columns, rows=rows, documents=case.documents(sheets))


def _measured(each: MeasuredCheck, batch: Batch, case: SubmissionCase) -> tuple[str, ...]:
    w, limited = case.w, limits_of(batch.printed_as).get(each.check)
    limits = w("printed.between", least=w.measure(float(limited.least), 3), most=w.measure(float(limited.most), 3)) if limited else w("missing")
    gauge = w("submission.gauge", gauge=each.gauge, until=w.day(each.calibrated_until))
    if not each.values_mm:
        return limits, w("printed.gauged", passed=str(each.passed or 0), failed=str(each.failed or 0)), w("missing"), gauge
    margins = [limited.margin(value) for value in each.values_mm] if limited else []
    out = sum(margin < 0 for margin in margins)
    shown = [w.measure(value, 3) for value in each.values_mm[:_MOST_VALUES]]
    more = len(each.values_mm) - len(shown)
    values = w("list_separator").join(shown) + (f" {w('submission.more_values', n=w.number(more))}" if more else "")
    margin = w("printed.out", n=str(out)) if out else w("printed.margin", margin=w.measure(min(margins), 3)) if margins else w("missing")
    return limits, values, margin, gauge


def _batches(case: SubmissionCase) -> Block:
    w = case.w
    rows = tuple(
        (name, w.day(batch.started.date()), batch.machine, w.number(batch.count), w.term("piece_released", standing(name, batch, case.catalogue, case.day).word))
        for name, batch in batches_of(case.sheet.folder, case.catalogue).items()
        if batch.started.date() <= case.day
    )
    columns = tuple(w(f"submission.label.{key}") for key in ("batch", "day", "machine", "count", "stands"))
    return Block(heading=w("submission.batches") if rows else "", columns=columns if rows else (), rows=rows)
