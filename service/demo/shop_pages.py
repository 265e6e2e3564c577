"""The pages of the demo shop, as text: what stands in them is escaped here, and nothing in them is inline but words."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape


@dataclass(frozen=True)
class Product:
    spec: str
    name: str
    about: str
    quantities: tuple[str, ...]


PRODUCTS = {
    one.spec: one
    for one in (
        Product("business-card-85x55", "Business cards", "85 × 55 mm, one or two sides, uncoated board.", ("100", "250", "500")),
        Product("letterhead-a4", "Letterheads", "A4, one side, on writing paper.", ("250", "500", "1000")),
        Product("booklet-a5-stapled", "Booklets", "A5, stapled twice in the fold.", ("50", "100", "250")),
    )
}


def policy(service: str) -> str:
    """What the shop has to let in of the service: its script, and the uploads; for a form without a script, the form's target."""
    return (
        f"default-src 'none'; img-src data:; style-src 'self'; script-src 'self' {service}; connect-src 'self' {service}; "
        f"form-action 'self' {service}; base-uri 'none'; frame-ancestors 'none'"
    )


def start(service: str) -> str:
    goods = "".join(
        f'<li><a href="/order/{one.spec}">{escape(one.name)}</a><br>{escape(one.about)}</li>' for one in PRODUCTS.values()
    )
    return _page(
        "Copperbeck Press",
        f"""<h1>What shall we print?</h1>
<ul class="goods">{goods}</ul>
<h2>The other way</h2>
<p><a href="/studio">Tidewick Studio’s upload form</a> is plain HTML without a script: it leads to the report.</p>
<p>Both send files to the service at <a href="{escape(service)}">{escape(service)}</a>.</p>""",
    )


def ordering(product: Product, service: str, token: str) -> str:
    amounts = "".join(
        f'<label><input type="radio" name="quantity" value="{one}"{" checked" if not n else ""}>{one}</label>'
        for n, one in enumerate(product.quantities)
    )
    return _page(
        product.name,
        f"""<h1>{escape(product.name)}</h1>
<p>{escape(product.about)}</p>
<form method="post" action="/order/{product.spec}">
<fieldset><legend>How many</legend>{amounts}</fieldset>
<span class="label">Your print file</span>
<check-upload name="check" service="{escape(service)}" token="{escape(token)}" data-product="{product.spec}"
  accept-verdicts="conforming conforming_with_observations"></check-upload>
<noscript><p class="mark">Sending a file here needs JavaScript. <a href="/studio">This form</a> does without.</p></noscript>
<button>Order</button>
</form>""",
        f'<script src="{escape(service)}/static/check-upload.js" defer></script>\n<script src="/shop.js" defer></script>\n',
    )


def ordered(product: Product, quantity: str, file: str | None, check_id: str) -> str:
    return _page(
        "Thank you",
        f"""<h1>Thank you, Halyard Lane Bakery</h1>
<p class="mark">{escape(quantity)} × {escape(product.name)} from {escape(file or "your file")}.
We send a proof before anything is printed.</p>
<p>The order carries the check <code>{escape(check_id)}</code>.</p>
<p><a href="/">Order something else</a></p>""",
    )


def refused(product: Product, why: str) -> str:
    return _page(
        "Not ordered",
        f"""<h1>Not ordered</h1>
<p class="mark">{escape(why)}</p>
<p><a href="/order/{product.spec}">Back to {escape(product.name.lower())}</a></p>""",
    )


def studio(service: str) -> str:
    """The form stands under /docs/upload-form too."""
    options = "".join(f'<option value="{one.spec}">{escape(one.name)}</option>' for one in PRODUCTS.values())
    return _page(
        "Send us your file",
        f"""<h1>Send us your file</h1>
<p>Tidewick Studio looks it over with you. What a machine can see, you see at once.</p>
<form action="{escape(service)}/v1/checks" method="post" enctype="multipart/form-data">
<input type="hidden" name="answer" value="report">
<p><label><span class="label">What it is to be</span><select name="spec">{options}</select></label></p>
<p><label><span class="label">Your print file (PDF)</span>
<input type="file" name="file" accept="application/pdf" required></label></p>
<button>Check</button>
</form>""",
    )


def closed() -> str:
    return _page("Just now not", "<h1>Just now not</h1><p>The service that looks at files does not answer. Try again soon.</p>")


def nothing_here() -> str:
    return _page("Nothing here", '<h1>Nothing here</h1><p><a href="/">To the shop</a></p>')


def _page(title: str, main: str, scripts: str = "") -> str:
    return f"""<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{escape(title)} · Copperbeck Press (demo)</title>
<link rel="icon" href="data:,">
<link rel="stylesheet" href="/style.css">
{scripts}</head>
<body>
<header><a class="house" href="/">Copperbeck Press</a> <a href="/studio">Tidewick Studio</a></header>
<main>
{main}
</main>
<footer>A demo: no such printer, no such studio, and nothing is printed.</footer>
</body>
</html>
"""
