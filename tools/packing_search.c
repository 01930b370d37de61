/* Search for the smallest circle round equal discs, for the packaged table; compiled and called by packing_table.py.

   packing_search COUNT HOPS SEED STOP_AT    prints 2 COUNT numbers, x and y by turns, in radii of a disc

   Minimises R + (stiffness / 2) * sum(overlap^2) over the centres and R (D. C. Liu, J. Nocedal, Math. Program. 45
   (1989) 503-528), stiffness rising, from random, hexagonal and curved hexagonal starts; then monotone basin hopping
   (A. Grosso, A. Jamali, M. Locatelli, F. Schoen, J. Global Optim. 47 (2010) 63-81). A hop moves discs into holes,
   shakes a part or all, or turns the inner part. Hops are counted, not seconds: one seed, one answer. */
#include <math.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#define MOST 260
#define MEMORY 8
#define SKIN 0.8
#define TURN 6.283185307179586

static int n, size;
static uint64_t state;

static double uniform(void) { /* splitmix64 */
  uint64_t z = (state += 0x9E3779B97F4A7C15ULL);
  z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9ULL;
  z = (z ^ (z >> 27)) * 0x94D049BB133111EBULL;
  return ((z ^ (z >> 31)) >> 11) * (1.0 / 9007199254740992.0);
}

static double normal(void) { return sqrt(-2 * log(uniform() + 1e-300)) * cos(TURN * uniform()); }

/* ---- energy */

static int near_a[MOST * 40], near_b[MOST * 40], near_count;
static double anchor[2 * MOST], overlap_sum;

static void list_pairs(const double *z) {
  double reach = 2 + SKIN;
  near_count = 0;
  for (int i = 0; i < n; i++)
    for (int j = i + 1; j < n; j++) {
      double dx = z[2 * i] - z[2 * j], dy = z[2 * i + 1] - z[2 * j + 1];
      if (dx * dx + dy * dy < reach * reach && near_count < MOST * 40) {
        near_a[near_count] = i;
        near_b[near_count++] = j;
      }
    }
  memcpy(anchor, z, sizeof(double) * 2 * n);
}

static void refresh_pairs(const double *z) {
  double most = 0;
  for (int k = 0; k < 2 * n; k++) most = fmax(most, fabs(z[k] - anchor[k]));
  if (most > SKIN * 0.35) list_pairs(z);
}

static double energy(const double *z, double *slope, double stiffness) {
  double sum = 0, radius = z[2 * n], slope_radius = 1;
  memset(slope, 0, sizeof(double) * size);
  for (int k = 0; k < near_count; k++) {
    int i = 2 * near_a[k], j = 2 * near_b[k];
    double dx = z[i] - z[j], dy = z[i + 1] - z[j + 1], square = dx * dx + dy * dy;
    if (square >= 4) continue;
    double apart = sqrt(square) + 1e-12, over = 2 - apart, push = stiffness * over / apart;
    sum += over * over;
    slope[i] -= push * dx, slope[i + 1] -= push * dy;
    slope[j] += push * dx, slope[j + 1] += push * dy;
  }
  for (int i = 0; i < 2 * n; i += 2) {
    double out = hypot(z[i], z[i + 1]), over = out + 1 - radius;
    if (over <= 0) continue;
    double pull = stiffness * over / fmax(out, 1e-12);
    sum += over * over;
    slope[i] += pull * z[i], slope[i + 1] += pull * z[i + 1];
    slope_radius -= stiffness * over;
  }
  slope[2 * n] = slope_radius;
  overlap_sum = sum;
  return radius + 0.5 * stiffness * sum;
}

/* ---- L-BFGS */

static double past_z[MEMORY][2 * MOST + 1], past_slope[MEMORY][2 * MOST + 1], rho[MEMORY];

static double dot(const double *a, const double *b) {
  double sum = 0;
  for (int k = 0; k < size; k++) sum += a[k] * b[k];
  return sum;
}

static double longest(const double *a) {
  double most = 0;
  for (int k = 0; k < size; k++) most = fmax(most, fabs(a[k]));
  return most;
}

static void descent(double *way, const double *slope, double stiffness, int kept, int head) {
  double alpha[MEMORY], scale = 0.5 / stiffness;
  memcpy(way, slope, sizeof(double) * size);
  for (int k = 0; k < kept; k++) {
    int q = (head - 1 - k + 2 * MEMORY) % MEMORY;
    alpha[q] = rho[q] * dot(past_z[q], way);
    for (int i = 0; i < size; i++) way[i] -= alpha[q] * past_slope[q][i];
  }
  if (kept) {
    int q = (head - 1 + MEMORY) % MEMORY;
    scale = 1.0 / (rho[q] * dot(past_slope[q], past_slope[q]));
  }
  for (int i = 0; i < size; i++) way[i] *= scale;
  for (int k = kept - 1; k >= 0; k--) {
    int q = (head - 1 - k + 2 * MEMORY) % MEMORY;
    double beta = rho[q] * dot(past_slope[q], way);
    for (int i = 0; i < size; i++) way[i] += (alpha[q] - beta) * past_z[q][i];
  }
}

