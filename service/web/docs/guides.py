"""`/docs/…`: pages that lead from nothing to a working call, and tables of what there is."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from flask import Blueprint, Response

from service.api.http.problems import Problem
from service.api.reference.openapi import called_address
from service.language.glossary import GLOSSARY
from service.language.levels import ASKED
from service.language.spoken import LANGUAGES, say, to_say
from service.rules.reference import reference
from service.settings import table
from service.sheets.catalogue import stored_folder
from service.web.docs.rendering import PAGES, at_address, written
from service.web.pages import page_answer

blueprint = Blueprint("guides", __name__)


@dataclass(frozen=True)
class Guide:
    name: str
    title: str
    about: str = ""


GUIDES = (
    Guide("ordering-page", to_say("An online ordering page"), to_say("A token, an element in the form, a look at the check.")),
    Guide("upload-form", to_say("A studio's upload form"), to_say("Plain HTML that leads to the report.")),
    Guide("script", to_say("A script"), to_say("curl, Python, any other language; long checks; what goes wrong.")),
    Guide("results", to_say("What comes back"), to_say("Verdicts, findings, rules, places.")),
    Guide("sheets", to_say("Sheets of your own"), to_say("From a printer's text to a sheet that is kept.")),
    Guide("desk", to_say("On the desk"), to_say("The same without a server, from the command line.")),
    Guide("accounts", to_say("Accounts and keys"), to_say("Who may do what, and how much, where several share a service.")),
    Guide("cautions", to_say("Cautions"), to_say("What a result is not, and what to keep in mind.")),
)
REFERENCES = (
    Guide("rules", to_say("The rules")),
    Guide("sheet-format", to_say("The format of a sheet")),
    Guide("settings", to_say("Settings")),
    Guide("words", to_say("Words of the trade")),
)


@blueprint.route("/docs/<name>")
def guide(name: str) -> Response:
    found = next((one for one in (*GUIDES, *REFERENCES) if one.name == name), None)
    if found is None:
        raise Problem("not-found", say("There is nothing at {path}.", path=f"/docs/{name[:60]}"))
    return _TABLES[name](found) if name in _TABLES else _written(found, PAGES / f"{name}.md")


def _written(found: Guide, file: Path) -> Response:
    text = written(file)
    return page_answer("docs/guide.html", title=say(found.title), body=at_address(text.html, called_address()), guides=GUIDES)


def _rules(_: Guide) -> Response:
    return page_answer("docs/rules.html", rules=reference(), levels=ASKED, guides=GUIDES)


def _settings(_: Guide) -> Response:
    return page_answer("docs/settings.html", rows=table(), guides=GUIDES)


def _words(_: Guide) -> Response:
    return page_answer("docs/words.html", glossary=GLOSSARY, languages=LANGUAGES, guides=GUIDES)


def _sheet_format(found: Guide) -> Response:
    return _written(found, stored_folder() / "README.md")


_TABLES: dict[str, Callable[[Guide], Response]] = {
    "rules": _rules, "settings": _settings, "words": _words, "sheet-format": _sheet_format,
}  # fmt: skip
