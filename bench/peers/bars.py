# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""Tables of (name, milliseconds, ratio) as bars in one SVG: as long as what they took."""

from html import escape

WIDTH, LABEL, ROW, FIGURES = 900, 430, 24, 130


def picture(tables, about):
    """`tables`: (title, rows) each; every one has a scale of its own."""
    lines, y = [], 26
    text = ('<text x="{}" y="{}" font-size="{}" font-weight="{}">{}</text>').format
    for title, rows in tables:
        lines.append(text(12, y, 14, "bold", escape(title)))
        longest = max(ms for _, ms, _ in rows)
        for name, ms, ratio in rows:
            y += ROW
            length = (WIDTH - LABEL - FIGURES) * ms / longest
            fill = "#1b6e53" if name.startswith("stilling") else "#8a8f94"
            lines.append(text(12, y, 13, "normal", escape(name)))
            lines.append(f'<rect x="{LABEL}" y="{y - 12}" width="{length:.1f}" height="14" '
                         f'fill="{fill}"/>')
            lines.append(text(f"{LABEL + length + 6:.1f}", y, 13, "normal",
                              f"{ms:.0f} ms, {ratio:.2f} x"))
        y += 2 * ROW
    lines.append(text(12, y - 8, 11, "normal", escape(about)))
    return (f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}" height="{y + 8}" '
            f'viewBox="0 0 {WIDTH} {y + 8}" font-family="sans-serif">'
            f'<rect width="100%" height="100%" fill="#ffffff"/>' + "".join(lines) + "</svg>\n")