/* Minimise in place; the return value estimates the container without overlaps to first order. */
static double minimise(double *z, double stiffness, int steps, double flat) {
  static double slope[2 * MOST + 1], new_slope[2 * MOST + 1], way[2 * MOST + 1], trial[2 * MOST + 1];
  int kept = 0, head = 0;
  list_pairs(z);
  double value = energy(z, slope, stiffness), overlap = overlap_sum;
  for (int pass = 0; pass < steps && longest(slope) >= flat; pass++) {
    descent(way, slope, stiffness, kept, head);
    double fall = dot(slope, way);
    if (fall <= 0) {
      for (int i = 0; i < size; i++) way[i] = slope[i] * 0.5 / stiffness;
      fall = dot(slope, way);
      kept = 0;
    }
    double step = fmin(1.0, 0.4 / fmax(longest(way), 1e-300)), new_value = 0;
    int found = 0;
    for (int tries = 0; tries < 12 && !found; tries++) {
      for (int i = 0; i < size; i++) trial[i] = z[i] - step * way[i];
      refresh_pairs(trial);
      new_value = energy(trial, new_slope, stiffness);
      found = new_value <= value - 1e-4 * step * fall;
      if (!found) step *= 0.4;
    }
    if (!found && !kept) break;
    if (!found) { kept = 0; continue; }
    for (int i = 0; i < size; i++) past_z[head][i] = trial[i] - z[i], past_slope[head][i] = new_slope[i] - slope[i];
    double curve = dot(past_z[head], past_slope[head]), gain = value - new_value;
    memcpy(z, trial, sizeof(double) * size);
    memcpy(slope, new_slope, sizeof(double) * size);
    value = new_value, overlap = overlap_sum;
    if (curve > 1e-14) {
      rho[head] = 1 / curve;
      head = (head + 1) % MEMORY;
      if (kept < MEMORY) kept++;
    }
    if (gain < 1e-13 * value) break;
  }
  return z[2 * n] + stiffness * overlap;
}

/* Squeeze from soft to stiff; what stays hopelessly above `bar` is given up on the way. */
static double squeeze(double *z, int from_scratch, double bar) {
  if (from_scratch) minimise(z, 2, 400, 1e-4);
  double estimate = minimise(z, 10, 100, 1e-4);
  if (!from_scratch && estimate > bar * 1.004) return estimate;
  estimate = minimise(z, 50, 100, 1e-4);
  if (!from_scratch && estimate > bar * 1.0008) return estimate;
  estimate = minimise(z, 300, 150, 1e-5);
  if (estimate > bar * 1.0001) return estimate;
  return minimise(z, 3000, 300, 1e-6);
}

/* ---- starts */

static void close_round(double *z) {
  z[2 * n] = 0;
  for (int i = 0; i < 2 * n; i++) z[i] += 0.05 * normal();
  for (int i = 0; i < n; i++) z[2 * n] = fmax(z[2 * n], hypot(z[2 * i], z[2 * i + 1]) + 1);
}

static void scattered(double *z) {
  for (int i = 0; i < n; i++) {
    double out = 1.1 * sqrt(n) * sqrt(uniform()), angle = TURN * uniform();
    z[2 * i] = out * cos(angle), z[2 * i + 1] = out * sin(angle);
  }
  close_round(z);
}

static void hexagonal(double *z) {
  static double away[4000], x[4000], y[4000];
  int count = 0, side = (int)sqrt(n) + 4;
  double right = uniform(), up = uniform(), turn = TURN * uniform();
  if (uniform() < 0.3) right = up = 0;
  else if (uniform() < 0.3) right = 0.5, up = 0;
  else if (uniform() < 0.3) right = up = 1.0 / 3;
  for (int i = -side; i <= side; i++)
    for (int j = -side; j <= side && count < 4000; j++, count++) {
      x[count] = 2 * (i - right + 0.5 * (j - up)), y[count] = 2 * 0.8660254037844386 * (j - up);
      away[count] = x[count] * x[count] + y[count] * y[count] + 1e-9 * uniform();
    }
  for (int k = 0; k < n; k++) {
    int best = -1;
    for (int q = 0; q < count; q++)
      if (away[q] >= 0 && (best < 0 || away[q] < away[best])) best = q;
    z[2 * k] = x[best] * cos(turn) - y[best] * sin(turn), z[2 * k + 1] = x[best] * sin(turn) + y[best] * cos(turn);
    away[best] = -1;
  }
  close_round(z);
}

