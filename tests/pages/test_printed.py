"""The pages of batches, lots and machines say how each stands, why, and by which figures."""

import html
import re
from datetime import date, timedelta

import pytest

from generator.pages.addresses import addresses
from generator.pages.around import Around
from generator.pages.part.offered import copies, offered_prints, print_pages
from generator.pages.printed.page import printed_pages
from generator.pages.wording import wording
from generator.reading.catalogue import read_catalogue
from generator.records.lots import Blocked
from generator.records.machines import CouponProperty, Coupons
from generator.records.materials import Required
from generator.records.recalls import CalledBack, Lifted, Recall
from generator.rules.production.qualifying import MachineStanding, qualified
from tests.fixtures.prints import BATCH, MACHINE, PRINTS, batch_of, printed_catalogue, with_production
from tests.fixtures.tiny import DAY, overlaid

STRENGTH = CouponProperty.TENSILE_STRENGTH_Z
GROUP = (30.9, 31.4, 31.0, 31.3, 31.2)


def pages(catalogue=None, language="en"):
    catalogue = catalogue or printed_catalogue()
    around = Around(catalogue=catalogue, sheets={}, found=addresses(catalogue.parts, catalogue.materials), w=wording(language))
    return {each.path: each.text for each in printed_pages(around, DAY)}


def coupons(on, values=GROUP, of=STRENGTH):
    return Coupons(on=on, property=of, values=values, by="specialist")


def machine_with(*listed, **changed):
    machine = printed_catalogue().production.machines[MACHINE]
    first = machine.qualifications[0].model_copy(update={"coupons": listed, **changed})
    return machine.model_copy(update={"qualifications": (first,)})


def weekly(count, values=GROUP):
    return [coupons(date(2025, 6, 2) + timedelta(7 * at), tuple(value + 0.05 * (at % 3) for value in values)) for at in range(count)]


def required(least=28.0, coverage=90):
    return (Required(property=STRENGTH, least=least, coverage_percent=coverage, source="specification 4"),)


def standing_of(machine, least=28.0, day=DAY, coverage=90):
    return qualified(machine, "petg", required(least, coverage), day).standing


def test_a_machine_is_qualified_by_days_coupons_and_their_bound():
    # ISO 16269-6: of ten values, k = 2.355 for 90 % and 2.911 for 95 % of the pieces. Mean 31.16, deviation 0.1955 (by hand).
    ten = machine_with(coupons(date(2026, 1, 28), GROUP * 2))
    assert standing_of(ten, 30.6) is MachineStanding.QUALIFIED
    assert standing_of(ten, 30.73) is MachineStanding.NOT_SHOWN
    assert standing_of(ten, 30.6, coverage=95) is MachineStanding.NOT_SHOWN
    assert standing_of(machine_with(), 28.0) is MachineStanding.NOT_SHOWN
    assert standing_of(machine_with(coupons(date(2026, 1, 28), of=CouponProperty.DENSITY))) is MachineStanding.NOT_SHOWN
    assert standing_of(ten, 28.0, date(2026, 1, 29)) is MachineStanding.NOT_YET
    assert standing_of(ten, 28.0, date(2027, 1, 29)) is MachineStanding.QUALIFIED
    assert standing_of(ten, 28.0, date(2027, 1, 30)) is MachineStanding.ENDED
    assert qualified(ten, "nylon", (), DAY).standing is MachineStanding.NONE
    assert qualified(None, "petg", (), DAY).standing is MachineStanding.NONE


def test_later_trouble_leaves_alone_what_was_printed_before():
    good = weekly(12)
    bad = machine_with(*good, coupons(date(2026, 9, 1), tuple(value - 2 for value in GROUP)), qualified_on=date(2025, 6, 1))
    assert standing_of(bad, day=date(2026, 8, 31)) is MachineStanding.QUALIFIED
    assert standing_of(bad, day=date(2026, 9, 1)) is MachineStanding.OUT_OF_CONTROL


def test_coupons_read_too_coarsely_show_nothing():
    assert standing_of(machine_with(coupons(date(2026, 1, 28), (31.0,) * 10))) is MachineStanding.NOT_SHOWN


def test_the_list_and_each_page_are_there():
    assert set(pages()) == {"printed.md", "batches/B-0001.md", "lots/L-0007.md", "machines/M-1.md"}
    assert set(pages(with_production(printed_catalogue(), batches={}, lots={}, machines={}))) == {"printed.md"}


@pytest.mark.parametrize("language", ["en", "de", "da"])
def test_a_batch_tells_limits_margin_lots_and_where_its_pieces_are(language):
    text = pages(language=language)["batches/B-0001.md"]
    decimal = "." if language == "en" else ","
    assert f"0{decimal}02 mm" in text  # 6.02 against 6, the nearest
    assert "IC-88" in text
    assert "../lots/L-0007.html" in text
    assert "../machines/M-1.html" in text


def test_a_release_that_does_not_hold_says_why():
    text = pages(with_production(printed_catalogue(), batches={BATCH: batch_of(events=[{"on": "2026-02-13", "what": "released", "by": "specialist"}])}))["batches/B-0001.md"]
    assert "this release does not hold" in text
    assert "specialist printed it, and may not release it" in text
    assert "&#39;Bore&#39; was not measured" in text or "'Bore' was not measured" in text


def test_a_machine_shows_its_chart_and_what_stands_out():
    low = coupons(date(2026, 9, 1), tuple(value - 2 for value in GROUP))
    text = pages(with_production(printed_catalogue(), machines={MACHINE: machine_with(*weekly(12), low, qualified_on=date(2025, 6, 1))}))["machines/M-1.md"]
    assert '<figure class="plot' in text
    assert "out of control" in text
    assert "1 Sep 2026 stand out" in text


