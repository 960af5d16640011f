"""The gauges of one kind to choose from: by number, those that count first, the likely one chosen, no other ever."""

from __future__ import annotations

from tui.present.checking import gauge_text, numbered
from tui.widgets.folded_choice import LABEL_WIDTH, FoldedChoice
from upkeep.views.signing import GaugesForm
from upkeep.wording.sentences import Reader


class GaugeRows(FoldedChoice):
    """A folded choice of gauges that knows their ids."""

    def __init__(self, form: GaugesForm, reader: Reader, width: int = LABEL_WIDTH) -> None:
        self._ids = [choice.id for choice in form.choices]
        chosen = self._ids.index(form.likely) if form.likely in self._ids else None
        label = form.gauge_class[:1].upper() + form.gauge_class[1:]
        super().__init__(label, numbered(gauge_text(gauge, reader) for gauge in form.choices), chosen, reader, width)
        self.gauge_class = form.gauge_class

    @property
    def gauge(self) -> str | None:
        """The gauge chosen; None: none so far."""
        return None if self.chosen is None else self._ids[self.chosen]

    def choose_gauge(self, gauge: str) -> bool:
        """Chooses a gauge, and gives whether it is among these and they are in sight."""
        if gauge not in self._ids or not self.display:
            return False
        self.choose(self._ids.index(gauge))
        return True