static void curved_hexagonal(double *z) {
  int k = 1, whole = uniform() < 0.5;
  double turn = 0;
  z[0] = z[1] = 0;
  for (int ring = 1; k < n; ring++) {
    int full = 6 * ring, left = n - k, from = (int)(uniform() * full);
    turn += ring > 1 ? asin(1.0 / (2 * ring)) : 0;
    for (int s = 0; s < full && k < n; s++, k++) {
      double angle = TURN * ((s + (left < full ? from : 0)) % full) / full + (whole ? turn : turn * uniform());
      z[2 * k] = 2 * ring * cos(angle), z[2 * k + 1] = 2 * ring * sin(angle);
    }
  }
  close_round(z);
}

static void start(double *z) {
  double pick = uniform();
  if (pick < 0.35) scattered(z);
  else if (pick < 0.85) hexagonal(z);
  else curved_hexagonal(z);
}

/* ---- changes */

static double room_at(const double *z, int without, double x, double y) {
  double room = z[2 * n] - hypot(x, y);
  for (int i = 0; i < n; i++)
    if (i != without) room = fmin(room, hypot(x - z[2 * i], y - z[2 * i + 1]) - 1);
  return room;
}

/* One disc into one of the eight widest holes of 400 places tried. */
static void jump(double *z) {
  double hole[9][3];
  int disc = (int)(uniform() * n), count = 0;
  for (int tries = 0; tries < 400; tries++) {
    double out = z[2 * n] * sqrt(uniform()), angle = TURN * uniform(), x = out * cos(angle), y = out * sin(angle);
    double room = room_at(z, disc, x, y);
    if (count == 8 && room <= hole[7][2]) continue;
    int place = count < 8 ? count++ : 7;
    for (; place > 0 && hole[place - 1][2] < room; place--) memcpy(hole[place], hole[place - 1], sizeof hole[0]);
    hole[place][0] = x, hole[place][1] = y, hole[place][2] = room;
  }
  int pick = (int)(uniform() * count);
  z[2 * disc] = hole[pick][0], z[2 * disc + 1] = hole[pick][1];
}

static void shake_near(double *z) {
  double radius = z[2 * n], out = radius * sqrt(uniform()), angle = TURN * uniform();
  double x = out * cos(angle), y = out * sin(angle);
  double wide = (0.15 + 0.25 * uniform()) * radius + 1, hard = 0.4 + 0.8 * uniform();
  for (int i = 0; i < n; i++) {
    double dx = z[2 * i] - x, dy = z[2 * i + 1] - y, share = hard * exp(-(dx * dx + dy * dy) / (2 * wide * wide));
    z[2 * i] += share * normal(), z[2 * i + 1] += share * normal();
  }
}

static void shake_all(double *z) {
  double hard = 1.3 * (0.15 + 0.6 * uniform());
  for (int i = 0; i < 2 * n; i++) z[i] += hard * (2 * uniform() - 1);
}

static void turn_inner(double *z) {
  double cut = z[2 * n] * (0.3 + 0.6 * uniform()), angle = TURN * uniform(), c = cos(angle), s = sin(angle);
  for (int i = 0; i < n; i++) {
    double x = z[2 * i], y = z[2 * i + 1];
    if (hypot(x, y) < cut) z[2 * i] = c * x - s * y, z[2 * i + 1] = s * x + c * y;
  }
}

static void change(double *z) {
  double pick = uniform();
  if (pick < 0.35) jump(z);
  else if (pick < 0.5) for (int many = 2 + (int)(2 * uniform()); many > 0; many--) jump(z);
  else if (pick < 0.75) shake_near(z);
  else if (pick < 0.95) shake_all(z);
  else turn_inner(z);
}

static void search(double *best, long hops, double stop_at) {
  static double here[2 * MOST + 1], trial[2 * MOST + 1];
  double lowest = 1e9, low = 1e9;
  int stale = 0, patience = 150 + 3 * n;
  for (long hop = 0; hop < hops && lowest > stop_at; hop++) {
    int fresh = low > 1e8 || stale > patience;
    if (fresh) low = 1e9, stale = 0;
    for (int k = 0; k < (fresh ? 8 : 1); k++) {
      if (fresh) start(trial);
      else memcpy(trial, here, sizeof here), change(trial);
      double found = squeeze(trial, fresh, fresh ? 1e9 : low);
      stale = found < low * (1 - 1e-6) ? 0 : stale + 1;
      if (found < low * (1 - 1e-8)) low = found, memcpy(here, trial, sizeof here);
    }
    if (low < lowest) lowest = low, memcpy(best, here, sizeof here);
  }
}

int main(int argc, char **argv) {
  static double best[2 * MOST + 1];
  if (argc != 5 || (n = atoi(argv[1])) < 1 || n > MOST) return 2;
  size = 2 * n + 1;
  state = (uint64_t)atol(argv[3]) * 7919 + (uint64_t)n * 1000003;
  search(best, atol(argv[2]), atof(argv[4]) * (1 + 1e-8));
  minimise(best, 3e4, 2000, 1e-8);
  minimise(best, 3e6, 4000, 1e-9);
  for (int i = 0; i < 2 * n; i++) printf("%.15g\n", best[i]);
  return 0;
}
