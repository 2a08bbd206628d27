/*
 * Reference for timing: relatedness among a group with F known, after Colleau 2002 (doi 10.1186/1297-9686-34-4-409),
 * on the ancestors of the group only, 8 columns at a time, the group oldest first: a column is made as far as the animals before it need it.
 * Independent of the library.
 *
 * relatedness ROWS F GROUP OUT RUNS: ROWS holds int32 n, sire[n], dam[n] (-1 unknown, any row order), F n doubles, GROUP
 * int32 k and k rows. Writes the k x k matrix (doubles) to OUT and prints the CPU seconds of each run; the depth of
 * each row is found before and not counted, nor is reading and writing.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define LANES 8
typedef double lanes_t __attribute__((vector_size(LANES * 8), aligned(8)));

static double now(void) {
  struct timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

static int32_t n, k, *sire, *dam, *depth, *group;
static double *F, *A;

static void *load(FILE *in, size_t bytes) {
  void *data = malloc(bytes + 8);
  if (!in || fread(data, 1, bytes, in) != bytes) exit(3);
  return data;
}

/* Longest line to a founder. */
static void depths(void) {
  int32_t *stack = malloc((n + 1) * 4l), top;
  depth = malloc(n * 4l);
  memset(depth, 0xff, n * 4l);
  for (int32_t i = 0; i < n; i++) {
    if (depth[i] >= 0) continue;
    for (stack[0] = i, top = 1; top;) {
      int32_t q = stack[top - 1], s = sire[q], d = dam[q];
      if (s >= 0 && depth[s] < 0) { stack[top++] = s; continue; }
      if (d >= 0 && depth[d] < 0) { stack[top++] = d; continue; }
      int32_t h = 0;
      if (s >= 0 && depth[s] >= h) h = depth[s] + 1;
      if (d >= 0 && depth[d] >= h) h = depth[d] + 1;
      depth[q] = h;
      top--;
    }
  }
  free(stack);
}

static int older(const void *a, const void *b) {
  int32_t i = *(const int32_t *)a, j = *(const int32_t *)b, difference = depth[group[i]] - depth[group[j]];
  return difference ? difference : i - j;
}

/* The group and its ancestors, each animal after its ancestors, those of the first of `order` first; local numbers in `local`. */
static int32_t listLineage(const int32_t *order, int32_t *local, int32_t **list) {
  int32_t found = 0, room = 1024, *stack = malloc((n + 1) * 4l);
  *list = malloc(room * 4l);
  for (int32_t m = 0; m < k; m++) {
    int32_t top = 1;
    for (stack[0] = group[order[m]]; top;) {
      int32_t q = stack[top - 1], s = sire[q], d = dam[q];
      if (local[q] >= 0) { top--; continue; }
      if (s >= 0 && local[s] < 0) { stack[top++] = s; continue; }
      if (d >= 0 && local[d] < 0) { stack[top++] = d; continue; }
      if (found == room) *list = realloc(*list, (room *= 2) * 4l);
      local[q] = found;
      (*list)[found++] = q;
      top--;
    }
  }
  free(stack);
  return found;
}

static void block(int32_t *local) {
  int32_t *order = malloc(k * 4l), *list;
  for (int32_t m = 0; m < k; m++) order[m] = m;
  qsort(order, k, 4, older);
  int32_t found = listLineage(order, local, &list);
  int32_t *s = malloc(found * 4l), *d = malloc(found * 4l), *at = malloc(k * 4l);
  double *v = malloc(found * 8l);
  char *reached = malloc(found + 1);
  lanes_t *x = malloc((found + 1) * sizeof *x);
  for (int32_t i = 0; i < found; i++) {
    int32_t up = sire[list[i]], across = dam[list[i]];
    s[i] = up < 0 ? found : local[up];
    d[i] = across < 0 ? found : local[across];
    v[i] = 1 - ((up < 0 ? 0 : 1 + F[up]) + (across < 0 ? 0 : 1 + F[across])) / 4;
  }
  for (int32_t m = 0; m < k; m++) at[m] = local[group[order[m]]];
  for (int32_t first = 0; first < k; first += LANES) {
    int32_t lanes = k - first < LANES ? k - first : LANES, last = at[first + lanes - 1];
    memset(x, 0, (last + 1) * sizeof *x);
    memset(reached, 0, last + 1);
    for (int32_t l = 0; l < lanes; l++) {
      x[at[first + l]][l] = 1;
      reached[at[first + l]] = 1;
    }
    for (int32_t i = last; i >= 0; i--) {
      if (!reached[i]) continue;
      lanes_t half = x[i] / 2;
      x[s[i]] += half;
      x[d[i]] += half;
      x[i] *= v[i];
      reached[s[i]] = reached[d[i]] = 1;
    }
    memset(&x[found], 0, sizeof *x);
    for (int32_t i = 0; i <= last; i++) x[i] += (x[s[i]] + x[d[i]]) / 2;
    for (int32_t l = 0; l < lanes; l++) {
      double *row = A + (int64_t)order[first + l] * k;
      for (int32_t m = 0; m <= first + l; m++) row[order[m]] = x[at[m]][l];
    }
  }
  for (int32_t m = 0; m < k; m++)
    for (int32_t l = 0; l < m; l++) A[(int64_t)order[l] * k + order[m]] = A[(int64_t)order[m] * k + order[l]];
  for (int32_t i = 0; i < found; i++) local[list[i]] = -1;
  free(order); free(list); free(s); free(d); free(at); free(v); free(reached); free(x);
}

int main(int argc, char **argv) {
  if (argc < 6) return 2;
  FILE *rows = fopen(argv[1], "rb"), *known = fopen(argv[2], "rb"), *asked = fopen(argv[3], "rb");
  n = *(int32_t *)load(rows, 4);
  sire = load(rows, n * 4l);
  dam = load(rows, n * 4l);
  F = load(known, n * 8l);
  k = *(int32_t *)load(asked, 4);
  group = load(asked, k * 4l);
  A = malloc((int64_t)k * k * 8);
  depths();
  int32_t *local = malloc(n * 4l);
  memset(local, 0xff, n * 4l);
  for (int run = atoi(argv[5]); run > 0; run--) {
    double t = now();
    block(local);
    printf("%.6f\n", now() - t);
  }
  FILE *out = fopen(argv[4], "wb");
  if (!out || fwrite(A, 8, (size_t)k * k, out) != (size_t)k * k) return 4;
  fclose(out);
  return 0;
}
