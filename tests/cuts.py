"""A compact cover of the cuts: every choice of the designs stands in at least one of these commissions."""

from __future__ import annotations

# [jacket], [skirt], [trousers] as a commission writes them, by a name for the test
JACKETS: dict[str, str] = {
    "side panel, notched": "sleeve_vent = 9",
    "darted, extended, fold": """
        body_cut = "darted"
        front_edge = "extended"
        centre_back = "fold"
        vent = "sides"
        sleeve_cut = "one-piece" """,
    "V neck, extended, rounded": """
        front_style = "V neck"
        front_edge = "extended"
        pockets = "welt"
        front_hem_radius = 5 """,
    "crossed over, extended": """
        front_style = "crossed over"
        front_edge = "extended"
        pockets = "patch"
        vent = "back" """,
    "V neck, extended to the neck, rounded": """
        front_style = "V neck"
        front_edge = "extended to the neck"
        front_hem_radius = 5 """,
    "notched, split at a button, rounded": """
        front_edge = "split"
        split_button = 3
        pockets = "jetted"
        front_hem_radius = 4 """,
    "notched, joined twice": """
        facing_split = 7
        second_split = 9
        vent = "sides"
        facing_grain = "across the edge" """,
    "darted, dart in the shoulders, one-piece eased": """
        body_cut = "darted"
        bust_dart = "shoulder"
        back_shoulder = "dart"
        vent = "sides"
        sleeve_cut = "one-piece"
        elbow_dart = false
        waist_seam = true
        pockets = "patch"
        front_hem_radius = 4 """,
    "princess from the shoulder, peaked, double-breasted, flared": """
        body_cut = "princess from the shoulder"
        front_style = "peaked lapel"
        closing = "double-breasted"
        waist_seam = true
        lower_section = "flared"
        length_below_waist = 36
        vent = "sides" """,
    "princess from the armhole, shawl, split facing": """
        body_cut = "princess from the armhole"
        front_style = "shawl"
        buttons = 2
        facing_split = 6
        vent = "sides"
        back_shoulder = "dart"
        sleeve_length = "three-quarter" """,
    "V neck, edge to edge, straight below a waist seam": """
        front_style = "V neck"
        closing = "edge to edge"
        facing_split = 5
        waist_seam = true
        vent = "back" """,
    "side panel, welts below a waist seam": """
        waist_seam = true
        pockets = "welt" """,
    "round neck, raglan": """
        front_style = "round neck"
        sleeve_cut = "raglan" """,
    "raglan, stand collar": """
        front_style = "round neck"
        collar_style = "stand"
        sleeve_cut = "raglan" """,
    "raglan, notched, darted": """
        body_cut = "darted"
        sleeve_cut = "raglan"
        sleeve_length = "three-quarter" """,
    "stand collar, padded hips": """
        front_style = "round neck"
        collar_style = "stand"
        waist_seam = true
        lower_section = "padded hip"
        vent = "sides"
        stand_ends = "square" """,
    "stand collar in halves, princess from the armhole": """
        body_cut = "princess from the armhole"
        front_style = "round neck"
        collar_style = "stand"
        stand_halves = true
        waist_seam = true
        buttons = 6 """,
    "crossed over, kimono": """
        front_style = "crossed over"
        buttons = 2
        sleeve_cut = "kimono" """,
    "princess, kimono with a gusset": """
        body_cut = "princess from the shoulder"
        sleeve_cut = "kimono"
        sleeve_length = "three-quarter" """,
    "princess, kimono without a gusset": """
        body_cut = "princess from the shoulder"
        front_style = "shawl"
        buttons = 1
        sleeve_cut = "kimono"
        sleeve_lift = 75 """,
}
SKIRTS: dict[str, str] = {
    "straight, waistband": "",
    "flared, ribbon": 'cut = "flared"\nwaist_finish = "ribbon"',
    "pleated, waistband": 'cut = "pleated"',
    "pleated, ribbon": 'cut = "pleated"\nwaist_finish = "ribbon"',
    "straight, bodice top": 'waist_finish = "bodice top"',
    "pleated, bodice top": 'cut = "pleated"\nwaist_finish = "bodice top"',
}
TROUSERS: dict[str, str] = {
    "plain": "",
    "pleated, whole band": 'pleats = 2\nwaist = "whole band"\nback_darts = 1\nfly_lap = "left"',
    "ribbon, without pockets": 'pleats = 1\nwaist = "ribbon"\npockets = false',
}
