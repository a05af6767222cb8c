/* Published test problems in C (Test Set for IVP Solvers, Mazzia & Magherini, University of Bari), as in tests/sim/problems.ts. */
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include "cvode.h"

static void robertson_f(double t, const double *y, double *o) {
  (void)t;
  o[0] = -0.04 * y[0] + 1e4 * y[1] * y[2];
  o[2] = 3e7 * y[1] * y[1];
  o[1] = -o[0] - o[2];
}
static void robertson_j(double t, const double *y, double *v) {
  (void)t;
  const double all[] = {-0.04, 1e4 * y[2], 1e4 * y[1], 0.04, -1e4 * y[2] - 6e7 * y[1], -1e4 * y[1], 0, 6e7 * y[1], 0};
  memcpy(v, all, sizeof all);
}

static void hires_f(double t, const double *y, double *o) {
  (void)t;
  o[0] = -1.71 * y[0] + 0.43 * y[1] + 8.32 * y[2] + 0.0007;
  o[1] = 1.71 * y[0] - 8.75 * y[1];
  o[2] = -10.03 * y[2] + 0.43 * y[3] + 0.035 * y[4];
  o[3] = 8.32 * y[1] + 1.71 * y[2] - 1.12 * y[3];
  o[4] = -1.745 * y[4] + 0.43 * (y[5] + y[6]);
  o[5] = -280 * y[5] * y[7] + 0.69 * y[3] + 1.71 * y[4] - 0.43 * y[5] + 0.69 * y[6];
  o[6] = 280 * y[5] * y[7] - 1.81 * y[6];
  o[7] = -o[6];
}
static void hires_j(double t, const double *y, double *v) {
  (void)t;
  memset(v, 0, 64 * sizeof *v);
  v[0] = -1.71, v[1] = 0.43, v[2] = 8.32;
  v[8] = 1.71, v[9] = -8.75;
  v[18] = -10.03, v[19] = 0.43, v[20] = 0.035;
  v[25] = 8.32, v[26] = 1.71, v[27] = -1.12;
  v[36] = -1.745, v[37] = 0.43, v[38] = 0.43;
  v[43] = 0.69, v[44] = 1.71, v[45] = -280 * y[7] - 0.43, v[46] = 0.69, v[47] = -280 * y[5];
  v[53] = 280 * y[7], v[54] = -1.81, v[55] = 280 * y[5];
  v[61] = -v[53], v[62] = 1.81, v[63] = -v[55];
}

static void vdpol_f(double t, const double *y, double *o) {
  (void)t;
  o[0] = y[1];
  o[1] = 1000 * (1 - y[0] * y[0]) * y[1] - y[0];
}
static void vdpol_j(double t, const double *y, double *v) {
  (void)t;
  v[0] = 0, v[1] = 1, v[2] = -2000 * y[0] * y[1] - 1, v[3] = 1000 * (1 - y[0] * y[0]);
}
static void vdpol_scaled_f(double t, const double *y, double *o) {
  (void)t;
  o[0] = y[1];
  o[1] = 1e6 * ((1 - y[0] * y[0]) * y[1] - y[0]);
}
static void vdpol_scaled_j(double t, const double *y, double *v) {
  (void)t;
  v[0] = 0, v[1] = 1, v[2] = 1e6 * (-2 * y[0] * y[1] - 1), v[3] = 1e6 * (1 - y[0] * y[0]);
}

static void orego_f(double t, const double *y, double *o) {
  (void)t;
  o[0] = 77.27 * (y[1] + y[0] * (1 - 8.375e-6 * y[0] - y[1]));
  o[1] = (y[2] - (1 + y[0]) * y[1]) / 77.27;
  o[2] = 0.161 * (y[0] - y[2]);
}
static void orego_j(double t, const double *y, double *v) {
  (void)t;
  const double all[] = {77.27 * (1 - 2 * 8.375e-6 * y[0] - y[1]), 77.27 * (1 - y[0]), 0, -y[1] / 77.27, -(1 + y[0]) / 77.27, 1 / 77.27,
                        0.161, 0, -0.161};
  memcpy(v, all, sizeof all);
}

static void pleiades_f(double t, const double *y, double *o) {
  (void)t;
  for (int i = 0; i < 7; i++) {
    double ax = 0, ay = 0;
    o[i] = y[i + 14];
    o[i + 7] = y[i + 21];
    for (int j = 0; j < 7; j++) {
      if (i == j) continue;
      double dx = y[j] - y[i], dy = y[j + 7] - y[i + 7], d2 = dx * dx + dy * dy, pull = (j + 1) / (d2 * sqrt(d2));
      ax += pull * dx;
      ay += pull * dy;
    }
    o[i + 14] = ax;
    o[i + 21] = ay;
  }
}

static struct {
  const char *name;
  int size;
  double end, start[28], scale[28];
  void (*derivative)(double, const double *, double *);
  void (*jacobian)(double, const double *, double *);
} table[] = {
    {"Robertson", 3, 1e11, {1, 0, 0}, {1e-2, 1e-8, 1}, robertson_f, robertson_j},
    {"HIRES", 8, 321.8122, {1, 0, 0, 0, 0, 0, 0, 0.0057}, {1, 1, 1, 1, 1, 1, 0.0057, 0.0057}, hires_f, hires_j},
    {"Van der Pol", 2, 2000, {2, 0}, {1, 1e-3}, vdpol_f, vdpol_j},
    {"Van der Pol, scaled", 2, 2, {2, 0}, {1, 1}, vdpol_scaled_f, vdpol_scaled_j},
    {"OREGO", 3, 360, {1, 2, 3}, {1, 1, 1}, orego_f, orego_j},
    {"Pleiades", 28, 3, {3, 3, -1, -3, 2, -2, 2, 3, -3, 2, 0, 0, -4, 4, 0, 0, 0, 0, 0, 1.75, -1.5, 0, 0, 0, -1.25, 1, 0, 0},
     {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1}, pleiades_f, 0},
};

bench_problem *published_problem(const char *name) {
  static bench_problem problem;
  for (unsigned k = 0; k < sizeof table / sizeof *table; k++) {
    if (strcmp(table[k].name, name)) continue;
    int n = table[k].size;
    int *row_start = malloc((n + 1) * sizeof *row_start), *columns = malloc(n * n * sizeof *columns);
    for (int i = 0; i <= n; i++) row_start[i] = i * n;
    for (int e = 0; e < n * n; e++) columns[e] = e % n;
    double *absolute = malloc(n * sizeof *absolute);
    for (int i = 0; i < n; i++) absolute[i] = 1e-3 * table[k].scale[i];
    problem = (bench_problem){n, n * n, row_start, columns, table[k].end, table[k].end, -1, 0, 1, table[k].start, absolute,
                              table[k].derivative, table[k].jacobian};
    return &problem;
  }
  return 0;
}
