"""Templates of figures that want more than they may: each function spoils one of a class or its bank."""

import os
from pathlib import Path


def _figure(bank: Path, body: str) -> None:
    (bank / "figures" / "round-hole-in-plate.svg.j2").write_text(body, encoding="utf-8")


def a_figure_that_multiplies_a_text(folder: Path, bank: Path) -> None:
    _figure(bank, "{{ 'x' * 3000000000 }}")


def a_figure_that_doubles_a_text(folder: Path, bank: Path) -> None:
    _figure(bank, "{% set a = 'xxxxxxxxxx' %}" + "{% set a = a ~ a %}" * 60 + "{{ a }}")


def a_figure_of_loops(folder: Path, bank: Path) -> None:
    loops = "".join(f"{{% for a{n} in range(90000) %}}" for n in range(4))
    _figure(bank, loops + "x" + "{% endfor %}" * 4)


def a_figure_of_powers(folder: Path, bank: Path) -> None:
    _figure(bank, "{{ 9 ** 9 ** 9 ** 9 }}")


def a_figure_that_pads(folder: Path, bank: Path) -> None:
    _figure(bank, "{{ 'x'.ljust(3000000000) }}{{ '%3000000000d' % 1 }}{{ '{:3000000000}'.format(1) }}")


def a_figure_that_formats(folder: Path, bank: Path) -> None:
    _figure(bank, "{{ '%3000000000d' % 1 }}")


def a_figure_that_calls_itself(folder: Path, bank: Path) -> None:
    _figure(bank, "{% macro m(n) %}{{ m(n) }}{{ m(n) }}{% endmacro %}{{ m(1) }}")


def a_figure_that_looks_around(folder: Path, bank: Path) -> None:
    _figure(bank, "{{ ''.__class__.__mro__[1].__subclasses__() }}{{ number.__self__ }}")


def a_figure_that_reads_files(folder: Path, bank: Path) -> None:
    _figure(bank, "{% include '/etc/passwd' %}")


def a_figure_with_a_script(folder: Path, bank: Path) -> None:
    _figure(bank, "<script>alert(1)</script><image href='http://127.0.0.1:9/x'/>{{ line(0,0,1,1) }}{{ say('a', 'b') }}")


def a_figure_that_is_a_pipe(folder: Path, bank: Path) -> None:
    path = bank / "figures" / "round-hole-in-plate.svg.j2"
    path.unlink()
    os.mkfifo(path)


def a_figure_of_two_megabytes(folder: Path, bank: Path) -> None:
    _figure(bank, "{{ line(0,0,1,1) }}" * 100_000)
