/* What the problems offer to the CVODE harness (harness.c). Matrices are given by entries: the harness stores them dense or sparse. */
#ifndef CVODE_BENCH_H
#define CVODE_BENCH_H

typedef struct {
  int size;
  int entries;          /* Jacobian entries in compressed-row order, columns ascending */
  int *row_start;
  int *columns;
  double end;           /* end of the run */
  double segment;       /* a pulse is added and the solver re-initialised every so often; equals end for none */
  int pulse;            /* component that is pulsed */
  double pulse_size;
  int samples;          /* interior output points of a segment, end included */
  double *start;
  double *absolute;     /* absolute tolerance at relative tolerance 1; scaled with the latter */
  void (*derivative)(double t, const double *y, double *out);
  void (*jacobian)(double t, const double *y, double *values);
} bench_problem;

bench_problem *reference_problem(int cells);
bench_problem *published_problem(const char *name);

#endif
