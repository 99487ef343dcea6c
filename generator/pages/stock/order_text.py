"""An order as text, to be sent: what, how many, for how much, of which model and material, with what paper, how exact, printed how.

Tolerances, feedstock and unit are the submission's order data. Nothing of it is sent from here.
"""

import re
from urllib.parse import quote

from markupsafe import Markup

from generator.pages.part.figures import check_lines
from generator.pages.reports.told import Names
from generator.pages.submissions.order_data import feedstock_words, tolerance_words, unit_words
from generator.pages.wording import Wording
from generator.planning.stock.orders import OrderLine, PurchaseOrder
from generator.records.depot import Depot

_MAIL = re.compile(r"[^\s@]+@[^\s@]+\.[^\s@]+")
_LONGEST_LINK = 1900  # what mail programs take: from memory


def subject_of(depot: Depot, w: Wording) -> str:
    return w("stock.subject", depot=depot.depot)


def recipient_of(order: PurchaseOrder) -> str:
    """The maker's address where it orders by mail; empty where by a form or at a counter."""
    return order.maker.order_at if _MAIL.fullmatch(order.maker.order_at) else ""


def order_text(order: PurchaseOrder, depot: Depot, day: str, names: Names) -> str:
    """Lines of plain text."""
    w = names.w
    days = w.count("getting.days", order.maker.lead_time_days)
    head = (("to", f"{order.maker.name}, {order.maker.order_at}"), ("from", f"{depot.railway}, {depot.depot}, {depot.contact}"), ("day", day))
    lines = [f"{w(f'stock.text.{key}')}: {value}" for key, value in head]
    for line in order.lines:
        lines += ["", *_line(line, depot, names)]
    lines += ["", f"{w('stock.text.lead_time')}: {days}"]
    lines += [f"{w('stock.text.total')}: {w.money(order.total, names.currency)}"] if order.total is not None else []
    return "\n".join(lines) + "\n"


def _line(line: OrderLine, depot: Depot, names: Names) -> list[str]:
    w, sheet, part, mesh = names.w, line.sheet, line.sheet.part, line.sheet.folder.mesh
    if part is None:
        return []
    material = names.catalogue.materials.get(part.material)
    amount = None if line.amount is None else w.money(line.amount, names.currency)
    name = w("order.part_line", number=part.number, revision=part.revision, name=part.name)
    said = [w("stock.text.line", count=w.number(line.count), part=name, material=material.name if material else part.material, amount=amount)]
    if mesh:
        said.append("  " + w("stock.text.model", file=mesh.path.rsplit("/", 1)[-1], sha256=mesh.sha256, unit=unit_words(sheet, w)))
    data = {
        "feedstock": feedstock_words(sheet, names.catalogue, w),
        "tolerances": tolerance_words(check_lines(part, w), depot, w),
    }
    said += [f"  {w(f'submission.order.{key}')}: {value}" for key, value in data.items() if value]
    if settings := part.settings:
        told = {
            "orientation": settings.orientation, "support": settings.support, "after": settings.after_print,
            "layer": w.measure(settings.layer_mm) if settings.layer_mm else None, "wall": w.measure(settings.wall_mm) if settings.wall_mm else None,
            "infill": w.measure(settings.infill_percent) if settings.infill_percent is not None else None,
            "surface": settings.surface_texture, "repair": settings.repair, "imperfections": settings.acceptable_imperfections,
        }  # fmt: skip
        said.append("  " + w("stock.text.settings", **told))
    return said


def mail_link(to: str, subject: str, text: str) -> Markup | None:
    """An address that opens a draft (RFC 6068); None for a text too long for one."""
    address = f"mailto:{quote(to, safe='@')}?subject={quote(subject, safe='')}&amp;body={quote(text.replace(chr(10), chr(13) + chr(10)), safe='')}"
    return Markup(address) if len(address) <= _LONGEST_LINK else None  # noqa: S704  every text in it is quoted
