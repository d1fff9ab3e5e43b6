"""What each sheet and each column of the plan workbook means, for its Read me and the prompts beside its cells.

The columns stand in the order they have here; an example is as typed in a cell.
"""

from collections.abc import Mapping

Guide = Mapping[str, tuple[str, str]]

_NAME = ("What you call it.", "Blast and anodize, natural")
_PUBLIC = ("What backers see instead of the name.", "Anodizing, natural")

SHEETS: Mapping[str, str] = {
    "run": "One row: the run and how many pieces it makes.",
    "supplier": "One row for each firm that does jobs, and one for your own bench.",
    "part": "One row for each thing that is counted. Stays empty where jobs need only follow each other.",
    "job": "One row for each step of work by one supplier.",
    "shipment": "One row for each wave of units to backers.",
    "option": "One row for each thing that could be decided, kept until it is. May stay empty.",
    "fact": "What has happened, one row each. May stay empty: facts are mostly logged by commands.",
    "first_plan": "The first forecast kept. Leave it empty: the tracker fills it in.",
    "public_holidays": "Public holidays as they were looked up. Leave it empty: the tracker fills it in.",
}

RUN: Guide = {
    "code": ("A short name for the run: letters, digits, dots and dashes, no blanks.", "dial-1"),
    "product": ("What is made.", "Tabletop tide dial"),
    "quantity": ("Pieces to make.", "240"),
    "currency": ("The money you count in, three letters.", "GBP"),
    "start": ("The first day of the run: nothing starts earlier.", "2026-06-15"),
    "today": ("A fixed status date. Leave it empty: then today is today.", "2026-11-24"),
    "dates": ("How you type dates such as 4/12 in commands: day first or month first.", "day first"),
    "unit": ("The part that is one complete product, before packing; commas between variants.", "unit"),
}
SUPPLIER: Guide = {
    "code": ("A short name: letters, digits, dots and dashes, no blanks.", "varne"),
    "name": ("The firm's name.", "Varne Surface Works"),
    "country": ("For public holidays: the two letters of the country. Empty: no public holidays.", "GB"),
    "subdivision": (
        "The part of the country, as in ISO 3166. Empty: only days the whole country has.",
        "ENG",
    ),
    "workdays": ("Their working weekdays. Empty: mon-fri.", "mon,tue,thu"),
    "closures": (
        "When they are shut: first..last day and why, or a single day; commas between.",
        "2026-12-21..2027-01-04 works shutdown",
    ),
    "opens": ("Extra days on which they work; commas between.", "2026-10-10"),
    "dates_mean": (
        "What a date from them means: in hand (it is with you) or leaves (it goes out of their door). Empty: in hand.",
        "leaves",
    ),
    "bank": ("Days from a payment sent to money arrived, wd or cd. Empty: none.", "2wd"),
    "contact": ("Whom to call.", "Dave, 0-555-0100"),
    "public_name": ("What backers see instead of the name.", "our anodizer"),
    "inhouse": ("yes for your own bench: its jobs need no order.", "yes"),
}
PART: Guide = {
    "code": ("A short name: letters, digits, dots and dashes, no blanks.", "bezel"),
    "name": ("What you call it.", "Bezel, blasted"),
    "public_name": ("What backers see instead of the name.", "Bezels"),
    "unit": ("What it is measured in. Empty: counted in whole pieces.", "m"),
    "here": ("How much was in stock when the run began; decimals only with a unit. Empty: none.", "120"),
    "spares": ("How many are wanted beyond what shipments need; they hold no shipment. Empty: none.", "8"),
    "moq": ("The least that one order may ask for.", "100"),
    "multiple": ("Orders come in multiples of this.", "25"),
}
JOB: Guide = {
    "code": ("A short name: letters, digits, dots and dashes, no blanks.", "finish-natural"),
    "name": _NAME,
    "public_name": _PUBLIC,
    "supplier": ("Who does it: a code of the sheet supplier.", "varne"),
    "process": ("What kind of work it is, if it can hurt someone: chooses the caution shown.", "anodizing"),
    "lead": (
        "12wd = 12 of their working days, 45cd = 45 calendar days; a range 8..12wd; low/likely/high 8/10/15wd.",
        "12wd",
    ),
    "rate": (
        "Instead of a lead: set-up and pieces a day, or minutes_each=35 hours_per_day=14 setup_h=6 machines=1.",
        "per_day=12 setup=1wd",
    ),
    "said": ("The lead time in their own words.", "about three weeks ARO"),
    "after": (
        "Jobs whose result must be there first, with days between (lag 2cd), or only if that check fails (on fail).",
        "boards, gaskets lag 2cd, fit-check on fail",
    ),
    "takes": (
        "Parts used for each piece put in, with how many; 'into' for pieces of one of several parts it makes.",
        "board, magnet 2, housing-graphite 1 into unit-graphite",
    ),
    "makes": (
        "The part it makes; of several parts each with its share.",
        "unit-graphite 74, unit-natural 86",
    ),
    "quantity": ("Pieces put in. Empty, for a job that makes a part: the need decides.", "96"),
    "yield": ("The share of the pieces put in that come out good. Empty: all.", "95%"),
    "lots": (
        "How the pieces come: so many equal lots (4), shipments for one lot each, or sizes (100,100,75).",
        "shipments",
    ),
    "one_by_one": ("yes if a lot waits for the lot before it.", "yes"),
    "serves": ("Shipments it covers before other makers of the same part; commas between.", "wave-1"),
    "rerun": ("yes if this maker of a part covers a shortage.", "yes"),
    "rework_of": ("The job whose rework pieces go in.", "finish-graphite"),
    "unders": ("How far a printed count may fall short.", "10%"),
    "overs": ("How far a printed count may go over.", "10%"),
    "travel": ("Days from their door to where it is used next, cd or wd. Empty: none.", "4cd"),
    "not_before": ("The first day it may start.", "2026-10-01"),
    "clock": (
        "What starts it, of: order, payment, drawing, proof, material; or none. Empty: an order, for outside jobs.",
        "order, payment",
    ),
    "leave_when": ("What must be there before it may leave their door: balance, papers.", "balance"),
    "gate": ("yes for a check with pass or fail: what comes after waits for the pass.", "yes"),
    "retry_of": ("The check that this is a second attempt at.", "fit-check"),
}
SHIPMENT: Guide = {
    "code": ("A short name: letters, digits, dots and dashes, no blanks.", "wave-1"),
    "name": ("What you call it.", "First wave"),
    "public_name": ("What backers see instead of the name.", "Wave 1"),
    "quantity": ("Units in it. Empty where contents say how many: their sum.", "80"),
    "part": ("The part it is made up of, where that is all one.", "packed-unit"),
    "contents": (
        "The parts in it and how many of each; commas between.",
        "unit-graphite 66, unit-natural 82",
    ),
    "after": ("Jobs that must be done before it goes; commas between.", "pack-1"),
    "told": (
        "What you told backers: day told, colon, the day or first..last day, and the words; commas between.",
        "2026-10-16:2027-01-10..2027-01-20 mid-January",
    ),
}
OPTION: Guide = {
    "code": ("A short name: letters, digits, dots and dashes, no blanks.", "quick-boxes"),
    "words": (
        "What would be tried: as typed after 'tracker try', days written 2026-12-04.",
        "set boxes lead=12wd",
    ),
    "cost": ("What it would cost, in your own words.", "GBP 240"),
    "on": ("The day you kept it.", "2026-11-24"),
}
FACT: Guide = {
    "on": ("The day it happened.", "2026-11-10"),
    "kind": ("What happened; the Read me lists which columns each kind has.", "in"),
    "job": ("The job it is about.", "finish-natural"),
    "shipment": ("The shipment it is about (posted, told).", "wave-1"),
    "supplier": ("The supplier it is about (called, decided, note).", "varne"),
    "part": ("scrapped: the part found bad. in, made, sorted, posted: which part, if several.", "bezel"),
    "option": ("decided: the option it is about; it leaves the list of open ones.", "quick-boxes"),
    "what": ("given: what was given.", "payment"),
    "for": (
        "promised: the day promised. told: the day told. given day1: the day they begin.",
        "2026-12-04",
    ),
    "first": ("told: the first day, where you told first and last.", "2027-01-10"),
    "last": (
        "told: the last day, where you told first and last. in: yes if no more will come.",
        "yes",
    ),
    "until": ("paused: the first day work may go on.", "2026-12-01"),
    "again": ("called: the day to call again.", "2026-11-26"),
    "good": ("Good pieces.", "91"),
    "rework": ("Pieces to be done again.", "3"),
    "scrap": ("Pieces lost.", "2"),
    "count": ("Pieces counted but not judged yet.", "96"),
    "quantity": ("ordered: pieces ordered.", "250"),
    "ref": ("Their delivery note or your own number.", "4471"),
    "worst": ("promised: the worst day they named.", "2026-12-18"),
    "means": ("promised: what this date means, if not what the supplier's dates mean.", "leaves"),
    "exactly": ("promised: yes to keep the date though they are shut that day.", "yes"),
    "said": ("promised: their words.", "Friday for sure"),
    "words": ("told: your words to backers.", "mid-January"),
    "note": ("Anything else.", "one box wet"),
    "logged": ("The day it was entered, if later than the day it happened.", "2026-11-11"),
}
FIRST_PLAN: Guide = {
    "job": ("A job of the first plan, with start, finish and arrives.", "boxes"),
    "start": ("The first day worked.", "2026-09-11"),
    "finish": ("The last day worked.", "2026-10-09"),
    "arrives": ("The day its result is there.", "2026-10-14"),
    "shipment": ("A shipment of the first plan, with its date; in a row of its own.", "wave-1"),
    "date": ("The day it goes.", "2026-12-11"),
}
PUBLIC_HOLIDAYS: Guide = {
    "country": ("Two letters of the country.", "GB"),
    "subdivision": ("The part of the country.", "ENG"),
    "first_year": ("The first year looked up.", "2025"),
    "last_year": ("The last year looked up.", "2033"),
    "days": ("The days; commas between.", "2026-12-25, 2026-12-28"),
}
