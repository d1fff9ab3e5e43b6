"""A maker's own list of the demo's jobs as of June, and what is typed on the first evening to plan with it.

Invented scenario. The sheet has a merged title, a line of notes, headings of its own, suppliers by name, leads in the
trade's words and needs by item name.
"""

from datetime import date

from openpyxl import Workbook

HEADINGS = ("Item", "Vendor", "How long they say", "Needs", "Pcs", "On the road", "Not before")
TOLMARK, VARNE = "Tolmark Precision, Rotherham", "Varne Surface Works, Telford"
LIPOWA, ORLICE = "Lipowa Plytki, Gliwice", "Orlice Elektronika, Usti n.O."
QINGSHA, BRENTA = "Qingsha Magnet Works, Ningbo", "Brenta Guarnizioni, Padova"
KESSLING, MOINHO = "Kessling Verbindungen, Hagen", "Moinho Alto Embalagens, Porto"
FENWATER, MARLGATE = "Fenwater Test Laboratory, Ely", "Marlgate Forwarding, Felixstowe"
YUNLAN = "Yunlan Glass, Dongguan"
JOBS = (
    ("Freeze drawings C", "us", "3 working days"),
    ("First sets", TOLMARK, "12 working days ex works", "Freeze drawings C", 5),
    ("Finish trial ", VARNE, "8 working days in the shop", "First sets", 5),
    ("Pilot boards", ORLICE, "18 working days, parts by us", "Freeze drawings C", 10),
    ("Board parts", "us", "16 weeks for the driver chip", "freeze drawings c", 280),
    ("Sample magnets", QINGSHA, "12 days", "Freeze drawings C", 30, "5 calendar days"),
    ("Fit check", "us", "2 working days", "Finish trial, Pilot boards, Sample magnets"),
    ("EMC", FENWATER, "3 weeks with report", "Fit check", None, None, date(2026, 8, 17)),
    ("Bases (one bar batch)", TOLMARK, "4 weeks ex works", "fit check", "275 pcs"),
    ("Bezels", TOLMARK, "12 working days", "Bases", 275),
    ("Finish graphite", VARNE, "10 working days in the shop", "Bezels", 170),
    ("Finish natural", VARNE, "8 working days in the shop", "Finish graphite", 96),
    ("Look over", "us", "2wd", "Finish natural", 96),
    ("Bare boards", LIPOWA, "10 working days ARO", "Fit check", 290),
    ("SMT first", ORLICE, "12 working days after all parts in", "Bare boards; Board parts", 280),
    ("Test first", "us", "4wd", "SMT first", 280),
    ("Magnets", QINGSHA, "20 days FCA Ningbo", "Fit check", 520),
    ("Licence", QINGSHA, "10 days once filed", "Magnets"),
    ("Air freight", MARLGATE, "8 working days door to door", "Licence", 520),
    ("Glass", YUNLAN, "25 days FOB Shenzhen", "Fit check", 270),
    ("Glass sea", MARLGATE, "45 calendar days", "Glass", 270),
    ("Gaskets", BRENTA, "12 working days ex works", "Fit check", "300", "4 calendar days"),
    ("Screws", KESSLING, "15 working days ARO", "Fit check", "1,600", "3 calendar days"),
    ("Box artwork", "us", "3wd", "EMC"),
    ("Boxes", MOINHO, "20 working days from proof and deposit", "Box artwork", "250", "5 calendar days"),
    ("Trial", "us", "3wd", "Test first, Finish graphite, Air freight, Glass sea, Gaskets, Screws", 10),
    ("Wave 1 build", "us", "6wd", "Trial", 70),
    ("Pack 1", "us", "4wd", "Wave 1 build, Boxes", 80),
    ("Wave 2 build", "us", "14wd", "Wave 1 build, Look over, Test first", 160),
    ("Pack 2", "us", "7wd", "Wave 2 build, Pack 1", 148),
)
NEW = "tracker new ebb-1 quantity=240 start=2026-06-15 currency=GBP today=2026-06-15"
READ = "tracker read jobs.xlsx columns item=name vendor=supplier needs=after"
WITH_LEADS = f"{READ} leads days=wd weeks=wd"
WAVES = """
tracker add shipment wave-1 quantity=80 after=pack-1
tracker add shipment wave-2 quantity=148 after=pack-2
"""
OWN_DAYS_OFF = 'tracker set bench "closures=31aug bank holiday,24dec..3jan year-end break,26mar,29mar"'
THEIR_DAYS_OFF = """
tracker set tolmark closures=31aug,24dec..3jan,26mar,29mar
tracker set varne "closures=31aug,21dec..4jan works shutdown,26mar,29mar"
tracker set lipowa closures=11nov,24dec..25dec,1jan,6jan,29mar
tracker set orlice "closures=6jul,28sep,28oct,17nov,21dec..3jan works shutdown" dates_mean=leaves
tracker set qingsha "closures=1oct..7oct national week,1jan,28jan..21feb spring shutdown" dates_mean=leaves
tracker set brenta "closures=3aug..28aug summer shutdown,8dec,24dec..6jan"
tracker set kessling closures=24dec..3jan,26mar,29mar
tracker set moinho closures=5oct,1dec,8dec,24dec..3jan
tracker set fenwater closures=31aug,24dec..3jan,26mar,29mar
tracker set marlgate closures=31aug,25dec,28dec,1jan,26mar,29mar
tracker set yunlan closures=1oct..7oct,1jan,25jan..20feb
"""
GATES_AND_CLOCKS = """
tracker set fit-check gate=true
tracker set emc gate=true
tracker set boxes clock=order,payment,proof
"""


def sheet(path, said=()):
    """Save the list as an .xlsx file; ``said`` gives other words for how long, by item."""
    book = Workbook()
    rows = book.active
    rows.title = "Who does what"
    rows.append(["Ebbstone, 240 tide dials: who does what"])
    rows.merge_cells("A1:G1")
    rows.append(["prices are in the other file; ask Gwen about the bar"])
    rows.append([])
    rows.append(HEADINGS)
    for item, who, long, *rest in JOBS:
        rows.append([item, who, dict(said).get(item, long), *rest])
    book.save(path)
