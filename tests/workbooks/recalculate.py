"""Recalculates every formula of a workbook that `kerfmark reconcile --out X.xlsx` wrote, with a program
that has nothing to do with this one, and compares with the results that stand in the workbook.

    pip install openpyxl formulas
    python recalculate.py X.xlsx

Prints how many formulas there are and how many differ by more than half a nanometre; exits 1 if any does.
"""

import os
import sys

import formulas
import openpyxl


def main(path):
    computed = formulas.ExcelModel().loads(path).finish().calculate()
    computed = {str(key).upper(): value for key, value in computed.items()}
    written = openpyxl.load_workbook(path)
    stored = openpyxl.load_workbook(path, data_only=True)
    count = differ = 0
    for sheet in written:
        for row in sheet.iter_rows():
            for cell in row:
                if not (isinstance(cell.value, str) and cell.value.startswith("=")):
                    continue
                key = "'[%s]%s'!%s" % (os.path.basename(path), sheet.title, cell.coordinate)
                result = float(computed[key.upper()].value[0, 0])
                expected = float(stored[sheet.title][cell.coordinate].value)
                count += 1
                if abs(result - expected) > 5e-10:
                    differ += 1
                    print(sheet.title, cell.coordinate, cell.value, result, expected)
    print(count, "formulas recalculated,", differ, "differ")
    return 1 if differ or not count else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
