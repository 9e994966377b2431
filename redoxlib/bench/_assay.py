"""From a titration of an ageing bottle to the job that is planned with it.

Verbs: assayed.  May import: bottles, job and below.
"""

from __future__ import annotations

from dataclasses import replace

from redoxlib.bottles import assay_by_titration, read_bottle
from redoxlib.errors import DomainError
from redoxlib.job import Job, split_shelf
from redoxlib.quantity import Quantity
from redoxlib.routes import bare

__all__ = ["assayed"]


def assayed(
    job: Job,
    label: str,
    *,
    titrant: Quantity,
    titre: Quantity,
    sample: Quantity,
    dilution: float = 1.0,
) -> Job:
    """Put the strength that a titration shows into a job, in place of what the label says.

    Parameters
    ----------
    label : str
        Of the bottle titrated, as in the job, or as it would stand there.
    titrant, titre, sample : Quantity
        [mol/L], [mL], and [mL] or [g] of the bottle that was titrated.
    dilution : float
        Volume the sample was made up to over the aliquot titrated.

    Raises
    ------
    DomainError
        When the oxidant is only part of what the bottle holds, so that its strength is no strength of it.
    MissingDataError
        When no titration is tabulated for it.

    Examples
    --------
    >>> job = Job("Br^- -> Br2", bottles=["hydrogen peroxide 30 % w/w"])
    >>> aged = assayed(job, "hydrogen peroxide 30 % w/w", titrant=Quantity(0.0200, "mol/L"),
    ...     titre=Quantity(36.1, "mL"), sample=Quantity(1.00, "mL"), dilution=5.0)
    >>> aged.bottles
    ('H2O2 9.025 mol/L',)
    """
    amount, name = split_shelf(label)
    bottle = read_bottle(name)
    if bare(bottle.active) != bare(bottle.solute):
        raise DomainError(
            f"{label!r} holds {bottle.active} as part of {bottle.solute}",
            hint="state the strength found as % w/w of what the bottle holds",
        )
    found = assay_by_titration(
        bottle.active, titrant=titrant, titre=titre, sample=sample, dilution=dilution
    ).strength
    new = f"{bare(bottle.solute)} {found.value:.4g} {found.unit}"
    read_bottle(new)
    if amount is not None:
        new = f"{amount} of {new}"
    kept = tuple(b for b in job.bottles if bare(read_bottle(split_shelf(b)[1]).solute) != bare(bottle.solute))
    return replace(job, bottles=(*kept, new))
