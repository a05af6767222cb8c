/*
 * Runs a bench problem with CVODE (BDF, Newton, exact Jacobian; Adams with fixed-point iteration for problems without one).
 * usage: harness <problem | cells> <dense | sparse | adams> <relative tolerance> <repeats> <file for the sampled states>
 * Prints one JSON line: least wall time of the repeats and the counts of one run. Memory and symbolic work are kept between repeats.
 */
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_dense.h>
#include <sunmatrix/sunmatrix_sparse.h>
#include <sunnonlinsol/sunnonlinsol_fixedpoint.h>
#include <time.h>
#include "cvode.h"

static bench_problem *problem;
static double *values;
static int *row_of_entry;
static int *by_column; /* compressed-row entry of each compressed-column entry */

static int rhs(realtype t, N_Vector y, N_Vector out, void *user) {
  (void)user;
  problem->derivative(t, NV_DATA_S(y), NV_DATA_S(out));
  return 0;
}

static int dense_jacobian(realtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *user, N_Vector a, N_Vector b, N_Vector c) {
  (void)fy, (void)user, (void)a, (void)b, (void)c;
  problem->jacobian(t, NV_DATA_S(y), values);
  for (int i = 0; i < problem->size; i++)
    for (int e = problem->row_start[i]; e < problem->row_start[i + 1]; e++) SM_ELEMENT_D(J, i, problem->columns[e]) = values[e];
  return 0;
}

static int sparse_jacobian(realtype t, N_Vector y, N_Vector fy, SUNMatrix J, void *user, N_Vector a, N_Vector b, N_Vector c) {
  (void)fy, (void)user, (void)a, (void)b, (void)c;
  problem->jacobian(t, NV_DATA_S(y), values);
  sunindextype *pointers = SM_INDEXPTRS_S(J), *rows = SM_INDEXVALS_S(J);
  double *data = SM_DATA_S(J);
  int at = 0;
  for (int j = 0; j < problem->size; j++) {
    pointers[j] = at;
    for (; at < problem->entries && problem->columns[by_column[at]] == j; at++) data[at] = values[by_column[at]];
  }
  pointers[problem->size] = at;
  for (int e = 0; e < at; e++) rows[e] = row_of_entry[by_column[e]];
  return 0;
}
static void check(int flag, const char *what) {
  if (flag >= 0) return;
  fprintf(stderr, "%s failed: %d\n", what, flag);
  exit(2);
}

int main(int argc, char **argv) {
  if (argc != 6) return 1;
  int cells = atoi(argv[1]);
  problem = cells > 0 ? reference_problem(cells) : published_problem(argv[1]);
  if (!problem) return 1;
  int adams = !strcmp(argv[2], "adams"), sparse = !strcmp(argv[2], "sparse");
  double relative = atof(argv[3]), best = 1e300;
  int repeats = atoi(argv[4]), n = problem->size;

  SUNContext context;
  SUNContext_Create(NULL, &context);
  N_Vector y = N_VNew_Serial(n, context), absolute = N_VNew_Serial(n, context);
  for (int i = 0; i < n; i++) NV_Ith_S(absolute, i) = relative * problem->absolute[i];
  values = malloc(problem->entries * sizeof *values);
  row_of_entry = malloc(problem->entries * sizeof *row_of_entry);
  by_column = malloc(problem->entries * sizeof *by_column);
  for (int i = 0; i < n; i++)
    for (int e = problem->row_start[i]; e < problem->row_start[i + 1]; e++) row_of_entry[e] = i;
  for (int j = 0, at = 0; j < n; j++)
    for (int e = 0; e < problem->entries; e++)
      if (problem->columns[e] == j) by_column[at++] = e;

  void *cvode = CVodeCreate(adams ? CV_ADAMS : CV_BDF, context);
  memcpy(NV_DATA_S(y), problem->start, n * sizeof(double));
  check(CVodeInit(cvode, rhs, 0, y), "init");
  check(CVodeSVtolerances(cvode, relative, absolute), "tolerances");
  CVodeSetMaxNumSteps(cvode, 10000000);
  if (adams) {
    check(CVodeSetNonlinearSolver(cvode, SUNNonlinSol_FixedPoint(y, 0, context)), "fixed point");
  } else {
    SUNMatrix J = sparse ? SUNSparseMatrix(n, n, problem->entries, CSC_MAT, context) : SUNDenseMatrix(n, n, context);
    SUNLinearSolver solver = sparse ? SUNLinSol_KLU(y, J, context) : SUNLinSol_Dense(y, J, context);
    check(CVodeSetLinearSolver(cvode, solver, J), "linear solver");
    check(CVodeSetJacFn(cvode, sparse ? sparse_jacobian : dense_jacobian), "jacobian");
  }

  int segments = (int)(problem->end / problem->segment + 0.5);
  double *samples = malloc((size_t)segments * problem->samples * n * sizeof *samples);
  long steps = 0, evaluations = 0, failures = 0, nonlinear = 0;
  for (int r = 0; r < repeats; r++) {
    struct timespec begin, finish;
    clock_gettime(CLOCK_MONOTONIC, &begin);
    steps = evaluations = failures = nonlinear = 0;
    memcpy(NV_DATA_S(y), problem->start, n * sizeof(double));
    double *out = samples;
    for (int k = 0; k < segments; k++) {
      double t = k * problem->segment, end = (k + 1) * problem->segment;
      if (problem->pulse >= 0) NV_Ith_S(y, problem->pulse) += problem->pulse_size;
      check(CVodeReInit(cvode, t, y), "reinit");
      CVodeSetStopTime(cvode, end);
      for (int s = 1; s <= problem->samples; s++) {
        double target = s == problem->samples ? end : t + s * problem->segment / problem->samples, reached = t;
        check(CVode(cvode, target, y, &reached, CV_NORMAL), "run");
        memcpy(out, NV_DATA_S(y), n * sizeof *out);
        out += n;
      }
      long a, b, c, d;
      CVodeGetNumSteps(cvode, &a);
      CVodeGetNumRhsEvals(cvode, &b);
      CVodeGetNumErrTestFails(cvode, &c);
      CVodeGetNumNonlinSolvConvFails(cvode, &d);
      steps += a, evaluations += b, failures += c, nonlinear += d;
    }
    clock_gettime(CLOCK_MONOTONIC, &finish);
    double ms = (finish.tv_sec - begin.tv_sec) * 1e3 + (finish.tv_nsec - begin.tv_nsec) * 1e-6;
    if (ms < best) best = ms;
  }
  FILE *file = fopen(argv[5], "wb");
  if (!file) return 1;
  fwrite(samples, sizeof *samples, (size_t)segments * problem->samples * n, file);
  fclose(file);
  printf("{\"wallMs\":%.6f,\"steps\":%ld,\"rejected\":%ld,\"rhs\":%ld}\n", best, steps, failures + nonlinear, evaluations);
  return 0;
}
