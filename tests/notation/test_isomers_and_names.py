"""Isomers by structure or name, and the table of names."""

from __future__ import annotations

import csv
from importlib.resources import files

import pytest

from redoxlib.errors import NotationError
from redoxlib.notation import Species, cas_number, names_of


def _rows() -> list[dict[str, str]]:
    with (files("redoxlib") / "data" / "names.csv").open(encoding="utf-8") as lines:
        return list(csv.DictReader(lines))


@pytest.mark.parametrize(
    ("text", "latex"),
    [
        ("fulminate", r"\ce{ONC^-}"),
        ("fulminate(aq)", r"\ce{ONC^-(aq)}"),
        ("cyanate", r"\ce{OCN^-}"),
        ("catechol", r"\ce{{catechol}}"),
        ("propan-2-ol", r"\ce{CH3CHOHCH3}"),
    ],
)
def test_latex_tells_an_isomer_by_its_structure_or_as_text(text: str, latex: str) -> None:
    """mhchem reads bare letters as symbols of elements; braces make them text."""
    species = Species.parse(text)
    assert species.latex() == latex
    assert species._repr_latex_() == f"${latex}$"


@pytest.mark.parametrize(
    ("isomer", "spellings"),
    [
        ("propan-2-ol", ["propan-2-ol", "isopropanol", "IPA", "(CH3)2CHOH", "CH3CHOHCH3", "CH3-CH(OH)-CH3"]),
        ("propan-1-ol", ["propan-1-ol", "n-propanol", "CH3CH2CH2OH", "C2H5CH2OH", "n-C3H7OH"]),
        ("acetone", ["acetone", "propan-2-one", "CH3COCH3", "(CH3)2CO"]),
        ("propanal", ["propanal", "propionaldehyde", "CH3CH2CHO", "C2H5CHO"]),
        ("ethanol", ["ethanol", "EtOH", "C2H5OH", "CH3CH2OH", "CH3–CH2–OH"]),
        ("dimethyl ether", ["dimethyl ether", "CH3OCH3", "(CH3)2O"]),
        ("acetaldehyde", ["acetaldehyde", "ethanal", "CH3CHO"]),
        ("acetic acid", ["acetic acid", "vinegar", "CH3COOH", "HC2H3O2", "CH3CO2H", "AcOH"]),
        ("methyl formate", ["methyl formate", "HCOOCH3"]),
        ("cyclohexanol", ["cyclohexanol", "C6H11OH"]),
        ("benzyl alcohol", ["benzyl alcohol", "C6H5CH2OH", "PhCH2OH"]),
        ("1-phenylethanol", ["1-phenylethanol", "C6H5CHOHCH3"]),
        ("acetophenone", ["acetophenone", "C6H5COCH3"]),
        ("ethane-1,2-diol", ["ethylene glycol", "HOCH2CH2OH", "(CH2OH)2", "C2H6O2"]),
        ("cyanate", ["cyanate", "OCN^-", "OCN-", "NCO⁻"]),
        ("fulminate", ["fulminate", "ONC^-"]),
        ("catechol", ["catechol"]),
    ],
)
def test_structures_and_names_tell_the_isomer(isomer: str, spellings: list[str]) -> None:
    read = [Species.parse(spelling) for spelling in spellings]
    assert {species.isomer for species in read} == {isomer}
    assert len(set(read)) == 1
    assert all(species.assumptions == () for species in read)
    assert all(Species.parse(str(species)) == species for species in read)


def test_isomers_differ() -> None:
    assert Species.parse("acetone") != Species.parse("propanal")
    assert Species.parse("OCN^-") != Species.parse("ONC^-")


