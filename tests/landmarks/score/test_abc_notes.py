"""Every note of ABC is read, with the sign that holds for it."""

import pytest

from landmarks.score import read_scores
from tests import plain_abc

G, A = 67, 69
D, D_SHARP, LOW_D_SHARP, B_FLAT, B = 74, 75, 63, 70, 71


@pytest.mark.parametrize(
    ("music", "keys"),
    [
        ("^d d .d|d|", [D_SHARP, D_SHARP, D_SHARP, D]),
        ("^d D|", [D_SHARP, LOW_D_SHARP]),
        ("^d =d d|", [D_SHARP, D, D]),
        ("^d [Gd]|", [D_SHARP, 67, D_SHARP]),
        ("{^d}e d|", [D_SHARP, 76, D_SHARP]),
        ("^d-|d d|", [D_SHARP, D]),
        ('"^up"d "D"d|', [D, D]),
        ("^d!d!d|[K:G]d|", [D_SHARP, D_SHARP, D]),
        ("^d::d|", [D_SHARP, D]),
    ],
)
def test_a_sign_holds_until_the_bar_ends(tmp_path, music, keys):
    path = tmp_path / "tune.abc"
    path.write_text(f"X:1\nM:4/4\nL:1/8\nK:C\n{music}\n")
    (score,) = read_scores(path)
    assert [note.key for note in score.notes] == keys
    assert sorted(plain_abc.key_counts(path.read_text()).elements()) == sorted(keys)


def test_a_natural_sign_takes_the_flat_of_the_key_away_for_the_bar(tmp_path):
    path = tmp_path / "tune.abc"
    path.write_text("X:1\nM:4/4\nL:1/8\nK:F\nB=BB|B|\n")
    (score,) = read_scores(path)
    assert [note.key for note in score.notes] == [B_FLAT, B, B, B_FLAT]
    assert [note.in_signature for note in score.notes] == [True, False, False, True]


@pytest.mark.parametrize(
    ("music", "keys"),
    [
        ("HG3 HA3|TG uA .A ~G|", [G, A, G, A, A, G]),
        ("GA G::A|", [G, A, G, A]),
        ('"Am"G "^slow"A !trill!G|', [G, A, G]),
        ("(3GAG A>G|", [G, A, G, A, G]),
        ("y G x A z|", [G, A]),
        ("G-A (G2-|G)A-^A|", [G, A, G, A, A + 1]),
        ("d>-d G.-A|", [D, G, A]),
        ("{d}-GA-|\nG-|\nG A|", [D, G, A, G, A]),
        ("F|[K:G]F||[K:F]\n|| F|", [65, 66, 65]),
    ],
)
def test_no_note_is_lost_beside_a_decoration_or_a_repeat(tmp_path, music, keys):
    path = tmp_path / "tune.abc"
    path.write_text(f"X:1\nM:4/4\nL:1/8\nK:C\n{music}\n")
    (score,) = read_scores(path)
    assert [note.key for note in score.notes] == keys
    assert sorted(plain_abc.key_counts(path.read_text()).elements()) == sorted(keys)
