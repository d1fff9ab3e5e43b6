"""Ask a small plan for its views and what they print; day 0 is Monday 1 June 2026."""

from tests.build import day, plan
from tracker.render.board_text import write_board
from tracker.render.calls_text import write_calls
from tracker.render.forecast_text import write_forecast
from tracker.render.pages_text import write_job
from tracker.render.paper import Paper
from tracker.report.board import board
from tracker.report.calls import calls
from tracker.report.jobs import job_row, job_rows
from tracker.report.pages import job_page
from tracker.report.picture import Picture
from tracker.report.shipments import shipment_rows
from tracker.schedule.forecast import Forecast


def picture(text, *facts, today=0, **more):
    return Picture(Forecast(plan(text, facts=facts, **more), day(today)))


def row(seen, code):
    return job_row(seen, seen.plan.job_by_code[code])


def board_of(seen):
    return board(seen, fixed_today=False)


def printed(write, *arguments, width=200, **options):
    paper = Paper(width=width)
    write(*arguments, paper, **options)
    return paper.text()


def board_text(seen):
    return printed(write_board, board_of(seen))


def calls_text(seen):
    return printed(write_calls, calls(seen))


def page_text(seen, code):
    return printed(write_job, job_page(seen, code))


def forecast_text(seen, width=120):
    return printed(write_forecast, shipment_rows(seen), job_rows(seen), seen.today, width=width, fixed=False)
