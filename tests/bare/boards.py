# SPDX-FileCopyrightText: the stilling authors
# SPDX-License-Identifier: MIT
"""The same session on five machines: are the bits the same, and what does it cost on a board?

Builds the programs of this folder for x86-64 (baseline and AVX2), aarch64, Cortex-M4F and
Cortex-M7, runs them (the latter three in QEMU), compares the hashes over every bit of every output,
and prints flash, RAM, stack and instructions. Fails where a hash differs or a figure is above its
bound.
"""

import subprocess
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
WARNINGS = "-Wall -Wextra -Wpedantic -Wconversion -Wshadow -Wsign-conversion -Werror".split()
COMMON = ["-std=c++20", "-DNDEBUG", "-fno-exceptions", "-fno-rtti", "-ffp-contract=off",
          f"-I{ROOT}/include"] + WARNINGS
# sqrt as the instruction it is: errno is nobody's here, and the bits are the same.
BOARD = ["-mthumb", "-Os", "-mfloat-abi=hard", "-ffunction-sections", "-fdata-sections",
         "-fno-threadsafe-statics", "-fno-use-cxa-atexit", "-fno-math-errno", "-Wno-psabi",
         "--specs=nano.specs",
         "--specs=nosys.specs", "-nostartfiles", "-Wl,--gc-sections", f"-T{HERE}/board.ld"]


def qemu(machine):
    return ["qemu-system-arm", "-M", machine, "-nographic", "-monitor", "none", "-serial", "none",
            "-semihosting-config", "enable=on,target=native", "-icount", "shift=5,sleep=off",
            "-kernel"]


# name: (compiler and flags, what else is compiled in, how it is run)
MACHINES = {
    "x86-64": (["g++", "-O2"], "host.cpp", []),
    "x86-64 AVX2": (["g++", "-O3", "-mavx2", "-mfma"], "host.cpp", []),
    "aarch64": (["aarch64-linux-gnu-g++", "-O2", "-static"], "host.cpp", ["qemu-aarch64"]),
    "Cortex-M4F": (["arm-none-eabi-g++", "-mcpu=cortex-m4", "-mfpu=fpv4-sp-d16"] + BOARD,
                   "board.cpp", qemu("mps2-an386")),
    "Cortex-M7": (["arm-none-eabi-g++", "-mcpu=cortex-m7", "-mfpu=fpv5-d16"] + BOARD,
                  "board.cpp", qemu("mps2-an500")),
}
BOARDS = ["Cortex-M4F", "Cortex-M7"]
HASHES = ["hash_of_rows", "hash_of_lines", "hash_of_small", "hash_of_rest"]
# On the M7, in bytes: a change that costs more is to be made on purpose.
BOUNDS = {"small": {"flash": 31_500, "object": 45_000, "stack": 6_656, "stack_to_begin": 4_096},
          "chain": {"flash": 45_500, "object": 116_000, "stack": 8_192, "stack_to_begin": 4_096},
          "text": {"flash": 36_000, "object": 15_500, "stack": 5_120, "stack_to_begin": 4_096}}


def has_avx2():
    try:
        words = Path("/proc/cpuinfo").read_text(encoding="utf-8").split()
    except OSError:
        return False
    return "avx2" in words and "fma" in words


def build(machine, program, folder):
    compiler, port, _ = MACHINES[machine]
    out = folder / f"{program}.{machine.replace(' ', '_')}"
    subprocess.run([*compiler, *COMMON, str(HERE / f"{program}.cpp"), str(HERE / port), "-o",
                    str(out)], check=True)
    return out


def run(machine, file, *words):
    done = subprocess.run([*MACHINES[machine][2], str(file), *words], stdin=subprocess.DEVNULL,
                          stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True, timeout=240)
    if done.returncode != 0:
        sys.exit(f"{file.name} ended with status {done.returncode}\n{done.stdout}")
    return done.stdout


def figures_of(out):
    found = {}
    for line in out.splitlines():
        words = line.split()
        if len(words) == 2 and not line.startswith("|"):
            found[words[0]] = int(words[1], 16 if words[0] in HASHES else 10)
    return found


def sizes_of(file):
    words = subprocess.run(["arm-none-eabi-size", str(file)], check=True, stdout=subprocess.PIPE,
                           text=True).stdout.splitlines()[1].split()
    text, initialised, cleared = map(int, words[:3])
    return {"flash": text + initialised, "ram": initialised + cleared}


def every_header(folder):
    """The whole library compiles for a board, not only what a session needs."""
    source = folder / "every_header.cpp"
    headers = sorted(p.relative_to(ROOT / "include") for p in (ROOT / "include").rglob("*.hpp"))
    source.write_text("".join(f'#include "{h}"\n' for h in headers), encoding="utf-8")
    compiler = [w for w in MACHINES[BOARDS[-1]][0] if not w.startswith(("-Wl", "-T", "--specs"))]
    subprocess.run([*compiler, *COMMON, "-fsyntax-only", str(source)], check=True)
    print(f"{len(headers)} headers compile for {BOARDS[-1]}")
    return []


