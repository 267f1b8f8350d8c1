"""axisproof match: what is proposed for a list, and that doubt keeps a proposal a comment."""

from __future__ import annotations

import random
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from axisproof import api
from axisproof.authoring.mapping_text import mapping_text
from axisproof.authoring.matching import LONGEST, Match, RowProposal
from axisproof.importing.mapping import REFERENCE, read_mapping
from axisproof.importing.single_export import ImportOptions
from axisproof.machine.schema import Leaf, axis_type, facts
from axisproof.numbers.units import UNITS, units_of
from hypothesis import given
from hypothesis import strategies as st

OWN = {
    path: field.type
    for path, field in facts(axis_type()).items()
    if isinstance(field.type, Leaf) and field.type.kind != "any" and not field.implied
}
"""Every single fact of an axis, by its path, which is the schema's own name."""


def matched(text: str, name: str = "list.csv") -> Match:
    """The match of a list of this text."""
    with TemporaryDirectory() as folder:
        path = Path(folder, name)
        path.write_text(text, "utf-8")
        return api.match(path)


def by_name(match: Match) -> dict[str, RowProposal]:
    """The proposals by the name of their row."""
    return {proposal.row.name: proposal for proposal in match.proposals}


def value_of(path: str) -> tuple[str, str]:
    """A value that a fact can have, and its unit."""
    leaf, field = OWN[path], facts(axis_type())[path]
    example = str(field.examples[0]) if field.examples else ""
    if leaf.kind == "quantity":
        if example:
            number, _, unit = example.partition(" ")
            return ("0.5" if "/" in number else number), unit  # a cell holds no fraction
        return "3000", "rpm"
    if leaf.kind in ("name", "flag"):
        return (leaf.names or ("true",))[0], ""
    if leaf.kind == "method":
        return "1", ""
    if leaf.kind == "date":
        return "2026-02-03", ""
    return example or ("7" if leaf.kind == "whole" else "A-1"), ""


def row_of(path: str) -> str:
    """A row whose name is the schema's own."""
    return ";".join((path, *value_of(path)))


NAMES_OF_AXES = ("gantry.partner", "differential.partner", "mechanics.tilted_by.axis")


@given(st.lists(st.sampled_from(sorted(OWN)), min_size=3, unique=True))
def test_names_of_the_schema_are_matched_wholly(paths: list[str]) -> None:
    found = matched("\n".join(("Parameter;Value;Unit", *map(row_of, paths))))
    assert {name: each.fact for name, each in by_name(found).items()} == {p: p for p in paths}
    doubtful = {each.fact: each.why for each in found.proposals if not each.active}
    for of_people in (REFERENCE, *NAMES_OF_AXES):  # whose sign, and whose name, no list tells
        doubtful.pop(of_people, None)
    assert all("beside it" in why for why in doubtful.values()), doubtful


LISTS = (
    "Rated motor speed;3000;rpm",
    "Max. motor speed;4500;rpm",
    "Rated motor current;2.1;A",
    "Pole pairs;4;",
    "Encoder resolution;20;bit",
    "2nd encoder resolution;20;bit",
    "Software limit -;-5;mm",
    "Software limit +;905;mm",
    "Following error window;2;mm",
    "Following error warning;1;mm",
    "Actual following error;0.1;mm",
    "Speed loop gain;30;1/s",
    "Position loop gain;30;1/s",
    "Home method;35;",
    "Brake release time;60;ms",
    "Max. jerk;20000;mm/s^3",
)


@given(st.randoms(use_true_random=False))
@pytest.mark.exhaustive
def test_the_order_of_rows_changes_nothing(dice: random.Random) -> None:
    rows = list(LISTS)
    dice.shuffle(rows)
    told = {}
    for each in (LISTS, rows):
        found = matched("\n".join(("Name;Value;Unit", *each)))
        told[tuple(each)] = {
            name: (proposal.fact, proposal.active, proposal.why)
            for name, proposal in by_name(found).items()
        }
    assert told[LISTS] == told[tuple(rows)]


@given(st.lists(st.tuples(st.sampled_from(LISTS), st.sampled_from(sorted(UNITS))), min_size=3))
def test_nothing_is_active_with_a_unit_of_another_kind(rows: list[tuple[str, str]]) -> None:
    lines = {row.split(";")[0]: f"{row.rsplit(';', 1)[0]};{unit}" for row, unit in rows}
    found = matched("\n".join(("Name;Value;Unit", *lines.values(), "Pole pairs;4;")))
    for proposal in found.proposals:
        leaf = OWN.get(proposal.fact)
        if not proposal.active or leaf is None or not proposal.row.unit:
            continue
        if leaf.kind == "quantity":
            assert proposal.row.unit in units_of(leaf.quantity or "")
        else:
            assert leaf.kind == "whole"
            assert leaf.unit in ("count/rev", "count", "turn"), proposal.fact


@pytest.mark.parametrize(
    ("row", "fact"),
    [
        ("Schleppfehlerüberwachungszeit;20;ms", "drive.following_error_timeout"),
        ("Motornennstrom;2.1;A", "motor.rated_current"),
        ("Software-Endschalter negativ;-5;mm", "controller.software_limits.min"),
        ("Vitesse nominale du moteur;3000;rpm", "motor.rated_speed"),
        ("Coppia nominale motore;2.4;Nm", "motor.rated_torque"),
        ("Par máximo del motor;7.2;Nm", "motor.peak_torque"),
        ("Nominaal motortoerental;3000;rpm", "motor.rated_speed"),
        ("Liczba par biegunów silnika;4;", "motor.pole_pairs"),
        ("Jmenovitý proud motoru;2.1;A", "motor.rated_current"),
        ("Motorns märkmoment;2.4;Nm", "motor.rated_torque"),
        ("Corrente nominal do motor;2.1;A", "motor.rated_current"),
    ],
)
def test_a_name_is_found_in_its_language(row: str, fact: str) -> None:
    found = matched(f"Name;Value;Unit\n{row}\nX17;1;\nX18;2;\n")
    assert [each.fact for each in found.proposals] == [fact]
    assert found.proposals[0].active, found.proposals[0].why