def test_what_a_depot_writes_is_only_ever_text():
    text = pages(with_production(printed_catalogue(), batches={BATCH: batch_of(note="<script>alert(1)</script> {{ 1 }} | `x`")}))["batches/B-0001.md"]
    assert "<script>" not in text


def test_names_that_can_be_no_page_have_none():
    catalogue = printed_catalogue()
    batch, lot = catalogue.production.batches[BATCH], catalogue.production.lots["L-0007"]
    other = with_production(catalogue, batches={"../../x": batch}, lots={"l-7": lot, "L-7": lot, "a b": lot})
    assert set(pages(other)) == {"printed.md", "lots/L-7.md", "machines/M-1.md"}


def test_a_machine_that_was_qualified_anew_tells_of_each_time():
    machine = printed_catalogue().production.machines[MACHINE]
    bad = [*weekly(6), coupons(date(2025, 8, 11), (20.1, 20.4, 20.0, 20.3, 20.2))]
    first = machine.qualifications[0].model_copy(update={"coupons": tuple(bad), "qualified_on": date(2025, 6, 1)})
    anew = first.model_copy(update={"coupons": (), "qualified_on": date(2025, 9, 1)})
    twice = machine.model_copy(update={"qualifications": (first, anew)})
    text = pages(with_production(printed_catalogue(), machines={MACHINE: twice}))[f"machines/{MACHINE}.md"]
    assert text.count("A later qualification counts since 1 Sep 2025") == 1
    assert text.count("11 Aug 2025") == 1  # the group that stands out
    assert text.index("11 Aug 2025") < text.index("Qualified until")


def test_lists_say_called_back_before_released():
    catalogue = printed_catalogue()
    stopped = Recall(batch=BATCH, events=(CalledBack(what="called back", on=date(2026, 2, 1), by="keeper", why="cracks"),))
    found = pages(with_production(catalogue, recalls={"RC-0001": stopped}))
    for path, way in (("printed.md", ""), ("lots/L-0007.md", "../"), ("machines/M-1.md", "../")):
        told = re.search(f'<a class="board__file" href="{way}recalls/RC-0001.html">(.*?)</td>', html.unescape(found[path]))
        assert told, path
        assert re.sub("<[^>]*>", " ", told[1]).split()[:9] == ["Called", "back", "on", "1", "Feb", "2026,", "RC-0001:", "do", "not"], path
        assert "eleased" in told[1], path


@pytest.mark.parametrize(("language", "head", "in_use"), [("en", "Called back on 1 Feb 2026, RC-0001", "in use"), ("de", "Zurückgerufen am", "in Gebrauch"), ("da", "Kaldt tilbage den", "i brug")])
def test_a_lot_that_is_called_back_is_headed_so_and_never_in_use(language, head, in_use):
    """Blocked besides or not; what is lifted is no more."""
    catalogue = printed_catalogue()
    lot = catalogue.production.lots["L-0007"]
    call = CalledBack(what="called back", on=date(2026, 2, 1), by="keeper", why="cracks")
    block = Blocked(what="blocked", on=date(2026, 2, 2), by="keeper", why="called back")
    blocked = lot.model_copy(update={"events": (*lot.events, block)})
    recall = Recall(lot="L-0007", events=(call,))
    for own in (lot, blocked):
        found = pages(with_production(catalogue, lots={"L-0007": own}, recalls={"RC-0001": recall}), language)
        page = html.unescape(re.sub("<[^>]*>", " ", found["lots/L-0007.md"]))
        assert page.index(head) < page.index("cracks")
        assert in_use not in page
        assert 'href="../recalls/RC-0001.html"' in found["lots/L-0007.md"]
        assert 'href="recalls/RC-0001.html"' in found["printed.md"].partition("L-0007")[2]
    lifted = Recall(lot="L-0007", events=(call, Lifted(what="lifted", on=date(2026, 2, 3), by="keeper", why="no cracks")))
    assert in_use in pages(with_production(catalogue, recalls={"RC-0001": lifted}), language)["lots/L-0007.md"]
    again = pages(with_production(catalogue, lots={"L-0007": blocked}, recalls={"RC-0001": lifted}), language)["lots/L-0007.md"]
    assert head not in again
    assert in_use not in again


def test_files_of_lots_batches_and_machines_open_and_run_nothing(depot):
    root = overlaid(depot, PRINTS)
    evil = "<script>alert(1)</script>"
    for file in root.glob("**/documents/*"):
        if any(part in file.parts for part in ("lots", "batches", "machines")):
            file.write_text(evil)
    (root / "batches/documents/nobody-names-me.txt").write_text(evil)
    catalogue = read_catalogue(root)
    offered = offered_prints(catalogue.production)
    assert offered
    assert not any("nobody" in path for path in offered)
    found = pages(catalogue)
    for path, each in offered.items():
        folder = "lots" if "lots" in path else path.partition("/")[0]
        assert any(f'class="board__file" href="{each.href}"' in text for page, text in found.items() if page.startswith(f"{folder}/")), path
    opened = {page.path: page.text for page in print_pages(catalogue.production, wording("en"))}
    copied = {each.path for each in copies(offered.values())}
    assert not any(name.endswith((".html", ".svg", ".js", ".txt")) for name in copied)
    assert len(opened) + len(copied) == len(offered)
    assert not any(evil in text for text in opened.values())


def test_a_file_that_is_missing_is_named_and_leads_nowhere():
    found = pages(with_production(printed_catalogue(), files={}))
    assert "(missing)" in found["lots/L-0007.md"]
    assert "documents/" not in "".join(re.findall('href="[^"]*"', "".join(found.values())))
