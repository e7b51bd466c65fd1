# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The pictures of a report's page as one SVG file, as README shows them.

    stilling simulate whole_visit --seed 3 | stilling report --html | python3 picture.py >it.svg
"""

import re
import sys

WIDTH, LEFT, RIGHT, GAP = 900, 56, 24, 26


def picture(page):
    """Both pictures one under the other, with the page's rules and its colours."""
    style = re.search(r"<style>(.*?)</style>", page, re.DOTALL)[1]
    chart_rules = style[:style.index("\n:root{")].replace(
        "@media (min-width:42rem),print{.chart .roomy{display:inline}}", "").replace(
        ".chart .roomy{display:none}", "")
    light, dark = re.findall(r":root\{(?:color-scheme:light dark;)?(--ink.*?)\}", style, re.DOTALL)
    rules = (f"svg{{{light}}}\n@media (prefers-color-scheme:dark){{svg{{{dark}}}}}\n"
             f"text{{font-family:sans-serif}}\n.ground{{fill:var(--paper)}}\n{chart_rules}")
    drawn, top = [], 12
    for one in re.findall(r'<svg class="chart".*?\n</svg>\n(?=</div>)', page, re.DOTALL):
        height = float(re.search(r'height="([\d.]+)"', one)[1])
        drawn.append(one.replace('<svg class="chart" width="100%"',
                                 f'<svg class="chart" x="{LEFT}" y="{top}" '
                                 f'width="{WIDTH - LEFT - RIGHT}"', 1))
        top += height + GAP
    return (f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH}" height="{top:g}" '
            f'viewBox="0 0 {WIDTH} {top:g}">\n<style>\n{rules}</style>\n'
            f'<rect width="100%" height="100%" class="ground"/>\n{"".join(drawn)}</svg>\n')


if __name__ == "__main__":
    sys.stdin.reconfigure(encoding="utf-8")
    sys.stdout.reconfigure(encoding="utf-8")
    sys.stdout.write(picture(sys.stdin.read()))
