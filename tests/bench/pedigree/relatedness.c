/*
 * Reference for timing: relatedness among a group with F known, after Colleau 2002 (doi 10.1186/1297-9686-34-4-409),
 * on the ancestors of the group only, 8 columns at a time. Independent of the library.
 *
 * relatedness ROWS F GROUP OUT RUNS: ROWS holds int32 n, sire[n], dam[n] (-1 unknown, any row order), F n doubles, GROUP
 * int32 k and k rows. Writes the k x k matrix (doubles) to OUT and prints the CPU seconds of each run; the order of the rows by
 * depth is made before and not counted, nor is reading and writing.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>

#define LANES 8

static double now(void) {
  struct timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

static int32_t n, k, *sire, *dam, *rank, *up, *across, *group;
static double *F, *D, *A;

static void *load(FILE *in, size_t bytes) {
  void *data = malloc(bytes + 8);
  if (!in || fread(data, 1, bytes, in) != bytes) exit(3);
  return data;
}

/* Ranks: parents before young. */
static void orderRows(void) {
  int32_t *depth = malloc(n * 4l), *stack = malloc((n + 1) * 4l), top, deepest = 0;
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
      if (h > deepest) deepest = h;
      top--;
    }
  }
  int32_t *next = calloc(deepest + 2, 4);
  for (int32_t i = 0; i < n; i++) next[depth[i] + 1]++;
  for (int32_t h = 0; h < deepest; h++) next[h + 1] += next[h];
  rank = malloc(n * 4l);
  for (int32_t i = 0; i < n; i++) rank[i] = next[depth[i]]++;
  up = malloc(n * 4l);
  across = malloc(n * 4l);
  D = malloc(n * 8l);
  for (int32_t i = 0; i < n; i++) {
    int32_t s = sire[i], d = dam[i];
    up[rank[i]] = s < 0 ? -1 : rank[s];
    across[rank[i]] = d < 0 ? -1 : rank[d];
    D[rank[i]] = 1 - ((s < 0 ? 0 : 1 + F[s]) + (d < 0 ? 0 : 1 + F[d])) / 4;
  }
  free(depth); free(stack); free(next);
}

static void block(void) {
  int32_t words = n / 64 + 1, found = 0, *list = malloc(n * 4l), *local = malloc(n * 4l);
  uint64_t *marks = calloc(words, 8);
  for (int32_t j = 0; j < k; j++) marks[rank[group[j]] >> 6] |= 1ull << (rank[group[j]] & 63);
  for (int32_t w = words - 1; w >= 0; w--) {
    while (marks[w]) {
      int32_t bit = 63 - __builtin_clzll(marks[w]), q = w * 64 + bit;
      marks[w] &= ~(1ull << bit);
      list[found++] = q;
      if (up[q] >= 0) marks[up[q] >> 6] |= 1ull << (up[q] & 63);
      if (across[q] >= 0) marks[across[q] >> 6] |= 1ull << (across[q] & 63);
    }
  }
  int32_t *s = malloc(found * 4l), *d = malloc(found * 4l);
  double *v = malloc(found * 8l), *x = malloc((found + 1) * LANES * 8l);
  for (int32_t i = 0; i < found; i++) local[list[found - 1 - i]] = i;
  for (int32_t i = 0; i < found; i++) {
    int32_t q = list[found - 1 - i];
    s[i] = up[q] < 0 ? found : local[up[q]];
    d[i] = across[q] < 0 ? found : local[across[q]];
    v[i] = D[q];
  }
  for (int32_t first = 0; first < k; first += LANES) {
    int32_t lanes = k - first < LANES ? k - first : LANES;
    memset(x, 0, (found + 1) * LANES * 8l);
    for (int32_t l = 0; l < lanes; l++) x[local[rank[group[first + l]]] * LANES + l] = 1;
    for (int32_t i = found - 1; i >= 0; i--) {
      double *from = x + (int64_t)i * LANES, *a = x + (int64_t)s[i] * LANES, *b = x + (int64_t)d[i] * LANES;
      for (int l = 0; l < LANES; l++) { a[l] += from[l] / 2; b[l] += from[l] / 2; from[l] *= v[i]; }
    }
    memset(x + (int64_t)found * LANES, 0, LANES * 8);
    for (int32_t i = 0; i < found; i++) {
      double *to = x + (int64_t)i * LANES, *a = x + (int64_t)s[i] * LANES, *b = x + (int64_t)d[i] * LANES;
      for (int l = 0; l < LANES; l++) to[l] += (a[l] + b[l]) / 2;
    }
    for (int32_t j = 0; j < k; j++) {
      double *at = x + (int64_t)local[rank[group[j]]] * LANES;
      for (int32_t l = 0; l < lanes; l++) A[(int64_t)(first + l) * k + j] = at[l];
    }
  }
  free(list); free(local); free(marks); free(s); free(d); free(v); free(x);
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
  orderRows();
  for (int run = atoi(argv[5]); run > 0; run--) {
    double t = now();
    block();
    printf("%.6f\n", now() - t);
  }
  FILE *out = fopen(argv[4], "wb");
  if (!out || fwrite(A, 8, (size_t)k * k, out) != (size_t)k * k) return 4;
  fclose(out);
  return 0;
}
