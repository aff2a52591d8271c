"""The same sheet for programs: keys stay under one schema number, new ones may join them."""

from collections.abc import Iterable
from dataclasses import asdict
from typing import Any

from planner.report.sheet.claimed import Claimed
from planner.report.sheet.line import Line
from planner.report.sheet.nouns import Kept, Search, Sheet
from planner.report.written.blocks import Attached

_AT_OWN_RISK = "at_own_risk"


def sheet_document(sheet: Sheet) -> dict[str, Any]:
    """For `sheet --json`."""
    return {
        "study": sheet.study,
        "aim": sheet.aim,
        "knob": sheet.knob or None,
        "along": sheet.along or None,
        "days": list(sheet.days),
        "runs": {
            "counted": sheet.runs,
            "failed": sheet.failed_runs,
            "void": sheet.void_runs,
            "minutes": sheet.minutes,
        },
        "rig": {
            "parts": [asdict(part) for part in sheet.parts],
            **_cost(sheet),
        },
        "changes": list(sheet.changes),
        "scores": [_claim(claim) for claim in sheet.claims],
        "scores_not_claimed": sheet.unclaimed,
        "search": None if sheet.search is None else _search(sheet.search),
        "ceilings": [asdict(line) for line in sheet.ceilings],
        "attached": [_attached(file) for file in sheet.attached],
        "head": {"seq": sheet.head.seq, "chain": sheet.head.chain},
    }


def _cost(sheet: Sheet) -> dict[str, Any]:
    cost = sheet.cost
    return {
        "price": None if cost is None else cost.total,
        "unpriced": sum(part.price is None for part in sheet.parts),
        "currency": sheet.rig.currency or None,
        "bracket": cost.bracket or None if cost else None,
        "bracket_ceiling": cost.ceiling if cost else None,
    }


def _claim(claim: Claimed) -> dict[str, Any]:
    return {
        "run": claim.run,
        "workload": claim.workload,
        "score": claim.score,
        "subscores": dict(claim.subscores),
        _AT_OWN_RISK: list(claim.at_own_risk),
        "setting": _lines(claim.lines),
        "conditions": asdict(claim.conditions),
        "evidence": asdict(claim.evidence),
        "repeats": None if claim.repeats is None else asdict(claim.repeats),
        "rules": [asdict(rule) for rule in claim.rules],
        "everyday_ceilings_then": [
            {"name": name, "everyday": everyday, "unit": unit}
            for name, everyday, unit in claim.ceilings_then
        ],
    }


def _search(search: Search) -> dict[str, Any]:
    return {
        "target": search.target,
        "workload": search.workload,
        "nominal_minutes": search.nominal_minutes,
        "confidence": search.confidence,
        "cold_boots": search.cold_boots,
        "ended": search.reason or None,
        "keep": [_kept(kept) for kept in search.kept],
        "frontier": None if search.traced is None else asdict(search.traced.found),
    }


def _kept(kept: Kept) -> dict[str, Any]:
    return {
        "setting": _lines(kept.lines),
        _AT_OWN_RISK: list(kept.at_own_risk),
        "holds": kept.holds,
        "pass_probability": kept.pass_probability,
        "interval": list(kept.interval),
        "level": kept.level,
        "evidence": asdict(kept.evidence),
        "passes_owed": kept.passes_owed,
        "cold_boots_owed": kept.cold_boots_owed,
        "spoilt": kept.spoilt,
    }


def _lines(lines: Iterable[Line]) -> list[dict[str, Any]]:
    return [
        {
            "name": line.name,
            "unit": line.unit,
            "as_set": line.as_set,
            "ran": line.ran,
            "made_of": line.made_of or None,
            "where": line.where or None,
            _AT_OWN_RISK: line.at_own_risk,
            "removed_from_study": line.removed,
        }
        for line in lines
    ]


def _attached(file: Attached) -> dict[str, Any]:
    return {
        "name": file.name,
        "sha256": file.sha256,
        "bytes": file.size,
        "shown": file.content is not None,
    }
