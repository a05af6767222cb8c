/* The reference aquarium problem in C: the same equations, constants and order of components as reference-problem.ts. */
#include <stdlib.h>
#include <string.h>
#include "cvode.h"

enum { TAN, NO2, NO3, O2, COD, ALK, AOB, NOB, HET };
enum { SOLUTES = 6, FILM = 9, PROCESSES = 4, PARTIALS = 14 };

static const double mu_aob = 0.75, mu_nob = 0.65, mu_het = 6, anoxic = 0.6;
static const double k_tan = 0.3, k_no2 = 0.3, k_no3 = 0.5, k_o2_aob = 0.5, k_o2_nob = 1.0, k_o2_het = 0.2, k_cod = 20, k_alk = 0.5;
static const double y_aob = 0.15, y_nob = 0.05, y_het = 0.63, n_in_biomass = 0.086, debris = 0.08;
static const double decay[3] = {0.1, 0.1, 0.3};
static const double full_film = 3e4, detach = 1.2, film_volume = 1e-3;
static const double exchange[SOLUTES] = {12, 12, 12, 14, 6, 10};
static const double display_volume = 0.3, sump_volume = 0.08, flow = 36, tower_hold_up = 36.0 / 8640;
static const double saturation = 8.3, kla_display = 24, kla_tower = 1500, kla_sump = 12, respiration = 60;
static const double gut_emptying = 6, tan_per_gut = 1, cod_per_gut = 6, feed = 0.2, days = 90, feed_every = 0.5;

typedef struct { int component; double nu; } term;
static term stoichiometry[PROCESSES][5];
static const int terms[PROCESSES] = {5, 5, 4, 5};
static const int depends_on[PROCESSES][4] = {{TAN, O2, ALK, AOB}, {NO2, O2, NOB}, {O2, COD, HET}, {NO3, O2, COD, HET}};
static const int depends[PROCESSES] = {4, 3, 3, 4};

static int cells, films, size, gut, entries, partials_used;
static double *volume, *kla, *share, *fixed;
static int *row_start, *columns, *slots, *loss_slots, respiration_slot;
static int *which;
static double *factor;

static int cell(int c, int s) { return c * SOLUTES + s; }
static int film(int f, int s) { return cells * SOLUTES + f * FILM + s; }

static inline double monod(double c, double k) { return c > 0 ? c / (k + c) : 0; }
static inline double monod_slope(double c, double k) { return c > 0 ? k / ((k + c) * (k + c)) : 0; }
static inline double inhibition(double c, double k) { return c > 0 ? k / (k + c) : 1; }
static inline double inhibition_slope(double c, double k) { return c > 0 ? -k / ((k + c) * (k + c)) : 0; }

static void derivative(double t, const double *y, double *out) {
  (void)t;
  for (int c = 0; c < cells; c++) {
    const double *here = y + c * SOLUTES, *up = y + (c == 0 ? cells - 1 : c - 1) * SOLUTES;
    double rate = flow / volume[c], *o = out + c * SOLUTES;
    for (int s = 0; s < SOLUTES; s++) o[s] = rate * (up[s] - here[s]);
    o[O2] += kla[c] * (saturation - here[O2]);
  }
  out[O2] -= respiration * monod(y[O2], k_o2_aob);
  double release = gut_emptying * y[gut] / display_volume;
  out[TAN] += tan_per_gut * release;
  out[COD] += cod_per_gut * release;
  out[ALK] += tan_per_gut / 14 * release;
  out[gut] = -gut_emptying * y[gut];
  for (int f = 0; f < films; f++) {
    const double *m = y + cells * SOLUTES + f * FILM, *w = y + (f + 1) * SOLUTES;
    double *om = out + cells * SOLUTES + f * FILM, *ow = out + (f + 1) * SOLUTES;
    double to_water = share[f] / volume[f + 1];
    for (int s = 0; s < SOLUTES; s++) {
      double d = exchange[s] * (w[s] - m[s]);
      om[s] = d / film_volume;
      ow[s] -= d * to_water;
    }
    double oxygen = m[O2], a = m[AOB], n = m[NOB], h = m[HET];
    double ra = mu_aob * monod(m[TAN], k_tan) * monod(oxygen, k_o2_aob) * monod(m[ALK], k_alk) * a;
    double rn = mu_nob * monod(m[NO2], k_no2) * monod(oxygen, k_o2_nob) * n;
    double feeding = mu_het * monod(m[COD], k_cod) * h;
    double rh = feeding * monod(oxygen, k_o2_het);
    double rx = anoxic * feeding * inhibition(oxygen, k_o2_het) * monod(m[NO3], k_no3);
    om[TAN] -= ra / y_aob + n_in_biomass * (ra + rn + rh + rx);
    om[NO2] += ra / y_aob - rn / y_nob;
    om[NO3] += rn / y_nob - (1 - y_het) / (2.86 * y_het) * rx;
    om[O2] -= (3.43 - y_aob) / y_aob * ra + (1.14 - y_nob) / y_nob * rn + (1 - y_het) / y_het * rh;
    om[COD] -= (rh + rx) / y_het;
    om[ALK] -= 2.0 / 14 / y_aob * ra - (1 - y_het) / (2.86 * y_het * 14) * rx;
    double lost = detach * (a + n + h) / full_film;
    om[AOB] = ra - (decay[0] + lost) * a;
    om[NOB] = rn - (decay[1] + lost) * n;
    om[HET] = rh + rx - (decay[2] + lost) * h;
    double dead = decay[0] * a + decay[1] * n + decay[2] * h;
    om[TAN] += debris * n_in_biomass * dead;
    om[COD] += (1 - debris) * dead;
  }
}

