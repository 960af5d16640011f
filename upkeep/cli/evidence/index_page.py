"""The index of a folder of evidence: one page that opens on a bare machine and takes nothing from outside it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from importlib.resources import files

from upkeep.cli.evidence.questions import Question
from upkeep.frozen import frozen
from upkeep.said import Said, said
from upkeep.wording.sentences import Reader, text


@frozen
class Answered:
    """A question with its answers: for each its words and its files, then what was not answered and why."""

    question: Question
    files: Sequence[tuple[str, Sequence[str]]]
    missing: Sequence[Said]

    def beside(self) -> Iterator[Said]:
        """What stands beside the files: what is missing, and what the plant shows itself."""
        if not self.files:
            yield said("Not answered by this book.")
        yield from self.missing
        if self.question.beside is not None:
            yield self.question.beside


def index_page(title: Said, facts: Sequence[Said], answered: Sequence[Answered], reader: Reader) -> str:
    """The page, in the language of a reader; names and texts of the plant stand in it as text."""
    from jinja2 import Environment

    template = files("upkeep.cli.evidence").joinpath("index.html.jinja").read_text(encoding="utf-8")
    questions = [
        {
            "asks": text(one.question.asks, reader),
            "files": one.files,
            "beside": [text(told, reader) for told in one.beside()],
        }
        for one in answered
    ]
    return (
        Environment(autoescape=True, trim_blocks=True)
        .from_string(template)
        .render(
            language=reader.language,
            title=text(title, reader),
            facts=[text(fact, reader) for fact in facts],
            questions=questions,
        )
    )
