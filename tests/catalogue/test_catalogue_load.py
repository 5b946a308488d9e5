"""Whether a slip in a catalogue file, or an unknown id, is told in words that help."""

import copy
import pickle
from importlib.resources import files

import pytest

from engine.catalogue.load import FILES, catalogue_from, load_catalogue, role_ids
from engine.refusals import Refusal

TEXTS = {name: (files("engine.catalogue") / name).read_text(encoding="utf-8") for name in FILES}


def broken(file_name: str, old: str, new: str) -> dict[str, str]:
    """The shipped files with one slip; the slip must be possible."""
    assert TEXTS[file_name].count(old) == 1, old
    return TEXTS | {file_name: TEXTS[file_name].replace(old, new)}


def line_of(file_name: str, start: str) -> int:
    return next(n for n, line in enumerate(TEXTS[file_name].splitlines(), 1) if line.startswith(start))


def faults(texts: dict[str, str]) -> tuple[str, ...]:
    with pytest.raises(Refusal) as caught:
        catalogue_from(texts)
    return caught.value.messages


def test_the_shipped_files_load_once():
    assert load_catalogue() is load_catalogue()
    assert catalogue_from(TEXTS) == load_catalogue()


def test_a_number_beyond_its_limits_names_file_line_field_value_and_what_is_allowed():
    texts = broken("fabrics.csv", "calendered ripstop,26,1450", "calendered ripstop,2600,1450")
    line = line_of("fabrics.csv", "nylon-10d-26")
    assert faults(texts) == (
        f"fabrics.csv, line {line}: Areal mass (areal_mass_g_m2) is 2600; allowed: above 5 and below 200.",
    )


@pytest.mark.parametrize("slip", ["heavy", "nan", "inf", "26;5", "-26"])
def test_a_cell_that_is_no_number_within_limits_is_named_with_what_was_written(slip):
    texts = broken("fabrics.csv", "calendered ripstop,26,1450", f"calendered ripstop,{slip},1450")
    (message,) = faults(texts)
    assert message.startswith(f"fabrics.csv, line {line_of('fabrics.csv', 'nylon-10d-26')}: Areal mass")
    assert f"is {slip};" in message


def test_a_word_that_is_not_among_the_choices_is_answered_with_the_choices():
    texts = broken("hardware.csv", "hook,hook,piece", "hook,hook,dozen")
    (message,) = faults(texts)
    assert message.endswith("sold_by is dozen; allowed: m, piece.")


def test_an_empty_source_is_refused():
    texts = broken("hardware.csv", "snap,\"snap, both halves\",piece,1,0.3,closure,from memory",
                   "snap,\"snap, both halves\",piece,1,0.3,closure,")  # fmt: skip
    (message,) = faults(texts)
    assert message.endswith("source is missing; it is needed.")


def test_a_down_without_fill_power_is_refused():
    texts = broken("fills.csv", "down,no,850,29", "down,no,,29")
    (message,) = faults(texts)
    assert message.endswith("fill_power_in3_oz is empty; a down fill needs it.")


def test_a_row_with_a_cell_too_many_is_refused():
    texts = broken("hardware.csv", "hook,hook,piece", "hook,hook,steel,piece")
    (message,) = faults(texts)
    assert message.startswith(f"hardware.csv, line {line_of('hardware.csv', 'hook,')}: the row has 8 cells")


def test_an_id_may_stand_once():
    texts = broken("fabrics.csv", "film-17,", "film-11,")
    (message,) = faults(texts)
    assert message.endswith("id is film-11, which stands above already; allowed: each id once.")


def test_a_column_that_no_good_has_is_refused():
    texts = broken("hardware.csv", "mass_g,price", "mass_g,colour")
    assert any("colour is not known here" in message for message in faults(texts))


def test_faults_in_two_files_are_told_together():
    texts = broken("hardware.csv", "hook,hook,piece", "hook,hook,dozen") | {
        "fabrics.csv": broken("fabrics.csv", "calendered ripstop,26,", "calendered ripstop,0,")["fabrics.csv"]
    }
    assert [message.split(",")[0] for message in faults(texts)] == ["fabrics.csv", "hardware.csv"]


@pytest.mark.parametrize("kind, method", [
    ("fabric", "fabric"), ("fill", "fill"), ("joint", "joint"), ("hardware", "hardware_item"),
])  # fmt: skip
def test_an_unknown_id_is_named_with_ids_that_exist(kind, method):
    catalogue = load_catalogue()
    shelf = {"fabric": catalogue.fabrics, "fill": catalogue.fills,
             "joint": catalogue.joints, "hardware": catalogue.hardware}[kind]  # fmt: skip
    with pytest.raises(Refusal) as caught:
        getattr(catalogue, method)("qqq")
    (message,) = caught.value.messages
    assert message.startswith(f"{kind} is 'qqq'; allowed: one of ")
    assert all(id in message for id in list(shelf)[:3])
    for id, good in shelf.items():
        assert getattr(catalogue, method)(id) is good


def test_a_misspelt_id_is_answered_with_its_neighbours():
    with pytest.raises(Refusal, match=r"one of .*nylon-10d-26"):
        load_catalogue().fabric("nylon-10d-25")


def test_a_hostile_id_is_cut_short():
    with pytest.raises(Refusal) as caught:
        load_catalogue().fill("x" * 100_000)
    assert len(str(caught.value)) < 300


def test_roles_resolve_to_ids_in_catalogue_order():
    catalogue = load_catalogue()
    assert role_ids(catalogue, "fill:") == tuple(catalogue.fills)
    assert role_ids(catalogue, "fill:sheet") == ("sheet-67", "sheet-100", "sheet-133")
    assert role_ids(catalogue, "joint:raw edges") == ("seared-edge",)
    shells = role_ids(catalogue, "fabric:shell")
    assert "film-17" in shells and "mesh-24" not in shells
    assert "mesh-24" in role_ids(catalogue, "fabric:baffle")
    assert "ripstop-38" in role_ids(catalogue, "fabric:vent")
    assert not set(role_ids(catalogue, "fabric:vent")) & {"film-11", "film-17", "film-26", "film-34"}


@pytest.mark.parametrize("hint", ["", "cloth:shell", "fabric:hull", "joint:panel_joins"])
def test_a_hint_that_means_nothing_is_refused(hint):
    with pytest.raises(Refusal, match="goods is"):
        role_ids(load_catalogue(), hint)


def test_a_catalogue_can_be_a_key_and_can_be_copied():
    catalogue = load_catalogue()
    assert pickle.loads(pickle.dumps(catalogue)) == catalogue
    assert hash(copy.deepcopy(catalogue)) == hash(catalogue)
