"""python -m tests.soak [part ...]: the long trials of what the workshop is trusted with, each printing its figures."""

import argparse
import importlib
import sys
import time

PARTS = (
    "kill",
    "writers",
    "uploads",
    "forms",
    "cut",
    "stopped",
    "full",
    "day",
    "backup",
    "upgrade",
    "processes",
    "proxy",
)


def main():
    parser = argparse.ArgumentParser(prog="python -m tests.soak")
    parser.add_argument("parts", nargs="*", choices=[*PARTS, []], help="all of them where none is named")
    parser.add_argument("--size", type=int, help="cycles, seconds or attempts instead of the usual")
    parser.add_argument("--seed", type=int, help="repeat the attempts of that seed")
    given = parser.parse_args()
    sizes = [one for one in (given.size,) if one is not None]
    more = {} if given.seed is None else {"seed": given.seed}
    passed = [_try(name, *sizes, **more) for name in given.parts or PARTS]
    sys.exit(0 if all(passed) else 1)


def _try(name, *sizes, **more):
    print(f"{name}:", flush=True)
    begun = time.monotonic()
    found = importlib.import_module(f"tests.soak.{name}").run(*sizes, **more)
    for line in found.told():
        print(line)
    word = "skipped" if found.skipped else "FAILED" if found.faults else "passed"
    print(f"  {word} after {time.monotonic() - begun:.0f} s", flush=True)
    return not found.faults


if __name__ == "__main__":
    main()