@pytest.mark.parametrize(
    ("bare", "read_as", "among"),
    [
        ("C3H8O", "propan-2-ol", "propan-1-ol"),
        ("C3H6O", "acetone", "propanal"),
        ("C2H6O", "ethanol", "dimethyl ether"),
        ("C2H4O2", "acetic acid", "methyl formate"),
        ("CNO^-", "cyanate", "fulminate"),
        ("C3H7OH", "propan-2-ol", "propan-1-ol"),
    ],
)
def test_a_bare_formula_is_read_with_an_assumption(bare: str, read_as: str, among: str) -> None:
    species = Species.parse(bare)
    assert species.isomer == read_as
    (assumption,) = species.assumptions
    assert assumption.read_as == read_as
    assert among in assumption.other.split(" or ")


def test_a_composition_is_settled_as_its_bare_formula() -> None:
    assert Species.of({"C": 3, "H": 8, "O": 1}) == Species.parse("C3H8O")
    one = Species.of({"C": 3, "H": 8, "O": 1}, isomer="propan-1-ol")
    assert one == Species.parse("CH3CH2CH2OH")
    assert str(one) == "CH3CH2CH2OH"


def test_error_for_an_isomer_of_another_composition() -> None:
    with pytest.raises(NotationError) as caught:
        Species.of({"C": 3, "H": 6, "O": 1}, isomer="propan-1-ol")
    assert str(caught.value) == (
        "no isomer 'propan-1-ol' of this composition in the table of names\n"
        "  known: acetone, propanal, allyl alcohol, methyloxirane"
    )


@pytest.mark.parametrize(
    ("name", "formula"),
    [
        ("bleach", "NaClO"),
        ("Oxone", "K5H3S4O18"),
        ("ferrous sulfate heptahydrate", "FeSO4.7H2O"),
        ("Iron (III) chloride", "FeCl3"),
        ("permanganate ion", "MnO4^-"),
        ("potassium permanganate (s)", "KMnO4(s)"),
        ("2 sodium chloride", "NaCl"),
        ("7722-64-7", "KMnO4"),
        ("2KHSO5·KHSO4·K2SO4", "K5H3S4O18"),
        ("manganous ion", "Mn^2+"),
        ("TCCA", "C3Cl3N3O3"),
    ],
)
def test_names_and_labels(name: str, formula: str) -> None:
    assert Species.parse(name) == Species.parse(formula)


def test_error_for_a_misspelt_name_offers_the_neighbours() -> None:
    with pytest.raises(NotationError) as caught:
        Species.parse("isopropnol")
    assert str(caught.value) == (
        "unknown name 'isopropnol'\n  isopropnol\n  ^^^^^^^^^^\n  did you mean 'isopropanol' or 'propanol'?"
    )


def test_cas_numbers_and_names_whatever_the_phase() -> None:
    assert cas_number(Species.parse("KMnO4(aq)")) == "7722-64-7"
    assert cas_number(Species.parse("(CH3)2CHOH")) == "67-63-0"
    assert cas_number(Species.parse("ClNaO")) == "7681-52-9"
    assert cas_number(Species.parse("XeF6")) is None
    assert "propan-2-ol" in names_of(Species.parse("CH3CHOHCH3"))


def test_the_table_is_large_and_every_row_reads_as_it_says() -> None:
    rows = _rows()
    assert len({row["formula"] for row in rows}) >= 250
    for row in rows:
        species, meant = Species.parse(row["name"]), Species.parse(row["formula"])
        assert (species.atoms, species.charge) == (meant.atoms, meant.charge), row
        assert species.assumptions == (), row
        assert (species.isomer or "") == row["isomer"], row
        assert Species.parse(str(species)) == species, row


def test_cas_check_digits() -> None:
    numbers = {row["cas"] for row in _rows() if row["cas"]}
    assert len(numbers) > 350
    for number in numbers:
        digits = number.replace("-", "")
        weighted = sum(int(d) * place for place, d in enumerate(reversed(digits[:-1]), start=1))
        assert weighted % 10 == int(digits[-1]), number


def test_one_cas_number_means_one_substance() -> None:
    meant: dict[str, set[tuple[str, str]]] = {}
    for row in _rows():
        if row["cas"]:
            meant.setdefault(row["cas"], set()).add((row["formula"], row["isomer"]))
    assert {number: sorted(found) for number, found in meant.items() if len(found) > 1} == {}
