"""What a repository that `changes REVISION:PATH` reads can make run, follow or take.

Each program that a configuration of git can name is a script here that leaves a trace.
"""

from __future__ import annotations

import hashlib
import os
import shutil
import subprocess
import time
import zlib
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from axisproof import api
from axisproof.base.errors import AxisproofError, UsageError
from axisproof.source import revisions

from tests.repositories import git

MACHINE = "format: 1\nmachine: M\naxes: {x: {motion: linear}}\n"
OTHER = "format: 1\nmachine: M\naxes: {x: {motion: rotary}}\n"


def committed(folder: Path) -> Path:
    folder.mkdir(parents=True)
    (folder / "machines").mkdir()
    (folder / "machines/m.yaml").write_text(MACHINE)
    git(folder, "init", "-q", "-b", "main")
    git(folder, "add", ".")
    git(folder, "commit", "-qm", "a:s it was")
    (folder / "machines/m.yaml").write_text(OTHER)
    return folder


@pytest.fixture
def repository(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    folder = committed(tmp_path / "plant")
    monkeypatch.chdir(folder)
    return folder


@pytest.fixture
def program(tmp_path: Path) -> Path:
    """A program that leaves a trace of having run."""
    path = tmp_path / "program"
    path.write_text(f"#!/bin/sh\necho ran >> {tmp_path}/trace\n")
    path.chmod(0o755)
    return path


def the_trace(program: Path) -> bool:
    return (program.parent / "trace").exists()


def compared(old: str = "HEAD:machines", new: str = "machines") -> list[str]:
    """The facts that changed."""
    return [change.fact for change in api.changes(old, new).facts]


# Programs -----------------------------------------------------------------------------------------

PROGRAMS = """
core.alternateRefsCommand core.askPass core.editor core.fsmonitor core.gitProxy core.pager
core.sshCommand credential.helper diff.external difftool.x.cmd difftool.x.path mergetool.x.cmd
mergetool.x.path diff.x.command diff.x.textconv filter.x.clean filter.x.smudge filter.x.process
merge.x.driver gpg.program gpg.openpgp.program gpg.x509.program gpg.ssh.program
gpg.ssh.defaultKeyCommand guitool.x.cmd imap.tunnel interactive.diffFilter man.x.cmd man.x.path
browser.x.cmd browser.x.path web.browser help.browser instaweb.browser instaweb.httpd pager.show
pager.cat-file pager.log alias.show alias.cat-file alias.rev-parse remote.o.receivepack
remote.o.uploadpack remote.o.vcs sendemail.ccCmd sendemail.toCmd sendemail.smtpServer
sendemail.sendmailCmd sendemail.headerCmd sequence.editor submodule.x.update tar.x.command
trailer.x.command trailer.x.cmd uploadpack.packObjectsHook gc.recentObjectsHook hook.x.command
gitcvs.dbDriver notes.rewrite.x
""".split()

ALONGSIDE = """
[log]
\tshowSignature = true
[diff]
\tguitool = x
\ttool = x
[merge]
\ttool = x
[core]
\tfsmonitorHookVersion = 1
\tattributesFile = {folder}/attributes
[hook "x"]
\tevent = post-index-change
\tevent = reference-transaction
[remote "o"]
\turl = {folder}
\tpromisor = true
\tpartialclonefilter = blob:none
[extensions]
\tpartialClone = o
"""
"""What makes git use the programs, as far as reading could."""


def configured(repository: Path, keys: list[str], value: str) -> None:
    text = (repository / ".git/config").read_text()
    text += ALONGSIDE.format(folder=repository.parent)
    for key in keys:
        section, _, name = key.partition(".")
        middle, _, last = name.rpartition(".")
        head = f'[{section} "{middle}"]' if middle else f"[{section}]"
        text += f'{head}\n\t{last} = "{value}"\n'
    text = text.replace("repositoryformatversion = 0", "repositoryformatversion = 1")
    (repository / ".git/config").write_text(text)
    (repository / ".gitattributes").write_text("* diff=x filter=x merge=x\n")
    (repository / ".git/info/attributes").write_text("* diff=x filter=x merge=x\n")
    (repository.parent / "attributes").write_text("* diff=x filter=x merge=x\n")


@pytest.mark.exhaustive
@pytest.mark.parametrize("key", PROGRAMS)
@pytest.mark.parametrize("bang", ["", "!"])
def test_no_key_of_git_that_names_a_program_starts_it(
    key: str, bang: str, repository: Path, program: Path
) -> None:
    configured(repository, [key], f"{bang}{program}")
    assert compared() == ["motion"]
    assert compared(":machines/m.yaml", "machines") == ["motion"]
    assert not the_trace(program)


WORDS = ("cmd", "command", "program", "helper", "editor", "pager", "driver", "textconv", "browser")
NOT_PROGRAMS = {
    "advice.waitingForEditor",
    "color.pager",
    "diff.<driver>.cachetextconv",
    "completion.commands",
    "pager.<cmd>",  # stands there as pager.show and others
    "merge.<driver>.name",
    "merge.<driver>.recursive",
    "rebase.abbreviateCommands",
    "notes.rewrite.<command>",
    "fsmonitor.socketDir",
    "credential.<url>.helper",
}


def test_the_list_of_keys_knows_those_of_this_git() -> None:
    known = {key.split(".")[0].lower() + "." + key.split(".")[-1].lower() for key in PROGRAMS}
    for key in subprocess.check_output(["git", "help", "--config"], text=True).split():
        last = key.split(".")[-1].lower()
        if last.endswith(WORDS) and key not in NOT_PROGRAMS and key.count(".") >= 1:
            assert f"{key.split('.')[0].lower()}.{last}" in known, key


def test_a_configuration_of_every_key_of_git_at_once_changes_nothing(
    repository: Path, program: Path
) -> None:
    keys = []
    for key in subprocess.check_output(["git", "help", "--config"], text=True).split():
        parts = ["x" if "<" in part else part for part in key.split(".")]
        if len(parts) > 1 and key.isascii() and "*" not in key:
            keys.append(".".join(parts))
    assert len(keys) > 500
    configured(repository, keys, str(program))
    assert compared() == ["motion"]
    assert not the_trace(program)


def signed(repository: Path) -> None:
    """A commit with a signature, which `log.showSignature` lets a program look at."""
    text = git(repository, "cat-file", "commit", "HEAD")
    head, _, message = text.partition("\n\n")
    signature = "gpgsig -----BEGIN PGP SIGNATURE-----\n \n iQ==\n -----END PGP SIGNATURE-----"
    data = f"{head}\n{signature}\n\n{message}\n".encode()
    made = git(repository, "hash-object", "-w", "-t", "commit", "--stdin", stdin=data)
    git(repository, "update-ref", "refs/heads/main", made)


def test_no_program_looks_at_a_signature(repository: Path, program: Path) -> None:
    signed(repository)
    git(repository, "tag", "-f", "v1")
    configured(repository, ["gpg.program"], str(program))
    assert compared("main:machines") == ["motion"]
    assert not the_trace(program)
    # A tag or commit where a folder should be is no folder.
    for text in ("HEAD^0:machines/m.yaml", "v1:machines/m.yaml"):
        assert compared(text) == ["motion"]
    with pytest.raises(UsageError):
        compared("HEAD^{/a:s}")  # a commit, by its message
    assert not the_trace(program)


def test_a_missing_object_is_not_fetched(repository: Path, program: Path) -> None:
    blob = git(repository, "rev-parse", "HEAD:machines/m.yaml")
    (repository / ".git/objects" / blob[:2] / blob[2:]).unlink()
    configured(repository, ["remote.o.uploadpack", "core.sshCommand"], str(program))
    with pytest.raises(UsageError) as caught:
        compared()
    assert not the_trace(program)
    assert "its object is not in this repository" in caught.value.what
    assert "HEAD:machines/m.yaml" in caught.value.what


@pytest.mark.parametrize("url", ["ext::{program}", "ssh://h/x", "{folder}", "x::y", "git://h/x"])
def test_no_transport_of_a_remote_starts(url: str, repository: Path, program: Path) -> None:
    blob = git(repository, "rev-parse", "HEAD:machines/m.yaml")
    (repository / ".git/objects" / blob[:2] / blob[2:]).unlink()
    keys = ["core.sshCommand", "core.gitProxy", "remote.o.uploadpack", "remote.o.vcs"]
    configured(repository, keys[:3], str(program))
    with (repository / ".git/config").open("a") as stream:
        stream.write(f'[remote "o"]\n\turl = {url.format(program=program, folder=repository)}\n')
        stream.write("[protocol]\n\tallow = always\n")
    with pytest.raises(UsageError):
        compared()
    assert not the_trace(program)


def test_no_hook_runs(repository: Path, program: Path) -> None:
    for name in (
        "post-checkout",
        "post-index-change",
        "fsmonitor-watchman",
        "query-watchman",
        "reference-transaction",
    ):
        shutil.copy(program, repository / ".git/hooks" / name)
    configured(repository, ["core.hooksPath"], str(repository / ".git/hooks"))
    assert compared() == ["motion"]
    assert compared(":machines/m.yaml", "machines") == ["motion"]
    assert not the_trace(program)


ENVIRONMENT = {
    "GIT_CONFIG_COUNT": "2",
    "GIT_CONFIG_KEY_0": "core.fsmonitor",
    "GIT_CONFIG_VALUE_0": "{program}",
    "GIT_CONFIG_KEY_1": "core.pager",
    "GIT_CONFIG_VALUE_1": "{program}",
    "GIT_CONFIG_PARAMETERS": "'core.fsmonitor={program}'",
    "GIT_EXTERNAL_DIFF": "{program}",
    "GIT_PAGER": "{program}",
    "GIT_SSH_COMMAND": "{program}",
    "GIT_TRACE": "{folder}/trace",
    "GIT_TRACE2_EVENT": "{folder}/trace",
    "GIT_ALTERNATE_OBJECT_DIRECTORIES": "{folder}",
    "GIT_OBJECT_DIRECTORY": "{folder}/nowhere",
}


def test_the_environment_of_git_does_not_reach_it(
    repository: Path, program: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    for name, value in ENVIRONMENT.items():
        monkeypatch.setenv(name, value.format(program=program, folder=program.parent))
    assert compared() == ["motion"]
    assert compared(":machines/m.yaml", "machines") == ["motion"]
    assert not the_trace(program)


def test_no_configuration_of_the_user_is_read(
    repository: Path, program: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    home = program.parent / "home"
    home.mkdir()
    (home / ".gitconfig").write_text(f"[core]\n\tfsmonitor = {program}\n")
    monkeypatch.setenv("HOME", str(home))
    assert compared(":machines/m.yaml", "machines") == ["motion"]
    assert not the_trace(program)


def test_a_git_in_the_repository_is_not_the_one_that_runs(
    repository: Path, program: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    shutil.copy(program, repository / "git")
    monkeypatch.setenv("PATH", f".{os.pathsep}{os.pathsep}{os.environ['PATH']}")
    assert compared() == ["motion"]
    assert not the_trace(program)


# What leads elsewhere -----------------------------------------------------------------------------


def test_objects_of_another_repository_are_not_borrowed(repository: Path) -> None:
    other = committed(repository.parent / "other")
    (other / "secret.yaml").write_text("format: 1\nmachine: secret\n")
    blob = git(other, "hash-object", "-w", "secret.yaml")
    (repository / ".git/objects/info/alternates").write_text(f"{other}/.git/objects\n")
    tree = git(repository, "mktree", stdin=f"100644 blob {blob}\tm.yaml\n".encode())
    with pytest.raises(UsageError, match="its object is not in this repository") as caught:
        compared(f"{tree}:", "machines")
    assert "borrowed objects" in caught.value.expected


def test_a_replaced_object_is_read_as_it_was_committed(repository: Path) -> None:
    old = git(repository, "rev-parse", "HEAD:machines/m.yaml")
    new = git(repository, "hash-object", "-w", "machines/m.yaml")
    git(repository, "replace", old, new)
    assert compared() == ["motion"]


def test_a_link_in_a_revision_is_told(repository: Path) -> None:
    (repository / "machines/n.yaml").symlink_to("/etc/passwd")
    git(repository, "add", ".")
    git(repository, "commit", "-qm", "a link")
    with pytest.raises(UsageError, match=r"HEAD:machines/n\.yaml is a link"):
        compared()


# What still works ---------------------------------------------------------------------------------


def test_a_linked_work_tree_a_bare_repository_and_a_pack_are_read(
    repository: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    now = str(repository / "machines")
    git(repository, "worktree", "add", "-q", "-b", "side", str(repository.parent / "side"))
    git(repository, "gc", "-q")
    git(repository, "pack-refs", "--all")
    monkeypatch.chdir(repository.parent / "side")
    assert compared("HEAD:machines", now) == compared("side:machines", now) == ["motion"]
    git(repository, "clone", "-q", "--bare", ".", str(repository.parent / "bare"))
    monkeypatch.chdir(repository.parent / "bare")
    assert compared("main:machines", now) == ["motion"]
    monkeypatch.chdir(repository / "machines")
    assert compared("main@{0}:./m.yaml", now) == ["motion"]
    monkeypatch.chdir("/")
    monkeypatch.setenv("GIT_DIR", str(repository / ".git"))
    assert compared("main:machines", now) == ["motion"]


def test_a_repository_of_longer_names_of_objects_is_read(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    folder = tmp_path / "long"
    folder.mkdir()
    git(folder, "init", "-q", "--object-format=sha256")
    (folder / "m.yaml").write_text(MACHINE)
    git(folder, "add", ".")
    git(folder, "commit", "-qm", "as it was")
    (folder / "m.yaml").write_text(OTHER)
    monkeypatch.chdir(folder)
    assert compared("HEAD:", ".") == compared("HEAD:m.yaml", "m.yaml") == ["motion"]


# How much -----------------------------------------------------------------------------------------


def stored(repository: Path, kind: str, data: bytes) -> str:
    """Write an object as it is, whatever git would say of it."""
    whole = f"{kind} {len(data)}\0".encode() + data
    name = hashlib.sha1(whole, usedforsecurity=False).hexdigest()
    path = repository / ".git/objects" / name[:2] / name[2:]
    path.parent.mkdir(exist_ok=True)
    if not path.exists():
        path.write_bytes(zlib.compress(whole, 1))
    return name


def folder_of(entries: list[tuple[str, str, str]]) -> bytes:
    return b"".join(
        f"{mode} {name}\0".encode("utf-8", "surrogateescape") + bytes.fromhex(object_id)
        for mode, name, object_id in entries
    )


def many_empty_folders(repository: Path) -> str:
    """Ten to the power of twelve folders in thirteen objects."""
    tree = stored(repository, "tree", b"")
    for _ in range(12):
        tree = stored(
            repository, "tree", folder_of([("40000", f"f{number}", tree) for number in range(10)])
        )
    return tree


def many_nested_folders(repository: Path) -> str:
    tree = stored(repository, "tree", folder_of([("100644", "m.yaml", machine(repository))]))
    for _ in range(600):
        tree = stored(repository, "tree", folder_of([("40000", "f", tree)]))
    return tree


def machine(repository: Path, text: str = MACHINE) -> str:
    return stored(repository, "blob", text.encode())


def includes_in_a_row(repository: Path) -> str:
    entries = []
    for number in range(600):
        text = f"include: [m{number + 1}.yaml]\n" + (MACHINE if not number else "format: 1\n")
        entries.append(("100644", f"m{number}.yaml", machine(repository, text)))
    return stored(repository, "tree", folder_of(sorted(entries, key=lambda each: each[1])))


def too_large(repository: Path) -> str:
    blob = stored(repository, "blob", b" " * (64 * 2**20 + 1))
    return stored(repository, "tree", folder_of([("100644", "m.yaml", blob)]))


def too_many_files(repository: Path) -> str:
    blob = machine(repository)
    entries = [("100644", f"m{number:04}.yaml", blob) for number in range(1001)]
    return stored(repository, "tree", folder_of(entries))


def one_name_twice(repository: Path) -> str:
    entries = [("100644", "m.yaml", machine(repository)), ("100644", "m.yaml", machine(repository))]
    return stored(repository, "tree", folder_of(entries))


def cut_short(repository: Path) -> str:
    return stored(repository, "tree", folder_of([("100644", "m.yaml", machine(repository))])[:-3])


HOSTILE: dict[str, tuple[Callable[[Path], str], str]] = {
    "ever more folders": (many_empty_folders, "one of more than 100,000 files and folders"),
    "600 folders": (many_nested_folders, "holds folders more than 64 deep"),
    "600 includes": (includes_in_a_row, "more than 100 files are included"),
    "a large file": (too_large, "larger than 64 MiB"),
    "many files": (too_many_files, "one of more than 1000 files"),
    "a name twice": (one_name_twice, "the folder is damaged"),
    "half a folder": (cut_short, "the folder is damaged|it ended"),
}


@pytest.mark.parametrize(("make", "words"), HOSTILE.values(), ids=HOSTILE.keys())
def test_a_tree_without_measure_is_one_clear_error(
    make: Callable[[Path], str], words: str, repository: Path
) -> None:
    tree = make(repository)
    target = f"{tree}:m0.yaml" if make is includes_in_a_row else f"{tree}:"
    with pytest.raises(AxisproofError, match=words):
        compared(target, "machines")


def test_the_size_of_all_files_is_bounded(
    repository: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(revisions, "MAX_TOTAL", 2**20)
    blob = machine(repository, MACHINE + "#" * 2**18)
    entries = [("100644", f"m{number}.yaml", blob) for number in range(5)]
    tree = stored(repository, "tree", folder_of(entries))
    with pytest.raises(UsageError, match=r"m\d\.yaml is one of more than 1 MiB"):
        compared(f"{tree}:", "machines")


def test_a_git_that_does_not_answer_is_not_waited_for(
    repository: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    (repository / ".git/packed-refs").unlink(missing_ok=True)
    os.mkfifo(repository / ".git/refs/heads/stuck")
    from axisproof.source import git_objects

    monkeypatch.setattr(git_objects, "TIMEOUT", 1.0)
    with pytest.raises(UsageError, match="no answer within 1 s"):
        compared("stuck:machines")


def test_the_time_between_answers_is_not_that_of_git(
    repository: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from axisproof.source import git_objects

    monkeypatch.setattr(git_objects, "TIMEOUT", 1.0)
    with git_objects.opened() as objects:
        [machines] = objects.tree("HEAD")
        time.sleep(1.5)
        [file] = objects.folder(machines, "machines")
        assert objects.file(file, "m.yaml").decode() == MACHINE


@pytest.fixture(autouse=True)
def _nothing_is_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """No folder that a comparison made for itself stays."""
    own = tmp_path / "temporary"
    own.mkdir()
    monkeypatch.setattr("tempfile.tempdir", str(own))
    yield
    assert list(own.iterdir()) == []