static void jacobian(double t, const double *y, double *values) {
  double p[PARTIALS];
  (void)t;
  memcpy(values, fixed, entries * sizeof *values);
  values[respiration_slot] -= respiration * monod_slope(y[O2], k_o2_aob);
  for (int f = 0; f < films; f++) {
    const double *m = y + cells * SOLUTES + f * FILM;
    double oxygen = m[O2], a = m[AOB], n = m[NOB], h = m[HET];
    double m_tan = monod(m[TAN], k_tan), m_o = monod(oxygen, k_o2_aob), m_alk = monod(m[ALK], k_alk);
    p[0] = mu_aob * monod_slope(m[TAN], k_tan) * m_o * m_alk * a;
    p[1] = mu_aob * m_tan * monod_slope(oxygen, k_o2_aob) * m_alk * a;
    p[2] = mu_aob * m_tan * m_o * monod_slope(m[ALK], k_alk) * a;
    p[3] = mu_aob * m_tan * m_o * m_alk;
    double m_no2 = monod(m[NO2], k_no2), m_on = monod(oxygen, k_o2_nob);
    p[4] = mu_nob * monod_slope(m[NO2], k_no2) * m_on * n;
    p[5] = mu_nob * m_no2 * monod_slope(oxygen, k_o2_nob) * n;
    p[6] = mu_nob * m_no2 * m_on;
    double m_cod = monod(m[COD], k_cod), m_oh = monod(oxygen, k_o2_het), d_cod = monod_slope(m[COD], k_cod);
    p[7] = mu_het * m_cod * monod_slope(oxygen, k_o2_het) * h;
    p[8] = mu_het * d_cod * m_oh * h;
    p[9] = mu_het * m_cod * m_oh;
    double mu_x = anoxic * mu_het, m_no3 = monod(m[NO3], k_no3), inhibited = inhibition(oxygen, k_o2_het);
    p[10] = mu_x * m_cod * inhibited * monod_slope(m[NO3], k_no3) * h;
    p[11] = mu_x * m_cod * inhibition_slope(oxygen, k_o2_het) * m_no3 * h;
    p[12] = mu_x * d_cod * inhibited * m_no3 * h;
    p[13] = mu_x * m_cod * inhibited * m_no3;
    const int *s = slots + f * partials_used;
    for (int e = 0; e < partials_used; e++) values[s[e]] += factor[e] * p[which[e]];
    const int *l = loss_slots + f * 15;
    double density = detach / full_film, lost = density * (a + n + h), x[3] = {a, n, h};
    for (int i = 0; i < 3; i++)
      for (int j = 0; j < 3; j++) values[l[3 * i + j]] -= density * x[i] + (i == j ? decay[i] + lost : 0);
    for (int j = 0; j < 3; j++) {
      values[l[9 + j]] += debris * n_in_biomass * decay[j];
      values[l[12 + j]] += (1 - debris) * decay[j];
    }
  }
}

static int slot(int i, int j) {
  for (int e = row_start[i]; e < row_start[i + 1]; e++)
    if (columns[e] == j) return e;
  abort();
}

static void fill_stoichiometry(void) {
  const term all[PROCESSES][5] = {
      {{TAN, -1 / y_aob - n_in_biomass}, {NO2, 1 / y_aob}, {O2, -(3.43 - y_aob) / y_aob}, {ALK, -2.0 / 14 / y_aob}, {AOB, 1}},
      {{TAN, -n_in_biomass}, {NO2, -1 / y_nob}, {NO3, 1 / y_nob}, {O2, -(1.14 - y_nob) / y_nob}, {NOB, 1}},
      {{TAN, -n_in_biomass}, {O2, -(1 - y_het) / y_het}, {COD, -1 / y_het}, {HET, 1}},
      {{TAN, -n_in_biomass}, {NO3, -(1 - y_het) / (2.86 * y_het)}, {COD, -1 / y_het}, {ALK, (1 - y_het) / (2.86 * y_het * 14)}, {HET, 1}}};
  memcpy(stoichiometry, all, sizeof all);
}

