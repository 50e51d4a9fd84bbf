"""A report as one HTML page with everything in it: the proof's page with numbered frames, the findings, the source."""

from __future__ import annotations

import base64
import io
from collections.abc import Iterator, Sequence
from html import escape
from typing import Any

from PIL import Image

from clueprint.compare.marked_image import displayed_picture
from clueprint.compare.result import Comparison, Finding
from clueprint.compare.signs import sign_of
from clueprint.compare.tags import Tags
from clueprint.draw import picture, to_svg
from ingest.page import Page
from schema.puzzle import Puzzle

_WIDEST = 1700
"""Pixels across the picture of the page: A4 at 200 ppi."""

_STYLE = """
:root { color-scheme: light; }
body { font: 1rem/1.45 system-ui, sans-serif; color: #1b1b1b; background: #fff; margin: 1.5rem auto; max-width: 84rem; padding: 0 1rem; }
h1 { font-size: 1.4rem; } h2 { font-size: 1.15rem; margin-top: 1.6rem; }
.sheets { display: flex; flex-wrap: wrap; gap: 1.5rem; align-items: flex-start; }
.sheets figure { flex: 1 1 26rem; margin: 0; }
figure svg { width: 100%; height: auto; border: 1px solid #767676; background: #fff; }
figcaption { margin-top: .3rem; color: #404040; }
table { border-collapse: collapse; width: 100%; } th, td { border: 1px solid #8c8c8c; padding: .35rem .5rem; text-align: left; vertical-align: top; }
thead th { background: #efefef; } td code { overflow-wrap: anywhere; } td:last-child code { white-space: nowrap; }
tr:target, polygon:target { outline: 3px solid #1b1b1b; }
.frame { fill: none; vector-effect: non-scaling-stroke; stroke-width: 2.5; }
a { color: inherit; } a:focus-visible { outline: 3px solid #1b1b1b; }
@media print { body { margin: 0; max-width: none; } .sheets figure { flex: 1 1 45%; } tr { break-inside: avoid; } thead { display: table-header-group; } }
"""  # noqa: E501


def report(source: Puzzle, names: tuple[str, str], comparison: Comparison, page: Page | None) -> bytes:
    """The report; `names` are those of the proof and of the source file, `page` is the page that it shows."""
    title = f"{names[0]} against {names[1]}"
    body = [
        f"<h1>{escape(title)}</h1>",
        f"<p><strong>{_headline(comparison)}</strong></p>",
        *_notes(comparison),
        '<div class="sheets">',
        *([] if page is None else _proof(page, comparison)),
        *_source(source),
        "</div>",
        *_table("Differences", comparison, comparison.differences),
        *_table("To look at", comparison, comparison.queries),
    ]
    policy = "default-src 'none'; img-src data:; style-src 'unsafe-inline'"
    head = (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{escape(title)}</title>\n<style>{_STYLE}</style>\n</head>\n<body>\n<main>\n"
    )
    return (head + "\n".join(body) + "\n</main>\n</body>\n</html>\n").encode("utf-8", "xmlcharrefreplace")


def _headline(comparison: Comparison) -> str:
    differ, look = len(comparison.differences), len(comparison.queries)
    if comparison.verdict == "same":
        return "Same: the proof is as the source, and nothing is in doubt."
    told = [f"{differ} difference{'' if differ == 1 else 's'}"] if differ else ["no difference that is sure"]
    return f"{comparison.verdict.capitalize()}: {told[0]}, {look} to look at."


def _notes(comparison: Comparison) -> Iterator[str]:
    for note in dict.fromkeys(finding.note for finding in comparison.differences if finding.note):
        yield f"<p>Note: {escape(note)}.</p>"


def _table(heading: str, comparison: Comparison, findings: Sequence[Finding]) -> Iterator[str]:
    if not findings:
        return
    yield f"<h2>{heading}</h2>"
    yield "<table><thead><tr>"
    for name in ("No.", "What", "Why", "On the proof", "In the source", "Page", "Item"):
        yield f'<th scope="col">{name}</th>'
    yield "</tr></thead><tbody>"
    for number, finding in comparison.numbered():
        if any(finding is one for one in findings):
            yield _row(number, finding)
    yield "</tbody></table>"


