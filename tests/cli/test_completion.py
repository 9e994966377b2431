"""Completion: a shell that has read the script offers commands, options, choices, oxidants and files."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path
from shutil import which

import pytest

from redoxlib import _completion
from redoxlib.cli import main
from redoxlib.data import shipped


def _script(shell: str, capsys: pytest.CaptureFixture[str]) -> str:
    assert main(["completion", shell]) == 0
    return capsys.readouterr().out


def _bash(script: str, folder: Path, *line: str) -> list[str]:
    """What bash would offer for the last word of a line."""
    (folder / "complete.sh").write_text(script, encoding="utf-8")
    program = (
        'source complete.sh; COMP_WORDS=("$@"); COMP_CWORD=$(($#-1)); _redoxlib; '
        "printf '%s\\n' \"${COMPREPLY[@]}\""
    )
    done = subprocess.run(
        ["bash", "-c", program, "bash", "redoxlib", *line],
        cwd=folder,
        capture_output=True,
        text=True,
        check=True,
    )
    assert done.stderr == ""
    return done.stdout.split("\n")[:-1] if done.stdout.strip() else []


def test_bash_knows_that_the_program_is_completed(tmp_path: Path) -> None:
    """Through the real command, as a person would put it in a start-up file."""
    program = f'source <("{sys.executable}" -m redoxlib completion bash); complete -p redoxlib'
    done = subprocess.run(["bash", "-c", program], capture_output=True, text=True, check=True, cwd=tmp_path)
    assert done.stdout == "complete -F _redoxlib redoxlib\n"


@pytest.mark.parametrize(
    ("line", "offered"),
    [
        (("ba",), ["balance"]),
        (("co",), ["complete", "compare", "completion"]),
        (("balance", "--st"), ["--style"]),
        (("balance", "H2 + O2 -> H2O", "--style", "u"), ["unicode"]),
        (("plan", "job.toml", "--oxidant", "KMn"), ["KMnO4"]),
        (("plan", "job.toml", "--oxidant", "Ca"), [r"Ca\(OCl\)2"]),
        (("compare", "job.toml", "--detail", "TC"), ["TCCA"]),
        (("explain", "job.toml", "H2"), ["H2O2", "H2SO4"]),
        (("completion", ""), ["bash", "zsh", "fish"]),
        (("diagram", ""), ["predominance", "frost", "speciation"]),
        (("diagram", "speciation", "Cr", "--st"), ["--state"]),
        (("verify", "read"), ["readme.md"]),
        (("start", "Br^- -> Br2", "-o", "jo"), ["job.toml"]),
        (("balance", "--ratio", ""), []),
        (("frobnicate", "x"), []),
    ],
    ids=str,
)
def test_bash_offers(
    line: tuple[str, ...], offered: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    for name in ("readme.md", "job.toml"):
        (tmp_path / name).touch()
    assert _bash(_script("bash", capsys), tmp_path, *line) == offered


def test_every_oxidant_and_every_command_is_in_every_script(capsys: pytest.CaptureFixture[str]) -> None:
    for shell in _completion.SHELLS:
        script = _script(shell, capsys)
        for word in (*shipped().oxidants, "balance", "complete", "verify", "reconcile", "predominance"):
            assert word in script, (shell, word)
        if which(shell):
            subprocess.run([shell, "-n"], input=script, text=True, check=True)


def test_fish_and_zsh_offer_what_bash_offers(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Asked of the shells themselves where they are installed; of the text everywhere."""
    fish, zsh = _script("fish", capsys), _script("zsh", capsys)
    assert "-l style -x -a '\\'ascii\\' \\'unicode\\' \\'latex\\''" in fish
    assert "'balance:--style') offered=('ascii' 'unicode' 'latex'); files=0; return 0;;" in zsh
    if which("fish"):
        (tmp_path / "it.fish").write_text(fish, encoding="utf-8")
        program = (
            'source it.fish; complete -C "redoxlib plan j --oxidant KMn"; complete -C "redoxlib diagram sp"'
        )
        asked = subprocess.run(
            ["fish", "-N", "-c", program], cwd=tmp_path, capture_output=True, text=True, check=True
        )
        assert [line.split("\t")[0] for line in asked.stdout.splitlines()] == ["KMnO4", "speciation"]
    if which("zsh"):
        (tmp_path / "it.zsh").write_text(zsh, encoding="utf-8")
        program = (
            'compdef() { : }; compadd() { print -l -- "${(@)offered}" }; source it.zsh; '
            "words=(redoxlib balance --style ''); CURRENT=4; _redoxlib"
        )
        asked = subprocess.run(
            ["zsh", "-f", "-c", program], cwd=tmp_path, capture_output=True, text=True, check=True
        )
        assert asked.stdout.split() == ["ascii", "unicode", "latex"]


def test_the_page_gives_the_line_for_each_shell(capsys: pytest.CaptureFixture[str]) -> None:
    page = (Path(__file__).parents[2] / "docs" / "how-to" / "shell-completion.md").read_text(encoding="utf-8")
    for shell in _completion.SHELLS:
        assert f"redoxlib completion {shell}" in page
    for shell in ("bash", "zsh"):  # the script itself says how to load it
        assert _script(shell, capsys).splitlines()[shell == "zsh"].split(": ")[1].split(",")[0] in page


def test_error_for_a_shell_that_is_not_known(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["completion", "fsh"]) == 2
    assert "did you mean 'fish'?" in capsys.readouterr().err
