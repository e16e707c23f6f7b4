"""Sign-ins of the demo are made by chance and kept for the owner of the files alone."""

import os
import stat

import pytest

from media_demo.loading import read_scenario
from media_demo.signins import new_password, new_signins, read_signins, write_signins

MEMBERS = read_scenario("small").members


def test_each_fresh_start_has_passwords_of_its_own():
    first, second = ([signin.password for signin in new_signins(MEMBERS)] for _ in range(2))
    assert len(set(first + second)) == 2 * len(MEMBERS)
    assert len({new_password() for _ in range(500)}) == 500
    assert all(len(password) == 19 for password in first)


def test_there_is_one_for_every_role():
    roles = {role for signin in new_signins(MEMBERS) for role in signin.roles.split(", ")}
    assert roles == {"educator", "mentor", "secretary", "trainee"}


def test_they_are_read_again_once_the_club_is_built(tmp_path):
    path, signins = tmp_path / "sign-ins.json", new_signins(MEMBERS)
    assert read_signins(path) is None
    write_signins(path, signins, built=False)
    assert read_signins(path) is None
    write_signins(path, signins, built=True)
    assert read_signins(path) == signins


@pytest.mark.skipif(os.name != "posix", reason="permissions of POSIX")
def test_nobody_else_can_read_them(tmp_path):
    path = tmp_path / "sign-ins.json"
    path.write_text("{}")
    path.chmod(0o644)
    write_signins(path, new_signins(MEMBERS), built=True)
    assert stat.S_IMODE(path.stat().st_mode) == 0o600