@pytest.mark.parametrize(
    "name",
    [
        "2nd encoder resolution",
        "Actual following error",
        "Following error warning",
        "Motor current filter",
        "Motor temperature limit",
    ],
)
def test_a_name_of_another_thing_is_not_proposed(name: str) -> None:
    found = matched(f"Name;Value;Unit\n{name};2;mm\nPole pairs;4;\nX18;2;\n")
    assert [each.row.name for each in found.proposals] == ["Pole pairs"]


def test_two_rows_for_one_fact_are_both_doubtful() -> None:
    found = matched("Name;Value;Unit\nPole pairs;4;\nMotor pole pairs;5;\nX18;2;\n")
    assert [each.active for each in found.proposals] == [False, False]


def test_a_proposed_mapping_is_taken_by_import(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text("\n".join(("Name;Value;Unit", *LISTS)), "utf-8")
    match = api.match(path)
    mapping = tmp_path / "list.mapping.yaml"
    mapping.write_text(mapping_text(match, "list.csv"), "utf-8")
    active = {each.fact for each in match.proposals if each.active}
    assert {feed.to for feeds in read_mapping(mapping).parameters.values() for feed in feeds} == (
        active
    )
    options = ImportOptions("Cell", "lift", "linear", mapping)
    axis = api.import_([path], options).tree.plain["axes"]["lift"]
    assert axis["encoder"]["counts_per_revolution"] == 2**20
    assert axis["controller"]["software_limits"]["min"] == "-5 mm"


MECHANICS = {
    "en": "Chain pitch;12.7;mm|Sprocket teeth;17;|Helix angle;19.5;deg|Nut max. speed;900;rpm",
    "de": "Kettenteilung;12,7;mm|Kettenrad Zähnezahl;17;|Schrägungswinkel;19,5;°|"
    "Mutter max. Drehzahl;900;U/min",
    "fr": "Pas de chaîne;12,7;mm|Pignon à chaîne nombre de dents;17;|Angle d'hélice;19,5;°|"
    "Vitesse maximale écrou;900;tr/min",
    "it": "Passo catena;12,7;mm|Pignone catena denti;17;|Angolo elica;19,5;°|"
    "Velocità massima chiocciola;900;giri/min",
    "es": "Paso de cadena;12,7;mm|Dientes piñón de cadena;17;|Ángulo de hélice;19,5;°|"
    "Velocidad máxima tuerca;900;rpm",
    "nl": "Ketting steek;12,7;mm|Kettingwiel tanden;17;|Hoek schroeflijn;19,5;°|"
    "Maximaal toerental moer;900;omw/min",
    "pl": "Podziałka łańcucha;12,7;mm|Liczba zębów koła łańcuchowego;17;|"
    "Kąt pochylenia zębów;19,5;°|Maksymalna prędkość nakrętki;900;obr/min",
    "cs": "Rozteč řetězu;12,7;mm|Počet zubů řetězového kola;17;|Úhel sklonu zubů;19,5;°|"
    "Maximální otáčky matice;900;ot/min",
    "sv": "Kedja delning;12,7;mm|Kedjehjul kuggar;17;|Vinkel kuggsnedhet;19,5;°|"
    "Högsta varvtal mutter;900;varv/min",
    "pt": "Passo corrente de rolos;12,7;mm|Dentes roda dentada;17;|Ângulo de hélice;19,5;°|"
    "Velocidade máxima porca;900;rpm",
}
"""Names of four facts of the mechanics in each language of the table of trade words."""


@pytest.mark.parametrize("language", MECHANICS)
def test_chains_racks_and_turning_nuts_have_words_in_each_language(language: str) -> None:
    rows = MECHANICS[language].split("|")
    found = matched("\n".join(["Name;Value;Unit", *rows]) + "\n")
    wanted = ("pitch", "teeth", "helix_angle", "nut_rated_speed")
    facts_of = {each.row.name: [e.fact for e in each.evidence] for each in found.proposals}
    for row, fact in zip(rows, wanted, strict=True):
        assert f"mechanics.final.{fact}" in facts_of[row.partition(";")[0]]


def test_an_abbreviation_is_the_beginning_of_words_or_of_their_parts() -> None:
    """Of words that begin alike the shortest counts; a column of numbers tells no decimal sign."""
    rows = "1.001|BREM.M_HALT|2,5|Nm\n1.002|MOT.M_NENN|12,8|Nm\n1.003|MOT.POLPZ|3|\n"
    rows += "1.004|MOT.J_LAEUF|18,5|kgcm²\n1.005|GER.SERNUM|A-1|\n"
    match = matched("Id|Name|Wert|Einheit\n" + rows)
    assert match.shape.comma
    assert {each.row.name: each.fact for each in match.proposals} == {
        "BREM.M_HALT": "motor.brake.holding_torque",
        "MOT.M_NENN": "motor.rated_torque",
        "MOT.POLPZ": "motor.pole_pairs",
        "MOT.J_LAEUF": "motor.inertia",
        "GER.SERNUM": "drive.serial",
    }


def test_a_name_of_any_length_is_compared_in_little_time(tmp_path: Path) -> None:
    path = tmp_path / "list.csv"
    path.write_text(f"Name;Value\nRated speed;3000\n{'x y' * 30_000};1\n", "utf-8")
    found = api.match(path)
    assert [len(row.texts[0]) for row in found.unmapped] == [LONGEST]
