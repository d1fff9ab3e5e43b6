"""A maker's own spreadsheets as files, and the program on a terminal of its own."""

import csv
import os
import pty
import subprocess
import sys

HEADINGS = ("Item", "Vendor", "How long", "Needs", "Pcs")
LAMP = (
    ("Drawings frozen", "us", "3wd", "-", None),
    ("Housing milled", "Tolmark Precision", "3 weeks", "Drawings frozen", "250 pcs"),
    ("Boxes, leaflets", "Moinho Alto", "20 days", "drawings", "1,600"),
    ("Gaskets", "Brenta", "10-15 working days ARO", "Drawings frozen", 300),
    ("Pack", "us", "2wd", "housing milled, Boxes, leaflets; gaskets", None),
    ("Total", None, None, None, 2150),
)


def workbook(path, rows=LAMP, headings=HEADINGS, sheet="Jobs", title="Lamp run, spring batch"):
    """An .xlsx file with a title, a blank row, and the table from row 3."""
    from openpyxl import Workbook

    book = Workbook()
    book.active.title = sheet
    for row in ((title,), (), headings, *rows):
        book.active.append(row)
    book.save(path)
    return path.name


def add_sheet(path, name, rows):
    """One sheet more in a workbook."""
    from openpyxl import load_workbook

    book = load_workbook(path)
    sheet = book.create_sheet(name)
    for row in rows:
        sheet.append(row)
    book.save(path)


def text_file(path, rows=LAMP, headings=HEADINGS):
    """A .csv file with the headings in its first row."""
    with path.open("w", newline="", encoding="utf-8") as file:
        csv.writer(file).writerows([headings, *rows])
    return path.name


def on_a_terminal(folder, database, words, answers, width=80):
    """Type a command and, at each question, the next answer; gives the exit code and all that was shown."""
    ours, theirs = pty.openpty()
    command = [sys.executable, "-m", "tracker", "--db", str(database), *words]
    environment = {**os.environ, "COLUMNS": str(width)}
    program = subprocess.Popen(
        command, stdin=theirs, stdout=theirs, stderr=theirs, cwd=folder, env=environment
    )
    os.close(theirs)
    shown, waiting = b"", list(answers)
    while True:
        try:
            piece = os.read(ours, 4096)
        except OSError:
            break
        if not piece:
            break
        shown += piece
        if waiting and shown.rstrip().endswith((b"?", b"[y/N]")):
            os.write(ours, waiting.pop(0).encode() + b"\n")
    os.close(ours)
    return program.wait(), shown.decode().replace("\r\n", "\n")
