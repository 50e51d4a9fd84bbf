"""Layers of a PDF that are not shown hold nothing that is printed."""

from __future__ import annotations

from pathlib import Path

import pikepdf
import pytest
from pikepdf import Array, Dictionary, Name

from ingest.page import Page
from ingest.pdf import pdf_pages

CONTENT = b"""0 0 1 RG 10 10 m 90 10 l S
/OC /Shown BDC 20 20 m 80 20 l S EMC
/OC /Notes BDC 30 30 m 70 30 l S q 1 0 0 1 0 0 cm /F0 Do Q EMC
q /F1 Do Q"""
IN_FORM = b"/OC /Notes BDC 40 40 m 60 40 l S EMC 45 50 m 55 50 l S"


def drawn(path: Path, usual: Dictionary) -> list[float]:
    """How long the lines are that a page with two layers shows."""
    pdf = pikepdf.new()
    page = pdf.add_blank_page(page_size=(100, 100))
    shown, notes = (pdf.make_indirect(Dictionary(Type=Name.OCG, Name=name)) for name in ("Shown", "Notes"))
    layers = Dictionary(Shown=shown, Notes=notes)
    box = Array([0, 0, 100, 100])
    forms = {
        f"/F{number}": pdf.make_stream(
            body, Type=Name.XObject, Subtype=Name.Form, BBox=box, Resources=Dictionary(Properties=layers)
        )
        for number, body in enumerate((b"35 60 m 65 60 l S", IN_FORM))
    }
    page.Resources = Dictionary(Properties=layers, XObject=Dictionary(forms))
    page.Contents = pdf.make_stream(CONTENT)
    for key in ("ON", "OFF"):
        if f"/{key}" in usual:
            usual[f"/{key}"] = Array([{"Shown": shown, "Notes": notes}[str(name)] for name in usual[f"/{key}"]])
    pdf.Root.OCProperties = Dictionary(OCGs=Array([shown, notes]), D=usual)
    pdf.save(path)
    found = next(iter(pdf_pages(path, "0" * 64)))
    assert isinstance(found, Page) and found.vectors is not None
    return sorted(round(p.subpaths[0][1][0] - p.subpaths[0][0][0]) for p in found.vectors.paths)


@pytest.mark.parametrize(
    "usual",
    [Dictionary(OFF=Array(["Notes"])), Dictionary(BaseState=Name.OFF, ON=Array(["Shown"]))],
    ids=["off", "all off but one"],
)
def test_what_stands_in_a_layer_that_is_off_is_not_drawn(tmp_path: Path, usual: Dictionary) -> None:
    assert drawn(tmp_path / "page.pdf", usual) == [10, 60, 80]


def test_layers_that_are_on_are_drawn(tmp_path: Path) -> None:
    assert drawn(tmp_path / "page.pdf", Dictionary()) == [10, 20, 30, 40, 60, 80]
