#!/usr/bin/env python3
"""Runs a notebook and holds what its cells print against what the file says they print. Returns
77, which skips the test, where nbclient or the kernel of Python is not installed.

LEASTWISE_UPDATE_EXPECTED=1 writes what was printed into the file. Pages are asked for and looked
at, but not kept in the file.

    run_notebook.py NOTEBOOK
"""
import copy
import os
import pathlib
import sys

try:
    import ipykernel  # noqa: F401, the kernel that runs the cells
    import nbformat
    from nbclient import NotebookClient
except ImportError as missing:
    print(f"{missing.name} is not installed: the notebook is not run")
    sys.exit(77)


def kept(output):
    """What of an output stands in the file."""
    if output["output_type"] == "stream":
        return {"output_type": "stream", "name": output["name"], "text": output["text"]}
    return {"output_type": "execute_result", "execution_count": output.get("execution_count"),
            "metadata": {}, "data": {"text/plain": output["data"]["text/plain"]}}


def complaints(before, after):
    for number, (old, new) in enumerate(zip(before.cells, after.cells), start=1):
        if new.cell_type != "code":
            continue
        found = [kept(output) for output in new.outputs]
        if found != [dict(output) for output in old.outputs]:
            yield f"cell {number} prints\n{found}\nnot\n{old.outputs}"
        for output in new.outputs:
            page = output.get("data", {}).get("text/html", "")
            if "Blend" in str(output.get("data", {}).get("text/plain", "")) and not (
                    page.startswith("<iframe") and "svg" in page):
                yield f"cell {number} shows no page with pictures"
    pages = sum("text/html" in output.get("data", {}) for cell in after.cells
                for output in cell.get("outputs", []))
    if pages == 0:
        yield "no cell shows a page"


def main(arguments):
    if len(arguments) != 1:
        print(__doc__, file=sys.stderr)
        return 2
    file = pathlib.Path(arguments[0])
    before = nbformat.read(file, as_version=4)
    after = copy.deepcopy(before)
    NotebookClient(after, timeout=120, resources={"metadata": {"path": file.parent}}).execute()
    if os.environ.get("LEASTWISE_UPDATE_EXPECTED"):
        for old, new in zip(before.cells, after.cells):
            if new.cell_type == "code":
                old.execution_count = new.execution_count
                old.outputs = [nbformat.from_dict(kept(output)) for output in new.outputs]
        nbformat.write(before, file)
    found = list(complaints(before, after))
    for complaint in found:
        print(complaint)
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
