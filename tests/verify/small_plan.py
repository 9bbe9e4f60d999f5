"""A plan small enough to check with a pencil: two rectangles joined along one side on a 40 × 60 mm check."""

from __future__ import annotations

from typing import Any


def rectangle(name: str, x: float, left: float, right: float) -> tuple[dict[str, Any], dict[str, Any]]:
    """A rectangle from (left, −50) to (right, 50) in its own frame, laid with its grain mark at (x, 110)."""
    corners = [[left, -50.0], [right, -50.0], [right, 50.0], [left, 50.0]]
    names = ["bottom", "right-side", "top", "left-side"]
    edges = [
        {
            "name": edge,
            "kind": "edge",
            "points": [corners[i], corners[(i + 1) % 4]],
            "stops": [{"name": "lower", "at": corners[i]}, {"name": "upper", "at": corners[(i + 1) % 4]}],
        }
        for i, edge in enumerate(names)
    ]
    edges[3]["points"] = [corners[0], corners[3]]
    edges[3]["stops"] = [{"name": "lower", "at": corners[0]}, {"name": "upper", "at": corners[3]}]
    # the left side runs upwards, so the outline is closed by the pieces' polygon, not by the edges' direction
    edges[3]["points"], edges[3]["stops"] = (
        [corners[3], corners[0]],
        [{"name": "upper", "at": corners[3]}, {"name": "lower", "at": corners[0]}],
    )
    piece = {
        "name": name,
        "title": name.title(),
        "garment": "apron",
        "piece": name,
        "hand": "whole",
        "cloth": "shell",
        "free": False,
        "visible": True,
        "grain_mark": [0.0, 0.0],
        "grain_angle": 0.0,
        "turned": False,
        "face": "right",
        "phase": {"u": (x - 10.0) % 40.0, "v": (110.0 - 5.0) % 60.0},
        "fixed_by": "",
        "seam_line": corners,
        "cutting_line": [[left - 15, -65.0], [right + 15, -65.0], [right + 15, 65.0], [left - 15, 65.0]],
        "edges": edges,
        "marks": [],
    }
    placement = {"piece": name, "cloth": "shell", "x": x, "y": 110.0, "turned": False, "face": "right"}
    return piece, placement


def small_plan() -> dict[str, Any]:
    """Piece `one` (right side at x = 30) is sewn to piece `two` (left side at x = −30), both 100 mm high.

    On the cloth the seam lies at x = 100 + 30 under one and at 260 − 30 = 230 under two: 100 mm apart, that is
    20 mm more than two repeats of 40, so the upright bars miss by 20 mm; the level bars meet.
    """
    one, place_one = rectangle("one", 100.0, -30.0, 30.0)
    two, place_two = rectangle("two", 260.0, -30.0, 30.0)
    heights = [-50.0 + 10.0 * i for i in range(11)]
    return {
        "format": "1.0",
        "title": "An apron",
        "made_by": "a pencil",
        "unit": "mm",
        "stage": "before the fitting",
        "front_laps_over": "right",
        "body": [],
        "cloths": [
            {
                "name": "shell",
                "title": "Check",
                "width": 500.0,
                "selvedge": 10.0,
                "length": 220.0,
                "sett_origin": {"x": 10.0, "y": 5.0},
                "colours": {"navy": "#202040", "ivory": "#f0ead8"},
                "warp": {
                    "bars": [
                        {"name": "navy 1", "colour": "navy", "width": 10.0},
                        {"name": "ivory 1", "colour": "ivory", "width": 30.0},
                    ],
                    "repeat": 40.0,
                    "even": True,
                    "pivots": [5.0, 25.0],
                    "matters": True,
                },
                "weft": {
                    "bars": [
                        {"name": "navy 1", "colour": "navy", "width": 20.0},
                        {"name": "ivory 1", "colour": "ivory", "width": 40.0},
                    ],
                    "repeat": 60.0,
                    "even": True,
                    "pivots": [10.0, 40.0],
                    "matters": True,
                },
                "nap": "none",
                "faces_alike": False,
                "weave": "plain",
                "thickness": 0.5,
                "faults": [],
                "reckoning": {
                    "lays_in": 220.0,
                    "buy": 300.0,
                    "parts": [],
                    "rule_of_thumb": 400.0,
                    "sure_bound": 50.0,
                },
            }
        ],
        "pieces": [one, two],
        "joins": [
            {
                "name": "middle",
                "kind": "seam",
                "a": {"piece": "one", "edge": "right-side"},
                "b": {"piece": "two", "edge": "left-side"},
                "level": "continue",
                "upright": "continue",
                "stretch": ["lower", "upper"],
                "level_at": "",
                "hard": True,
                "importance": "always",
                "weight": 1.0,
                "ease": 0.0,
                "samples": [[30.0, y, -30.0, y, 1.0] for y in heights],
                "level_drift": [0.0] * 11,
                "upright_drift": [20.0] * 11,
                "floor": 0.0,
                "worst_level": 0.0,
                "worst_upright": 20.0,
                "colour": 0.0,
                "summary": "",
            }
        ],
        "cycles": [],
        "placements": [place_one, place_two],
        "findings": [],
    }
