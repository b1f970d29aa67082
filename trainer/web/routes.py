"""Our own few addresses: the first page, the style sheet, fonts and icon, and the session cookie.

A page script talks over a websocket and cannot set a cookie; so ``/session`` takes the one-time ticket of a sign-in and
answers with the cookie, or drops it.
"""

from __future__ import annotations

import re
from functools import cache

from starlette.requests import Request
from starlette.responses import FileResponse, HTMLResponse, RedirectResponse, Response
from starlette.routing import BaseRoute, Route

from trainer import settings
from trainer.actions import devices, signing_in
from trainer.errors import TrainerError
from trainer.web import cached, look, pages
from trainer.web.headers import index_html

__all__ = ["DEVICE_COOKIE", "SESSION_COOKIE", "TICKET_HEADER", "routes"]

SESSION_COOKIE = "trainer_session"
DEVICE_COOKIE = "trainer_device"
TICKET_HEADER = "x-trainer-ticket"
_DEVICE_KEPT_S = 400 * 24 * 3600
_FONT = re.compile(r"[a-z0-9-]+\.woff2")
_DAY = {"cache-control": "public, max-age=86400"}


def routes() -> list[BaseRoute]:
    """Every address of ours, before Streamlit's."""
    root, *others = pages.PAGES
    first_pages = [Route(path, _first_page) for path in ("/", *(f"/{page.url}" for page in others))]
    return [
        *first_pages,
        Route(f"/{root.url}", _to_root),
        Route("/assets/style.css", _style),
        Route("/assets/icon.svg", _icon),
        Route("/assets/fonts/{name}", _font),
        Route("/session", _session, methods=["POST", "DELETE"]),
    ]


def _first_page(_request: Request) -> Response:
    return HTMLResponse(_page(), headers={"cache-control": "no-cache"})


def _to_root(request: Request) -> Response:
    """The page that stands at the root, asked for by its name: Streamlit knows it by the empty address only."""
    steps = f"?{request.url.query}" if request.url.query else ""
    return RedirectResponse(f"/{steps}", headers={"cache-control": "no-cache"})


@cache
def _page() -> str:
    """Streamlit's first page with our name, icon, font and style sheet, so that the first paint is already ours."""
    name = cached.all_words()["en"].say("common.name")
    needs = "".join(f"<p>{words.say('common.needs-script')}</p>" for words in cached.all_words().values())
    head = (
        f"<title>{name}</title>"
        '<link rel="icon" type="image/svg+xml" href="/assets/icon.svg">'
        '<link rel="preload" as="font" type="font/woff2" crossorigin'
        ' href="/assets/fonts/atkinson-hyperlegible-next-latin-wght-normal.woff2">'
        '<link rel="stylesheet" href="/assets/style.css">'
    )
    page = re.sub(r"<!--.*?-->", "", index_html(), flags=re.DOTALL)
    page = re.sub(r"<title>.*?</title>", "", page)
    page = re.sub(r'<link\s+rel="(?:shortcut icon|preload|service-desc)"[^>]*>', "", page)
    page = re.sub(r"<noscript>.*?</noscript>", f"<noscript>{needs}</noscript>", page, flags=re.DOTALL)
    return page.replace("</head>", f"{head}</head>").strip()


def _style(_request: Request) -> Response:
    text = look.variables() + (settings.read().app_root / "assets" / "style.css").read_text(encoding="utf-8")
    return Response(text, media_type="text/css", headers={"cache-control": "no-cache"})


def _icon(_request: Request) -> Response:
    return FileResponse(settings.read().app_root / "assets" / "icon.svg", headers=_DAY)


def _font(request: Request) -> Response:
    name = request.path_params["name"]
    path = settings.read().app_root / "assets" / "fonts" / name
    if not _FONT.fullmatch(name) or not path.is_file():
        return Response(status_code=404)
    return FileResponse(path, media_type="font/woff2", headers=_DAY)


def _session(request: Request) -> Response:
    """204 with the cookie set or dropped; 403 for whoever is not our own page with a good ticket."""
    if not _is_own_page(request):
        return Response(status_code=403)
    try:
        return _drop_cookie(request) if request.method == "DELETE" else _set_cookie(request)
    except TrainerError:
        return Response(status_code=503)


def _is_own_page(request: Request) -> bool:
    """Browsers send Origin with every POST and DELETE, and no other site's page can add the header of ours."""
    origin = request.headers.get("origin", "")
    is_same = origin.partition("://")[2] == request.headers.get("host") != ""
    return is_same and bool(request.headers.get(TICKET_HEADER))


def _set_cookie(request: Request) -> Response:
    desk = cached.visitor_desk()
    value = signing_in.redeem(desk, request.headers[TICKET_HEADER])
    if value is None:
        return Response(status_code=403)
    answer = _empty()
    # No max_age: gone with the browser; how long it is good the store decides.
    _put(answer, request, SESSION_COOKIE, value)
    if not devices.is_known(desk, request.cookies.get(DEVICE_COOKIE)):
        _put(answer, request, DEVICE_COOKIE, devices.new_device(desk), _DEVICE_KEPT_S)
    return answer


def _drop_cookie(request: Request) -> Response:
    desk = cached.visitor_desk()
    session = signing_in.from_cookie(desk, request.cookies.get(SESSION_COOKIE))
    if session:
        signing_in.sign_out(desk, session)
    answer = _empty()
    answer.delete_cookie(
        SESSION_COOKIE, path="/", httponly=True, samesite="strict", secure=request.url.scheme == "https"
    )
    return answer


def _empty() -> Response:
    return Response(status_code=204, headers={"cache-control": "no-store"})


def _put(answer: Response, request: Request, name: str, value: str, max_age: int | None = None) -> None:
    is_safe_line = request.url.scheme == "https"
    answer.set_cookie(name, value, max_age=max_age, path="/", httponly=True, samesite="strict", secure=is_safe_line)
