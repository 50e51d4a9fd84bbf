"""Answers the page: on this machine only, and only to who knows the token in its address."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from importlib.resources import files
from pathlib import Path
from threading import Lock
from typing import Annotated, Any

from fastapi import APIRouter, Body, FastAPI, HTTPException, Query, Request, Response
from starlette.middleware.trustedhost import TrustedHostMiddleware
from starlette.staticfiles import StaticFiles

from clueprint.desk import edits
from clueprint.desk.edits import Refused, State
from clueprint.desk.kinds import kinds_view
from clueprint.desk.scans import NoScan, scan
from clueprint.desk.sheet import Sheet
from clueprint.desk.shelf import Neighbour, Shelf
from clueprint.desk.views import proof_view, sheet_view
from clueprint.errors import ClueprintError
from schema.files import BadFile
from schema.reading import load_reading

POLICY = "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
HEADERS = {
    "Content-Security-Policy": POLICY,
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "Cache-Control": "no-store",
}
WAIT = 10.0
"""Seconds that a question for the proof is held open."""
AT_MOST = 200
"""Puzzles in one part of the list."""
MISSING, STALE, REFUSED = 404, 409, 422


class Desk:
    """The sheets that are open, and what the page may ask of them."""

    def __init__(self, shelf: Shelf) -> None:
        self.shelf = shelf
        self.turn = Lock()
        """Held by who changes or saves a puzzle: requests are answered in several threads."""
        self._sheets: dict[Path, Sheet] = {}

    @property
    def unsaved(self) -> list[str]:
        """The puzzles with changes that no file has, when what is being saved is saved."""
        with self.turn:
            return [path.name for path, sheet in self._sheets.items() if sheet.unsaved]

    def close(self) -> None:
        """Nothing is asked any more: let no proof go on."""
        for sheet in self._sheets.values():
            sheet.stop_proof()

    def file(self, name: str) -> Path:
        """The file of a reading; 404 for what is none."""
        try:
            return self.shelf.reading_file(name)
        except KeyError:
            raise HTTPException(MISSING, f"there is no reading {name}") from None

    def sheet(self, name: str, anew: bool = False) -> Sheet:
        """A puzzle that is worked on; `anew` reads its files again and forgets what was not saved."""
        path = self.file(name)
        if anew or path not in self._sheets:
            try:
                before, self._sheets[path] = self._sheets.get(path), Sheet(path)
                if before:
                    before.stop_proof()
            except (BadFile, ClueprintError, OSError) as fault:
                raise HTTPException(REFUSED, str(fault)) from None
        return self._sheets[path]

    def seen(self, name: str, version: int) -> Sheet:
        """A puzzle as the page shows it; 409 where it has changed since."""
        sheet = self.sheet(name)
        if sheet.version != version:
            raise HTTPException(STALE, "this puzzle was changed in another window")
        return sheet


Version = Annotated[int, Body()]


def application(desk: Desk, token: str) -> FastAPI:
    """The desk as a web application under `/TOKEN/`."""
    app = FastAPI(docs_url=None, redoc_url=None, openapi_url=None)
    app.add_middleware(TrustedHostMiddleware, allowed_hosts=["127.0.0.1", "localhost"])

    @app.middleware("http")
    async def _with_headers(request: Request, call: Callable[[Request], Awaitable[Response]]) -> Response:
        response = await call(request)
        response.headers.update(HEADERS)
        return response

    app.include_router(_reading(desk), prefix=f"/{token}/api")
    app.include_router(_writing(desk), prefix=f"/{token}/api")
    static = Path(str(files("clueprint.desk").joinpath("static")))
    app.mount(f"/{token}", StaticFiles(directory=static, html=True))
    return app


def _reading(desk: Desk) -> APIRouter:
    """What changes nothing."""
    router = APIRouter()

    @router.get("/puzzles")
    def puzzles(
        verdict: str = "", words: str = "", first: int = 0, count: Annotated[int, Query(le=AT_MOST)] = AT_MOST
    ) -> dict[str, Any]:
        part = desk.shelf.entries(verdict, words, first, count)
        return {"folder": desk.shelf.folder.name, "total": part.total, "puzzles": part.puzzles, "next": part.next}

    @router.get("/sheet/{name:path}")
    def sheet(name: str) -> dict[str, Any]:
        return sheet_view(desk.sheet(name))

    @router.get("/kinds")
    def kinds() -> list[dict[str, Any]]:
        return kinds_view()

    @router.get("/page/{name:path}")
    def of_page(name: str) -> list[Neighbour]:
        try:
            return desk.shelf.of_page(desk.file(name))
        except BadFile as fault:
            raise HTTPException(REFUSED, str(fault)) from None

    @router.get("/scan/{name:path}")
    def picture(name: str) -> Response:
        file = desk.file(name)
        try:
            data = scan(desk.shelf, file, load_reading(file))
        except (NoScan, BadFile) as fault:
            raise HTTPException(MISSING, str(fault)) from None
        return Response(data, media_type="image/jpeg")

    @router.get("/proof/{name:path}")
    def proof(name: str, version: int) -> dict[str, Any]:
        found = desk.seen(name, version)
        view = proof_view(found.proof(WAIT))
        return {**view, "verdict": found.verdict, "version": version}

    return router


def edited(state: State, wish: dict[str, Any]) -> State:
    """The state after a change that the page asks for. Raises Refused."""
    match wish:
        case {"do": "accept", "query": int(query)}:
            return edits.accept(state, query)
        case {"do": "choose", "item": str(item), "alternative": int(alternative)}:
            return edits.choose(state, item, alternative)
        case {"do": "given", "cell": str(cell), "digit": int() | None as digit}:
            return edits.put_given(state, edits.cell_named(cell), digit)
        case {"do": "add", "constraint": dict(constraint)}:
            return edits.add(state, [constraint])
        case {"do": "change", "item": str(item), "constraint": dict(constraint)}:
            return edits.change(state, item, [constraint])
        case {"do": "delete", "item": str(item)}:
            return edits.delete(state, item)
    raise Refused("this cannot be done")


def _writing(desk: Desk) -> APIRouter:
    """What the person does; only `save` touches files."""
    router = APIRouter()

    @router.post("/edit/{name:path}")
    def edit(name: str, version: Version, wish: Annotated[dict[str, Any], Body()]) -> dict[str, Any]:
        with desk.turn:
            sheet = desk.seen(name, version)
            try:
                sheet.become(edited(sheet.state, wish))
            except Refused as fault:
                raise HTTPException(REFUSED, str(fault)) from None
            return sheet_view(sheet)

    @router.post("/undo/{name:path}")
    def undo(name: str, version: Annotated[int, Body(embed=True)]) -> dict[str, Any]:
        with desk.turn:
            sheet = desk.seen(name, version)
            sheet.undo()
            return sheet_view(sheet)

    @router.post("/reload/{name:path}")
    def reload(name: str) -> dict[str, Any]:
        with desk.turn:
            return sheet_view(desk.sheet(name, anew=True))

    @router.post("/save/{name:path}")
    def save(name: str, version: Annotated[int, Body(embed=True)]) -> dict[str, Any]:
        with desk.turn:
            sheet = desk.seen(name, version)
            try:
                outcome = sheet.save()
            except OSError as fault:
                raise HTTPException(REFUSED, f"nothing was saved: {fault.strerror}") from None
            if outcome == "changed":
                raise HTTPException(STALE, "nothing was saved: the files were changed by somebody else meanwhile")
            return sheet_view(sheet)

    return router
