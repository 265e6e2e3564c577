"""The one page: every finding with its crops, filtered by rule or file, and the precision where judgements are given.

Buttons write a verdict into the row; 'Save' gives the CSV that `--judged` takes.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from html import escape

from tests.outside.desk.crops import Crop
from tests.outside.desk.judgements import VERDICTS, Precision, Said
from tests.outside.desk.rows import Row

_STYLE = """
body{font:13px/1.4 sans-serif;margin:1rem;background:#fff;color:#111}
article{border-top:2px solid #999;padding:.4rem 0;page-break-inside:avoid}
h2{font-size:14px;margin:0 0 .2rem}.must{color:#a00}.should{color:#065}
.crops{display:flex;flex-wrap:wrap;gap:6px}figure{margin:0}figcaption{font-size:11px;max-width:330px}
img{border:1px solid #bbb;display:block}code{font-size:11px;word-break:break-word}
.false,.wrong-number{background:#fdd}.noise{background:#ffd}.true{background:#efe}
table{border-collapse:collapse}td,th{border:1px solid #bbb;padding:2px 6px;text-align:right}td:first-child{text-align:left}
nav{position:sticky;top:0;background:#fff;padding:.3rem;border-bottom:1px solid #999}
"""
_SCRIPT = """
const all=[...document.querySelectorAll('article')];
function show(){const r=rule.value,f=file.value,o=open_.checked;
 for(const a of all)a.hidden=(r&&a.dataset.rule!==r)||(f&&a.dataset.file!==f)||(o&&a.dataset.verdict);}
for(const one of [rule,file,open_])one.onchange=show;
document.body.addEventListener('click',e=>{const b=e.target.closest('button[data-say]');if(!b)return;
 const a=b.closest('article');a.dataset.verdict=b.dataset.say;a.className=b.dataset.say;});
save.onclick=()=>{const q=t=>'"'+(t||'').replaceAll('"','""')+'"';
 const rows=all.map(a=>[a.dataset.id,a.dataset.verdict,a.querySelector('input').value,a.dataset.measured].map(q).join(','));
 const l=document.createElement('a');l.download='judged.csv';
 l.href=URL.createObjectURL(new Blob(['id,verdict,why,measured\\n'+rows.join('\\n')+'\\n']));l.click();};
"""


def desk_page(
    title: str, shown: Sequence[tuple[Row, Sequence[Crop]]], said: Mapping[str, Said], precision: Iterable[Precision], notes: str
) -> str:
    rules, files = (sorted({getattr(row, key) for row, _ in shown}) for key in ("rule", "file"))
    choices = _choice("rule", rules) + _choice("file", files)
    return (
        f"<!doctype html><meta charset=utf-8><title>{escape(title)}</title><style>{_STYLE}</style><h1>{escape(title)}</h1>"
        f"{precision_table(precision) if said else ''}{notes}"
        f"<nav>{choices}<label><input type=checkbox id=open_> only those not judged</label>"
        " <button id=save>Save judged.csv</button>"
        " <small>place: magenta; trim: blue; bleed: orange</small></nav>"
        f"{''.join(_article(row, crops, said.get(row.id)) for row, crops in shown)}<script>{_SCRIPT}</script>"
    )


def _choice(name: str, of: Iterable[str]) -> str:
    options = "".join(f"<option>{escape(one)}</option>" for one in of)
    return f"<select id={name}><option value=''>every {name}</option>{options}</select> "


def precision_table(precision: Iterable[Precision]) -> str:
    head = "".join(f"<th>{one}" for one in ("of", *VERDICTS, "not judged", "precision"))
    rows = "".join(
        f"<tr><td>{escape(one.of)}{''.join(f'<td>{one.counts[verdict]}' for verdict in VERDICTS)}<td>{one.unjudged}"
        f"<td>{'' if one.share is None else f'{one.share:.3f}'}"
        for one in precision
    )
    return f"<table><tr>{head}{rows}</table>"


def _article(row: Row, crops: Sequence[Crop], said: Said | None) -> str:
    stale = said is not None and said.measured not in ("", row.measured)
    verdict = said.verdict if said and not stale else ""
    earlier = f"<p>Judged {said.verdict} when it measured {escape(said.measured)}" if said and stale else ""
    buttons = "".join(f"<button data-say={one}>{one}</button>" for one in VERDICTS)
    return (
        f'<article class="{verdict}" data-id="{escape(row.id)}" data-rule="{row.rule}" data-file="{escape(row.file)}" '
        f'data-verdict="{verdict}" data-measured="{escape(row.measured)}">'
        f"<h2>{escape(row.file)} · <span class={row.level}>{row.rule} · {row.level}</span> · {escape(row.sheet)}</h2>"
        f"<div>{escape(row.message)} <i>{escape(row.remedy)}</i></div>"
        f"<code>measured {escape(row.measured)} · required {escape(row.required)}</code>{earlier}"
        f"<div class=crops>{''.join(_figure(one) for one in crops)}</div>"
        f'{buttons} <input size=60 value="{escape(said.why if said else "")}" placeholder="why"></article>'
    )


def _figure(crop: Crop) -> str:
    image = f'<img src="{crop.data_uri}" alt="">' if crop.data_uri else ""
    return f"<figure>{image}<figcaption>{escape(crop.title)}</figcaption></figure>"
