"""Carrying out ``friday``: the page to standard output, the workbook and the text for backers to their files."""

from pathlib import Path

from tracker.cli.options_kept import options_of
from tracker.cli.session import put_view, say
from tracker.cli.telling import load_telling
from tracker.errors import Refused, UsageError
from tracker.render.backers_text import backers_text, left_out_texts
from tracker.render.friday_text import write_friday
from tracker.render.whole_file import write_together
from tracker.report.backers import backers_report
from tracker.report.friday import friday

FOLDER = Path("exports")


def show_friday(out: str, today: str, *, force: bool, everything: bool, as_json: bool) -> None:
    """Write both files, then print the page; where a file may not be written, do neither."""
    telling = load_telling(today)
    picture = telling.picture
    workbook = Path(out) if out else FOLDER / f"friday-{picture.today.isoformat()}.xlsx"
    text = workbook.with_suffix(".txt")
    _refuse_taken(workbook, text, force=force)
    from tracker.render.workbook import backers_bytes

    view = friday(picture, telling.news, options_of(picture).options)
    report = backers_report(picture, telling.news)
    contents = {workbook: backers_bytes(report), text: backers_text(report).encode()}
    if not out:
        _make_folder()
    write_together(contents)
    put_view(view, lambda paper: write_friday(view, paper, everything=everything), as_json=as_json)
    say(f"{workbook} and {text} written, public names only")
    for line in left_out_texts(report):
        say(line)


def _refuse_taken(workbook: Path, text: Path, *, force: bool) -> None:
    if workbook.suffix.lower() != ".xlsx":
        raise UsageError(
            f"{workbook} does not end in .xlsx",
            hint="--out names the workbook; the text goes beside it as .txt",
        )
    taken = [str(path) for path in (workbook, text) if path.exists()]
    if taken and not force:
        raise Refused(
            f"there is a file at {' and at '.join(taken)} already",
            hint="add --force to write it afresh, or name another place with --out",
        )


def _make_folder() -> None:
    try:
        FOLDER.mkdir(exist_ok=True)
    except OSError as error:
        raise Refused(
            f"cannot make the folder {FOLDER}: {error.strerror}", hint="name a place with --out FILE.xlsx"
        ) from error
