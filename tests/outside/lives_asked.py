"""Asks two reference libraries about lives: JSON in, JSON out.  Runs in a process of its own (tests/oracles.py).

In: "lives", a list of pairs (ages at failure, ages at suspension).  Out: for each of them, and for the data sets that
the library `reliability` carries, the Weibull fit of each library and the survival of Kaplan and Meier by `lifelines`.
"""

from __future__ import annotations

import json
import sys
import warnings
from typing import Any

from lifelines import KaplanMeierFitter, WeibullFitter
from reliability import Datasets
from reliability.Fitters import Fit_Weibull_2P

CARRIED = ("automotive", "electronics", "mixture", "defective_sample")


def answer(failures: list[float], suspensions: list[float]) -> dict[str, Any]:
    """What the libraries say about one sample of lives."""
    ages = [float(age) for age in (*failures, *suspensions)]
    failed = [True] * len(failures) + [False] * len(suspensions)
    weibull = WeibullFitter().fit(ages, failed)
    other = Fit_Weibull_2P(
        failures=list(failures),
        right_censored=list(suspensions) or None,
        show_probability_plot=False,
        print_results=False,
    )
    survival = KaplanMeierFitter().fit(ages, failed)
    bounds = survival.confidence_interval_
    steps = survival.event_table[survival.event_table["observed"] > 0].index
    return {
        "lives": [[float(age) for age in failures], [float(age) for age in suspensions]],
        "lifelines": [weibull.rho_, weibull.lambda_, weibull.log_likelihood_],
        "reliability": [float(other.beta), float(other.alpha), float(other.loglik)],
        "survival": [
            [float(age), float(survival.predict(age)), *(float(bound) for bound in bounds.loc[age])] for age in steps
        ],
    }


def main() -> None:
    """Answers for what is asked and for what is carried."""
    warnings.simplefilter("ignore")
    asked = json.load(sys.stdin)
    carried = {name: getattr(Datasets, name)() for name in CARRIED}
    json.dump(
        {
            "asked": [answer(*lives) for lives in asked["lives"]],
            "carried": {name: answer(data.failures, list(data.right_censored)) for name, data in carried.items()},
        },
        sys.stdout,
    )


if __name__ == "__main__":
    main()
