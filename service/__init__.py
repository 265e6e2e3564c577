"""print-spec-service: measures a print PDF and judges it against a printer's spec sheet.

This module is imported by every part, the measuring processes included: it imports nothing before `create_app` is called.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from flask import Flask

    from service.settings import Settings
    from service.wiring import Parts


FORM_BYTES = 2**20
"""What a request may have around its file."""


def create_app(settings: Settings | None = None, parts: Parts | None = None) -> Flask:
    """The service as a WSGI application; settings come from the environment unless they are given.

    `parts` are for tests; whoever gives them closes them. Raises `SettingsRefused`.
    """
    from flask import Flask
    from werkzeug.middleware.proxy_fix import ProxyFix

    from service.api.http import digests, headers, languages
    from service.api.http.blueprint import WholeForms
    from service.api.http.blueprint import parts as running
    from service.api.http.callers import access, quotas, signed_in
    from service.api.http.json_text import JsonText
    from service.api.reference import metrics
    from service.api.tokens import cross_origin
    from service.api.uploads import tus
    from service.settings import read_settings
    from service.wiring import make_parts

    parts = parts or make_parts(settings or read_settings())
    app = Flask(__name__, static_folder=None)
    app.extensions["print-spec"] = parts
    app.config["MAX_CONTENT_LENGTH"] = parts.settings.maximum_upload_bytes + FORM_BYTES
    app.config["MAX_FORM_MEMORY_SIZE"] = FORM_BYTES
    app.config["MAX_FORM_PARTS"] = 50
    app.json = JsonText(app)
    app.request_class = WholeForms
    metrics.register(app)  # called after the one below: what is registered last comes first
    headers.register(app)
    languages.register(app)
    cross_origin.register(app)
    access.register(app)
    signed_in.register(app)
    quotas.register(app)
    digests.register(app)
    tus.register(app)
    app.before_request(lambda: running().begin())
    _add_rooms(app)
    if proxies := parts.settings.proxies:
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=proxies, x_proto=proxies)  # type: ignore[method-assign]
    return app


def _add_rooms(app: Flask) -> None:
    """Every address: the interface, which is described, and the pages for people, which are not."""
    from service.api.accounts import audit
    from service.api.catalogues import catalogues
    from service.api.checks import checks, events, measurements
    from service.api.proofs import dummies, pictures, plates, previews, reports, single_pages
    from service.api.reference import metrics, rules, system
    from service.api.reference.openapi import make_api
    from service.api.specs import drawings, matches, readings, spec_schema, specs, template_readings
    from service.api.specs.addresses import SpecId
    from service.api.tokens import upload_tokens
    from service.api.uploads import uploads
    from service.web import embedding, sheet_pages, signing_in
    from service.web import pages as web_pages
    from service.web.docs import guides, reference
    from service.web.writing import writing_pages

    app.url_map.converters["spec_id"] = SpecId
    api = make_api(app)
    for room in (
        spec_schema,
        matches,
        readings,
        template_readings,
        specs,
        drawings,
        catalogues,
        checks,
        events,
        measurements,
        uploads,
        upload_tokens,
        audit,
        pictures,
        plates,
        previews,
        dummies,
        single_pages,
        reports,
        rules,
        system,
    ):
        api.register_blueprint(room.blueprint)
    app.register_blueprint(system.pages)
    app.register_blueprint(metrics.blueprint)
    app.register_blueprint(embedding.blueprint)
    app.register_blueprint(web_pages.blueprint)
    app.register_blueprint(sheet_pages.blueprint)
    app.register_blueprint(signing_in.blueprint)
    app.register_blueprint(reference.blueprint)
    app.register_blueprint(guides.blueprint)
    app.register_blueprint(writing_pages.blueprint)
