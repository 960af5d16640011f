"""The index of a folder of evidence: one page that opens on a bare machine and takes nothing from outside it."""

from __future__ import annotations

from collections.abc import Sequence
from html import escape

from upkeep.cli.evidence.questions import Question
from upkeep.frozen import frozen
from upkeep.said import Said, said
from upkeep.wording.sentences import Reader, text

_PAGE = """<!doctype html>
<html lang="{language}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">
<title>{title}</title><style>
body {{ font: 16px/1.5 sans-serif; max-width: 50em; margin: 2em auto; padding: 0 1em; color: #000; background: #fff }}
li {{ margin: 0 0 1em }} code {{ background: #eee; padding: 0 .2em }}
.none {{ border-left: 4px solid #000; padding-left: .5em }}
</style></head><body><h1>{title}</h1>
{body}
</body></html>
"""


@frozen
class Answered:
    """A question with its answers: for each its words and its files, then what was not answered and why."""

    question: Question
    files: Sequence[tuple[str, Sequence[str]]]
    missing: Sequence[Said]


def index_page(title: Said, facts: Sequence[Said], answered: Sequence[Answered], reader: Reader) -> str:
    """The page, in the language of a reader."""

    def told(sentence: Said) -> str:
        return escape(text(sentence, reader))

    body = [f"<p>{told(fact)}</p>" for fact in facts]
    body.append(f"<ol>{''.join(_question(one, told) for one in answered)}</ol>")
    return _PAGE.format(language=escape(reader.language), title=told(title), body="\n".join(body))


def _question(one: Answered, told: object) -> str:
    assert callable(told)
    rows = [f"<li><strong>{told(one.question.asks)}</strong>"]
    for words, files in one.files:
        links = " &middot; ".join(f'<a href="{escape(file)}">{escape(file.rpartition("/")[2])}</a>' for file in files)
        rows.append(f"<br><code>{escape(words)}</code>: {links}")
    if not one.files:
        rows.append(f'<p class="none">{told(said("Not answered by this book."))}</p>')
    for why in (*one.missing, *([one.question.beside] if one.question.beside else [])):
        rows.append(f'<p class="none">{told(why)}</p>')
    return "".join(rows) + "</li>\n"