def same_bits(folder):
    said = {}
    for machine in MACHINES:
        if machine == "x86-64 AVX2" and not has_avx2():
            print("x86-64 AVX2: not run, this processor has none")
            continue
        said[machine] = figures_of(run(machine, build(machine, "bits", folder)))
        print(f"{machine:12}", *(f"{said[machine][h]:016x}" for h in HASHES[:3]))
    differ = [h for h in HASHES[:3] if len({s[h] for s in said.values()}) != 1]
    return [f"{h} is not the same everywhere" for h in differ]


def handed_over(folder):
    """Between machines of one layout in memory a session goes on as if it had stayed."""
    wrong, state = [], folder / "session.saved"
    for begun, gone_on in (("x86-64", "aarch64"), ("aarch64", "x86-64")):
        there, here = (build(m, "handover", folder) for m in (begun, gone_on))
        run(begun, there, "save", str(state))
        got = run(gone_on, here, "go_on", str(state))
        if got != run(gone_on, here, "whole", str(state)):
            wrong.append(f"saved on {begun}, gone on with on {gone_on}: {got}")
        else:
            print(f"saved on {begun}, gone on with on {gone_on}: the same bits")
    return wrong


def costs(folder):
    wrong = []
    print(f"\n{'':12}{'':8}{'flash':>8}{'object':>8}{'stack':>7}{'begins':>7}{'per row':>9}"
          f"{'longest':>9}")
    for machine in BOARDS:
        file = build(machine, "nothing", folder)
        nothing = sizes_of(file)
        by_itself = figures_of(run(machine, file))["instructions_per_row"]
        for program in ("small", "chain", "text"):
            file = build(machine, program, folder)
            got = figures_of(run(machine, file))
            got["flash"] = sizes_of(file)["flash"] - nothing["flash"]
            per_row = got["instructions_per_row"] - by_itself
            longest = got["instructions_longest_row"] - by_itself
            print(f"{machine:12}{program:8}{got['flash']:8}{got['object']:8}{got['stack']:7}"
                  f"{got['stack_to_begin']:7}{per_row:9}{longest:9}")
            if machine == "Cortex-M7":
                wrong += [f"{program}: {what} is {got[what]}, above {most}"
                          for what, most in BOUNDS[program].items() if got[what] > most]
    print("bytes, instructions; flash: above a program that does nothing. small, chain: judging"
          " behind a driver;\ntext: reading lines. 2310 rows of eight channels, one a second")
    return wrong


def saving(folder):
    for machine in BOARDS:
        got = figures_of(run(machine, build(machine, "saving", folder)))
        print(f"{machine}: {got['instructions_to_save']} instructions to save the small chain "
              f"({got['bytes']} bytes), {got['instructions_to_restore']} to restore it")
    return []


def c_face(folder):
    """The test of the C face, on boards: its program knows nothing of where it runs."""
    for machine in BOARDS:
        compiler, port, _ = MACHINES[machine]
        face, parts = ROOT / "bindings" / "c", []
        options = ["-DNDEBUG", f"-I{face}", '-DSTILLING_VERSION="here"']
        for source, more in ((face / "stilling_c.cpp", COMMON), (HERE / port, COMMON),
                             (HERE.parent / "c" / "face_test.c", ["-std=c11", "-xc"])):
            parts.append(folder / f"{source.name}.{machine}.o")
            flags = [f for f in compiler if not f.startswith(("-Wl", "-T", "--specs"))]
            if source.suffix == ".c":  # what only C++ knows
                flags = [f for f in flags if f not in ("-fno-threadsafe-statics",
                                                       "-fno-use-cxa-atexit")]
            subprocess.run([*flags, *more, *options, "-c", str(source), "-o", str(parts[-1])],
                           check=True)
        out = folder / f"c_face.{machine}"
        # What printf would write to is not there, and says so; only the status counts.
        subprocess.run([*compiler, "-Wl,--no-warnings", *map(str, parts), "-o", str(out)],
                       check=True)
        run(machine, out)
        print(f"{machine}: the C face passes its test")
    return []


def firmware(folder):
    said = {}
    for machine in BOARDS:
        file = build(machine, "firmware", folder)
        out = run(machine, file)
        said[machine] = [line for line in out.splitlines() if line.startswith("|")]
        got = figures_of(out)
        print(f"\n{machine}: firmware of {sizes_of(file)['flash']} bytes of flash and "
              f"{sizes_of(file)['ram']} of RAM, stack {got['stack']}; {got['readings']} readings, "
              f"{got['bytes_lost']} bytes lost", end="")
    print("\n" + "\n".join(said[BOARDS[-1]]))
    return [] if said[BOARDS[0]] == said[BOARDS[1]] else ["the displays show different things"]


def main():
    folder = Path(sys.argv[1] if len(sys.argv) > 1 else "boards")
    folder.mkdir(parents=True, exist_ok=True)
    wrong = every_header(folder) + same_bits(folder) + handed_over(folder) + costs(folder)
    wrong += saving(folder) + c_face(folder) + firmware(folder)
    for word in wrong:
        print("wrong:", word)
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
