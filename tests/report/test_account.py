"""The report: whole and closed, every run in it as the ledger has it, each figure reckoned anew."""

import re
from collections.abc import Mapping
from html import unescape
from itertools import pairwise

import pytest

from planner.domain.quantity import format_number
from planner.report.account.words import report_text
from planner.report.written.plain import many_lines, one_line
from tests.report.accounts import ACCOUNTS, VERSION, account, peak_study
from tests.report.sheets import EVIL
from tests.report.test_sheet_page import Page

every_account = pytest.mark.parametrize("name", ACCOUNTS)
TAGS = {"html", "head", "meta", "title", "style", "body", "main", "nav", "ul", "li", "a", "div"}
TAGS |= {"h1", "h2", "h3", "p", "table", "thead", "tbody", "tr", "th", "td", "strong", "code"}
TAGS |= {"pre", "figure", "img", "figcaption", "details", "summary"}


def text(name: str) -> str:
    """A report as it is written."""
    return report_text(account(name))


def seen(name: str) -> str:
    """What a person reads of it, numbers and units no longer tied."""
    page = re.sub(r"<style>.*?</style>|<[^>]+>", " ", text(name), flags=re.S)
    return " ".join(unescape(page).replace("\N{NO-BREAK SPACE}", " ").split())


def sections(name: str) -> Mapping[int, str]:
    """What is read of each run, by its number."""
    parts = re.split(r'<h[23] id="run-(\d+)">', text(name).split('id="run-by-run"')[-1])
    plain = (re.sub(r"<[^>]+>", " ", part.split("<h2")[0]) for part in parts[2::2])
    words = (" ".join(unescape(p).replace("\N{NO-BREAK SPACE}", " ").split()) for p in plain)
    return dict(zip(map(int, parts[1::2]), words, strict=True))


@every_account
def test_the_page_is_whole_and_nothing_in_it_runs(name: str) -> None:
    """Tags close in turn; no script, no handler, no address but data and its own headings."""
    found = Page(text(name))
    assert (found.open, found.wrong) == ([], [])
    assert {tag for tag, _ in found.elements} <= TAGS
    assert not any(key.startswith("on") for _, attrs in found.elements for key in attrs)
    assert all(str(img["src"]).startswith("data:image/") for img in found.all("img"))
    policy = next(m["content"] for m in found.all("meta") if "http-equiv" in m)
    assert str(policy).startswith("default-src 'none'")
    named = [str(attrs["id"]) for _, attrs in found.elements if "id" in attrs]
    assert len(named) == len(set(named))
    assert {str(a["href"]) for a in found.all("a")} <= {f"#{name}" for name in named}


@every_account
def test_it_can_be_read_by_ear_and_by_keyboard(name: str) -> None:
    """Headings go down one at a time (WCAG 2.2, 1.3.1), pictures have words (1.1.1), and what
    scrolls takes the focus and has a name (2.1.1, 4.1.2)."""
    found = Page(text(name))
    levels = [int(tag[1]) for tag, _ in found.elements if re.fullmatch(r"h[1-6]", tag)]
    assert levels[0] == 1
    assert all(down - up <= 1 for up, down in pairwise(levels))
    assert all(img["alt"] for img in found.all("img"))
    for wide in found.all("div"):
        assert (wide["role"], wide["tabindex"], bool(wide["aria-label"])) == ("region", "0", True)


@every_account
def test_a_boot_stands_at_the_first_run_after_it(name: str) -> None:
    """Wherever the number of the boot is another one than before, and nowhere else."""
    runs, before = account(name).history.runs, 1
    for run in runs:
        assert ("Boot cold" in sections(name)[run.number]) == (run.boot != before and run.cold)
        before = run.boot


@every_account
def test_scores_have_a_column_where_there_are_any(name: str) -> None:
    """No empty one of a study that scores nothing, nor advice to repeat a score."""
    scored = any(run.score is not None for run in account(name).history.runs)
    head = text(name).split('id="runs"')[-1].split("</thead>")[0]
    if account(name).made:
        assert ('<th scope="col">Score</th>' in head) == scored
    assert ("To repeat a score:" in seen(name)) == scored
    assert ("To repeat the setting to keep:" in seen(name)) != scored


def test_hostile_text_is_read_as_it_was_typed() -> None:
    """Every tag and quote in a note, a name or the study file comes out as text."""
    read = "".join(Page(text("hostile")).texts).replace("\N{NO-BREAK SPACE}", " ")
    assert read.count(one_line(EVIL)) > 20
    assert many_lines(EVIL).splitlines()[-1] in read
    assert "<script" not in text("hostile").lower()


@every_account
def test_every_run_stands_there_as_the_ledger_has_it(name: str) -> None:
    """In order, void ones too: why, chance and minutes as they were proposed; outcome, score."""
    told, runs = account(name), sections(name)
    assert list(runs) == [run.number for run in told.history.runs]
    for run in told.history.runs:
        words = runs[run.number]
        assert words.startswith(f"Run {run.number}: {run.outcome}")
        if run.asked is not None:
            body = run.asked.body
            assert " ".join(body["reason"].split()) in words
            assert f"{body['pass_probability']:.0%} to pass" in words or "99%" in words
        else:
            assert "chosen by the person" in words
        if run.score is not None:
            assert f"Score {format_number(run.score)}" in words
        for text_of_person in (run.symptom, run.note):
            assert " ".join(one_line(text_of_person).split()) in words


