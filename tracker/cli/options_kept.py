"""Carrying out ``option``: keep a try-out until it is decided, and say what each would gain."""

import shlex
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from typing import TYPE_CHECKING

from tracker.cli.loading import Loaded, load
from tracker.cli.logging_facts import carry_out
from tracker.cli.logging_steps import Step, with_today
from tracker.cli.session import now, put_view, session
from tracker.errors import PlanProblems, Refused, TrackerError, UsageError
from tracker.plan.checks import check_plan
from tracker.plan.day_text import full_day, spelled
from tracker.plan.model import Plan
from tracker.plan.options import Option, decision_on
from tracker.render.deciding_text import gain_texts, option_text, write_deciding
from tracker.report.deciding import Deciding, Tries, deciding, option_row
from tracker.report.picture import Picture
from tracker.schedule.forecast import Forecast
from tracker.trying.kept import EXAMPLE, Wish, kept_words, read_kept, read_wish
from tracker.words.codes import find_code

if TYPE_CHECKING:
    from tracker.store.edit import Transaction


def keep_or_list(words: Sequence[str], today: str, *, as_json: bool) -> None:
    """Keep the option that the words say, or list the one they name, all of them without words."""
    typed = [word for word in words if word.strip()]
    if len(typed) > 1:
        if session.as_known:
            raise UsageError(
                "an option is kept as of now, not as known on a day", hint="leave --as-known out"
            )
        carry_out(
            lambda transaction, plan, day: option_step(transaction, plan, typed, day, session.command),
            today,
            as_json=as_json,
            verbose=True,
        )
        return
    loaded = load(today)
    if typed:
        show_option(loaded, _named(loaded.plan, typed[0]), as_json=as_json)
        return
    view = options_of(loaded.picture)
    put_view(view, lambda paper: write_deciding(view, paper), as_json=as_json)


def show_option(loaded: Loaded, code: str, *, as_json: bool) -> None:
    """One option, open or decided."""
    view = options_of(loaded.picture, code)
    put_view(view, lambda paper: write_deciding(view, paper, alone=True), as_json=as_json)


def options_of(picture: Picture, only: str = "") -> Deciding:
    """The options kept, those open with what they would gain; ``only`` leaves out all others."""
    return deciding(picture, lambda option: tries(option, picture.today), only)


def tries(option: Option, today: date) -> Tries:
    """How an option is tried on a day from ``today`` on; a promise for a day that has come by then brings nothing."""

    def tried(plan: Plan, day: date) -> Plan | str:
        try:
            found = read_kept(option.words, plan, today, begins=day)
        except PlanProblems as error:
            return "; ".join(map(str, error.problems))
        except TrackerError as error:
            return error.message
        come = any(fact.kind == "promised" and fact.day and fact.day <= day for fact in found.facts)
        return plan if come else found.plan

    return tried


def option_step(
    transaction: "Transaction", plan: Plan, words: Sequence[str], today: date, command: str
) -> Step:
    """Keep an option as one entry: a new one, or one of that name with other words or another cost."""
    wish = read_wish(words)
    old = next((one for one in plan.options if one.code.lower() == wish.code.lower()), None)
    if old is not None:
        _refuse_decided(old, plan, today)
    option = _wished(wish, old, plan, today)
    if option == old:
        return Step(plan=plan, remarks=(f"option {old.code} says so already; nothing was stored",))
    kept = {**plan.option_by_code, option.code: option}
    changed = replace(plan, options=tuple(kept.values()))
    problems = check_plan(changed, today)
    if problems:
        raise PlanProblems(problems, what="the plan with that option")
    if old is None or option.words != old.words:
        _refuse_untried(option, changed, today)
    moved, remarks = with_today(transaction, plan, today)
    changed = replace(changed, run=moved.run)
    entry = transaction.begin_entry(command, today, now())
    transaction.save(moved, changed)
    row = option_row(Picture(Forecast(changed, today)), option, tries(option, today))
    said = f"option {option_text(option.code, spelled(option.words), option.cost)}"
    was = f"was: {option_text(old.code, spelled(old.words), old.cost)}" if old else ""
    texts = (said, was, *gain_texts(row, today), *remarks)
    return Step(plan=changed, entry=entry, remarks=tuple(filter(None, texts)), moves_nothing=True)


def _refuse_untried(option: Option, plan: Plan, today: date) -> None:
    """Refuse an option that cannot be tried beside its own name."""
    if isinstance(tries(option, today)(plan, today), str):
        raise Refused(
            f"option {option.code} could never be tried: its own name is taken by what it adds",
            hint=f"choose another name: tracker option try-{option.code} {shlex.quote(option.words)}",
        )


def _wished(wish: Wish, old: Option | None, plan: Plan, today: date) -> Option:
    """The option as it is to be kept; what was left out stays as it was."""
    if not wish.words and old is None:
        raise UsageError(f"option {wish.code}: what would be tried?", hint=EXAMPLE)
    if not wish.words and old is not None:
        return replace(old, cost=wish.cost or old.cost)
    words = kept_words(wish.words, plan, today)
    cost = wish.cost if wish.cost is not None else old.cost if old else ""
    if old is None:
        return Option(code=wish.code, words=words, on=today, cost=cost)
    return replace(old, words=words, cost=cost, on=old.on if words == old.words else today)


def _refuse_decided(option: Option, plan: Plan, today: date) -> None:
    fact = decision_on(plan, option.code, today)
    if fact is not None:
        raise Refused(
            f"option {option.code} was decided on {full_day(fact.on)}",
            hint=f"choose another name, or take the decision back first: 'tracker diary {option.code}' names its entry",
        )


def _named(plan: Plan, word: str) -> str:
    """The code of the option that a word names."""
    if not plan.options:
        raise UsageError(f"there is no option '{word}': none is kept yet", hint=EXAMPLE)
    return find_code(word, plan.option_by_code, "option")