bench_problem *reference_problem(int cell_count) {
  cells = cell_count;
  films = cells - 1;
  size = cells * SOLUTES + films * FILM + 1;
  gut = size - 1;
  fill_stoichiometry();
  volume = malloc(cells * sizeof *volume);
  kla = malloc(cells * sizeof *kla);
  share = malloc(films * sizeof *share);
  for (int c = 0; c < cells; c++) {
    volume[c] = c == 0 ? display_volume : c == cells - 1 ? sump_volume : tower_hold_up / (cells - 2);
    kla[c] = c == 0 ? kla_display : c == cells - 1 ? kla_sump : kla_tower;
  }
  for (int f = 0; f < films; f++) share[f] = f == films - 1 ? 1 : 2.0 / (cells - 2);

  char *used = calloc((size_t)size * size, 1);
#define USE(i, j) used[(size_t)(i) * size + (j)] = 1
  for (int i = 0; i < size; i++) USE(i, i);
  for (int c = 0; c < cells; c++)
    for (int s = 0; s < SOLUTES; s++) {
      USE(cell(c, s), cell((c + cells - 1) % cells, s));
      if (c > 0) USE(cell(c, s), film(c - 1, s)), USE(film(c - 1, s), cell(c, s));
    }
  USE(cell(0, TAN), gut), USE(cell(0, COD), gut), USE(cell(0, ALK), gut);
  const int loss_rows[5] = {AOB, NOB, HET, TAN, COD};
  for (int f = 0; f < films; f++) {
    for (int k = 0; k < PROCESSES; k++)
      for (int i = 0; i < terms[k]; i++)
        for (int j = 0; j < depends[k]; j++) USE(film(f, stoichiometry[k][i].component), film(f, depends_on[k][j]));
    for (int i = 0; i < 5; i++)
      for (int j = AOB; j <= HET; j++) USE(film(f, loss_rows[i]), film(f, j));
  }
  row_start = malloc((size + 1) * sizeof *row_start);
  columns = malloc((size_t)size * size * sizeof *columns);
  entries = 0;
  for (int i = 0; i < size; i++) {
    row_start[i] = entries;
    for (int j = 0; j < size; j++)
      if (used[(size_t)i * size + j]) columns[entries++] = j;
  }
  row_start[size] = entries;
  free(used);

  fixed = calloc(entries, sizeof *fixed);
  for (int c = 0; c < cells; c++)
    for (int s = 0; s < SOLUTES; s++) {
      int i = cell(c, s);
      fixed[slot(i, i)] -= flow / volume[c] + (s == O2 ? kla[c] : 0);
      fixed[slot(i, cell((c + cells - 1) % cells, s))] += flow / volume[c];
      if (c == 0) continue;
      int j = film(c - 1, s);
      double e = exchange[s] * share[c - 1];
      fixed[slot(i, i)] -= e / volume[c];
      fixed[slot(i, j)] += e / volume[c];
      fixed[slot(j, j)] -= e / (film_volume * share[c - 1]);
      fixed[slot(j, i)] += e / (film_volume * share[c - 1]);
    }
  fixed[slot(cell(0, TAN), gut)] += gut_emptying * tan_per_gut / display_volume;
  fixed[slot(cell(0, COD), gut)] += gut_emptying * cod_per_gut / display_volume;
  fixed[slot(cell(0, ALK), gut)] += gut_emptying * tan_per_gut / 14 / display_volume;
  fixed[slot(gut, gut)] -= gut_emptying;
  respiration_slot = slot(cell(0, O2), cell(0, O2));

  slots = malloc((size_t)films * 100 * sizeof *slots);
  which = malloc(100 * sizeof *which);
  factor = malloc(100 * sizeof *factor);
  partials_used = 0;
  for (int k = 0, base = 0; k < PROCESSES; base += depends[k], k++)
    for (int i = 0; i < terms[k]; i++)
      for (int j = 0; j < depends[k]; j++) {
        which[partials_used] = base + j;
        factor[partials_used++] = stoichiometry[k][i].nu;
      }
  for (int f = 0; f < films; f++)
    for (int k = 0, e = 0; k < PROCESSES; k++)
      for (int i = 0; i < terms[k]; i++)
        for (int j = 0; j < depends[k]; j++, e++)
          slots[f * partials_used + e] = slot(film(f, stoichiometry[k][i].component), film(f, depends_on[k][j]));
  loss_slots = malloc((size_t)films * 15 * sizeof *loss_slots);
  for (int f = 0; f < films; f++)
    for (int i = 0; i < 5; i++)
      for (int j = 0; j < 3; j++) loss_slots[f * 15 + 3 * i + j] = slot(film(f, loss_rows[i]), film(f, AOB + j));

  static bench_problem problem;
  double *start = malloc(size * sizeof *start), *absolute = malloc(size * sizeof *absolute);
  const double water[SOLUTES] = {0.1, 0.01, 5, 8, 1, 2.5}, bacteria[3] = {1, 0.5, 50};
  for (int i = 0; i < size; i++) absolute[i] = 10;
  for (int c = 0; c < cells; c++) memcpy(start + cell(c, 0), water, sizeof water);
  for (int f = 0; f < films; f++) {
    memcpy(start + film(f, 0), water, sizeof water);
    memcpy(start + film(f, AOB), bacteria, sizeof bacteria);
    for (int i = AOB; i <= HET; i++) absolute[film(f, i)] = 1000;
  }
  start[gut] = 0;
  problem = (bench_problem){size, entries, row_start, columns, days, feed_every, gut, feed, 2, start, absolute, derivative, jacobian};
  return &problem;
}
