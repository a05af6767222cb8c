# Runs a bench problem with SciPy, equations and Jacobian from the compiled library (so that Python's own speed weighs little).
# usage: scipy-bench.py <library> <problem | cells> <method> <relative tolerance> <file for the sampled states>
import ctypes
import json
import sys
import time

import numpy
from scipy.integrate import solve_ivp

DOUBLES = ctypes.POINTER(ctypes.c_double)
INTS = ctypes.POINTER(ctypes.c_int)
FUNCTION = ctypes.CFUNCTYPE(None, ctypes.c_double, DOUBLES, DOUBLES)


class Problem(ctypes.Structure):
    _fields_ = [
        ("size", ctypes.c_int),
        ("entries", ctypes.c_int),
        ("row_start", INTS),
        ("columns", INTS),
        ("end", ctypes.c_double),
        ("segment", ctypes.c_double),
        ("pulse", ctypes.c_int),
        ("pulse_size", ctypes.c_double),
        ("samples", ctypes.c_int),
        ("start", DOUBLES),
        ("absolute", DOUBLES),
        ("derivative", FUNCTION),
        ("jacobian", FUNCTION),
    ]


library = ctypes.CDLL(sys.argv[1])
library.reference_problem.restype = ctypes.POINTER(Problem)
library.published_problem.restype = ctypes.POINTER(Problem)
key, method, relative = sys.argv[2], sys.argv[3], float(sys.argv[4])
problem = (library.reference_problem(int(key)) if key.isdigit() else library.published_problem(key.encode())).contents
n = problem.size
rows = numpy.repeat(numpy.arange(n), numpy.diff(numpy.ctypeslib.as_array(problem.row_start, (n + 1,))))
columns = numpy.ctypeslib.as_array(problem.columns, (problem.entries,)).copy()
values = numpy.zeros(problem.entries)


def pointer(array):
    return array.ctypes.data_as(DOUBLES)


def derivative(t, y):
    out = numpy.empty(n)
    problem.derivative(t, pointer(numpy.ascontiguousarray(y)), pointer(out))
    return out


def jacobian(t, y):
    problem.jacobian(t, pointer(numpy.ascontiguousarray(y)), pointer(values))
    dense = numpy.zeros((n, n))
    dense[rows, columns] = values
    return dense


y = numpy.ctypeslib.as_array(problem.start, (n,)).copy()
absolute = relative * numpy.ctypeslib.as_array(problem.absolute, (n,))
segments = round(problem.end / problem.segment)
samples, steps, evaluations = [], 0, 0
has_jacobian = bool(ctypes.cast(problem.jacobian, ctypes.c_void_p).value)
begin = time.perf_counter()
for k in range(segments):
    start, end = k * problem.segment, (k + 1) * problem.segment
    if problem.pulse >= 0:
        y[problem.pulse] += problem.pulse_size
    at = start + problem.segment * numpy.arange(1, problem.samples + 1) / problem.samples
    at[-1] = end
    options = {"jac": jacobian} if has_jacobian else {}
    result = solve_ivp(derivative, (start, end), y, method=method, t_eval=at, rtol=relative, atol=absolute, **options)
    if not result.success:
        sys.exit(result.message)
    y = result.y[:, -1].copy()
    samples.append(result.y.T)
    evaluations += result.nfev
wall = (time.perf_counter() - begin) * 1e3
numpy.concatenate(samples).astype(numpy.float64).tofile(sys.argv[5])
print(json.dumps({"wallMs": wall, "steps": 0, "rejected": 0, "rhs": int(evaluations)}))