def test_a_run_without_an_answer_is_told_last() -> None:
    """With why it was asked for."""
    told = account("many endings")
    (pending,) = told.history.pending.values()
    last = seen("many endings").split(f"Run {pending.number}: asked for, no answer yet")[1]
    assert " ".join(pending.reason.split()) in last.split("Ceilings")[0]


@every_account
def test_best_scores_are_marked_as_they_came(name: str) -> None:
    """Reckoned again from the runs: a claimable score of the workload above all before it."""
    told, best = account(name), float("-inf")
    workload = told.history.definition.workload.name
    for made in told.made:
        run = made.run
        counts = run.workload == workload and run.outcome == "pass" and run.capped is None
        rises = counts and run.score is not None and run.score > best
        assert (made.first_score or made.beaten is not None) == rises
        if rises and run.score is not None:
            assert made.beaten == (None if made.first_score else best)
            best = run.score


@pytest.mark.parametrize("name", ["edge", "many endings", "frontier"])
def test_the_edge_told_last_is_the_edge_as_it_stands(name: str) -> None:
    """What the runs changed one after another ends in what the study answers today, and each
    change begins where the one before it ended."""
    told = account(name)
    changes = [made.edge for made in told.made if made.edge is not None]
    assert len(changes) > 2
    assert all(one[1] == two[0] for one, two in pairwise(changes))
    (learnt,) = [known for known in told.learnt if known.knob is told.followed]
    assert learnt.edge is not None
    if not told.beside:
        assert changes[-1][1] == pytest.approx(learnt.edge.interval)


def test_what_held_hardest_is_told_when_it_did() -> None:
    """Of each knob that can fail a run, reckoned again from the runs that held."""
    told = account("peak")
    knobs = [k for k in told.history.definition.knobs.values() if not k.supports]
    steps: dict[str, float] = {}
    for made in told.made:
        rises = []
        for knob in knobs if made.run.outcome.held else []:
            now = knob.hardness(float(made.run.ran[knob.name]))
            if now > steps.get(knob.name, now):
                rises.append(f"{knob.name} {knob.show(made.run.ran[knob.name])}")
            steps[knob.name] = max(now, steps.get(knob.name, now))
        assert list(made.hardest) == rises
    assert any(made.hardest for made in told.made)


def test_lower_voltages_that_held_are_told_of_trimming() -> None:
    """It turns nothing else: what held at a harder value than before is a lower voltage."""
    told = account("trim")
    risen = [words for made in told.made for words in made.hardest]
    assert risen
    assert all("_voltage " in words for words in risen)


@pytest.mark.parametrize("name", ["everyday", "trim"])
def test_what_must_keep_holding_is_told_of_all_knobs(name: str) -> None:
    """Followed is no knob alone; its pictures are those of many knobs, and no score is missed."""
    told = account(name)
    assert told.followed is None
    titles = [drawn.title for drawn in told.drawn]
    assert len(titles) == 2
    held = sum(made.run.outcome.held for made in told.made)
    assert f"{held} of {len(told.made)} runs held" in titles[0]
    assert "nearest to its edge" in titles[1]
    assert "score can be claimed" not in seen(name)


@pytest.mark.parametrize("name", ["peak", "everyday", "trim"])
def test_blame_adds_up(name: str) -> None:
    """Shares of one run to one; over all failed runs, with stray crashes, to their number."""
    told = account(name)
    failed = [made for made in told.made if made.run.outcome.failed]
    assert failed
    assert [sum(made.shares.values()) for made in failed] == pytest.approx([1.0] * len(failed))
    knobs = sum(known.blamed or 0.0 for known in told.learnt)
    stray = sum(made.shares.get("", 0.0) for made in failed)
    assert knobs + stray == pytest.approx(len(failed))
    assert not any(made.shares for made in told.made if not made.run.outcome.failed)


def test_a_stranger_finds_what_repeating_takes() -> None:
    """The study file letter by letter, the planner's version, the head, cautions, the change."""
    study, words = peak_study(), seen("peak")
    listed = unescape(text("peak").split("<pre>")[1].split("</pre>")[0])
    assert listed == many_lines(study.history.definition.text)
    assert study.head.chain in words
    for said in (f"planner {VERSION}", "Back up first", "Between the runs: changed: new paste."):
        assert said in words
    assert "Blamed most on" in words


@every_account
def test_what_is_at_own_risk_is_said_in_the_table_of_runs(name: str) -> None:
    """Of every run above an everyday ceiling, and of no other."""
    told = account(name)
    rows = text(name).split('id="runs"')[-1].split("</table>")[0].split("<tr>")[2:]
    risky = [row for row in rows if "AT YOUR OWN RISK" in row]
    ceilings = told.history.definition.guarded
    above = 0
    for run in told.history.runs:
        sides = (told.history.definition.numbers(s) for s in (run.ran, run.settings))
        above += any(
            c.everyday is not None and numbers.get(name, c.everyday) > c.everyday + 1e-9
            for numbers in sides
            for name, c in ceilings.items()
        )
    assert len(risky) == above