def _row(number: int, finding: Finding) -> str:
    sign = sign_of(finding)
    label = f'<a href="#frame-{number}">{number}</a>' if finding.where is not None else str(number)
    cells = [
        f'<th scope="row">{label}</th>',
        f'<td style="color: {sign.colour}"><strong>{sign.word}</strong></td>',
        f"<td>{escape(finding.why)}</td>",
        f"<td>{_value(finding.found)}</td>",
        f"<td>{_value(finding.expected)}</td>",
        f"<td>{finding.page or ''}</td>",
        f"<td><code>{escape(finding.item or '')}</code></td>",
    ]
    return f'<tr id="finding-{number}">{"".join(cells)}</tr>'


def _value(value: Any) -> str:
    if value is None:
        return "nothing"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return escape(", ".join(map(str, value)))
    if not isinstance(value, dict):
        return escape(str(value))
    fields = (f"{key} {_value(part)}" for key, part in value.items() if key != "kind")
    return escape(str(value.get("kind", ""))) + ("<br>" if "kind" in value else "") + "; ".join(fields)


def _proof(page: Page, comparison: Comparison) -> Iterator[str]:
    shown = displayed_picture(page)
    if shown.width > _WIDEST:
        shown = shown.resize((_WIDEST, round(shown.height * _WIDEST / shown.width)), Image.Resampling.LANCZOS)
    data = io.BytesIO()
    shown.save(data, format="JPEG", quality=80)
    picture_data = base64.b64encode(data.getvalue()).decode("ascii")
    width, height = page.frame.width, page.frame.height
    label = f"Page {page.number} of the proof with numbered frames"
    yield f'<figure><svg role="group" aria-label="{label}" viewBox="0 0 {width:.2f} {height:.2f}">'
    yield f'<image width="{width:.2f}" height="{height:.2f}" href="data:image/jpeg;base64,{picture_data}"/>'
    tags = Tags(width)
    for number, finding in comparison.numbered():
        if finding.page == page.number and finding.where is not None:
            yield from _frame(number, finding, tags)
    yield f"</svg><figcaption>Page {page.number} of the proof</figcaption></figure>"


def _frame(number: int, finding: Finding, tags: Tags) -> Iterator[str]:
    size = tags.width / 60
    sign = sign_of(finding)
    assert finding.where is not None
    points = " ".join(f"{x:.2f},{y:.2f}" for x, y in finding.where)
    dash = " ".join(f"{length * 2.5:g}" for length in sign.dash)
    text = f"{number} {sign.word}"
    wide = 0.62 * size * len(text) + size * 0.4
    left, top, _, foot = tags.place(finding.where, wide, size * 1.3)
    yield f'<a href="#finding-{number}" aria-label="{escape(text)}">'
    yield f"<title>{escape(f'{text}: {finding.why}')}</title>"
    yield (
        f'<polygon class="frame" id="frame-{number}" points="{points}" stroke="{sign.colour}"'
        + (f' stroke-dasharray="{dash}"' if dash else "")
        + ' pointer-events="all"/>'
    )
    yield f'<rect x="{left:.2f}" y="{top:.2f}" width="{wide:.2f}" height="{size * 1.3:.2f}"'
    yield f' fill="{sign.colour}"/>'
    yield f'<text x="{left + size * 0.2:.2f}" y="{foot - size * 0.3:.2f}" font-size="{size:.2f}"'
    yield f' font-family="sans-serif" font-weight="bold" fill="#ffffff">{escape(text)}</text></a>'


def _source(source: Puzzle) -> Iterator[str]:
    drawn = to_svg(picture(source)).decode("utf-8")
    drawn = drawn[drawn.index("<svg") :]
    yield f"<figure>{drawn.replace('<svg ', '<svg role=' + chr(34) + 'img' + chr(34) + ' ', 1)}"
    yield "<figcaption>The source as drawn from its file</figcaption></figure>"
