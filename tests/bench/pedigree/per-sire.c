/*
 * Reference for timing: inbreeding, one sire at a time (Sargolzaei, Iwaisaki & Colleau 2005,
 * doi 10.1111/j.1439-0388.2005.00538.x), numbered by depth. Independent of the library. Four or eight sires at a time instead of one were tried and
 * gained nothing here.
 *
 * per-sire FILE OUT RUNS: FILE holds int32 n, sire[n], dam[n] (-1 unknown, any row order); writes F (n doubles)
 * to OUT and prints for each run its CPU seconds and the peak memory of the process in MB; reading and writing not counted.
 */
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/resource.h>
#include <time.h>

static double now(void) {
  struct timespec t;
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return t.tv_sec + 1e-9 * t.tv_nsec;
}

static int32_t n, *sire, *dam;
static double *F;

/* Longest line to a founder, without recursion. */
static int32_t *depths(int32_t count, const int32_t *s, const int32_t *d) {
  int32_t *depth = malloc(count * sizeof *depth), *stack = malloc((count + 1) * sizeof *stack);
  memset(depth, 0xff, count * sizeof *depth);
  for (int32_t i = 0; i < count; i++) {
    int32_t top = 0;
    if (depth[i] >= 0) continue;
    stack[top++] = i;
    while (top) {
      int32_t q = stack[top - 1];
      if (s[q] >= 0 && depth[s[q]] < 0) { stack[top++] = s[q]; continue; }
      if (d[q] >= 0 && depth[d[q]] < 0) { stack[top++] = d[q]; continue; }
      int32_t h = 0;
      if (s[q] >= 0 && depth[s[q]] >= h) h = depth[s[q]] + 1;
      if (d[q] >= 0 && depth[d[q]] >= h) h = depth[d[q]] + 1;
      depth[q] = h;
      top--;
    }
  }
  free(stack);
  return depth;
}

static void solve(void) {
  int32_t *place = malloc(n * sizeof *place);
  memset(place, 0xff, n * sizeof *place);
  for (int32_t i = 0; i < n; i++) {
    if (sire[i] >= 0) place[sire[i]] = 0;
    if (dam[i] >= 0) place[dam[i]] = 0;
  }
  int32_t count = 0;
  for (int32_t i = 0; i < n; i++) if (place[i] == 0) place[i] = count++;
  int32_t *s = malloc(count * sizeof *s), *d = malloc(count * sizeof *d), *row = malloc(count * sizeof *row);
  for (int32_t i = 0; i < n; i++) {
    int32_t q = place[i];
    if (q < 0) continue;
    row[q] = i;
    s[q] = sire[i] < 0 ? -1 : place[sire[i]];
    d[q] = dam[i] < 0 ? -1 : place[dam[i]];
  }
  int32_t *depth = depths(count, s, d), deepest = 0;
  for (int32_t q = 0; q < count; q++) if (depth[q] > deepest) deepest = depth[q];
  int32_t *next = calloc(deepest + 2, sizeof *next), *at = malloc(count * sizeof *at);
  for (int32_t q = 0; q < count; q++) next[depth[q] + 1]++;
  for (int32_t h = 0; h < deepest; h++) next[h + 1] += next[h];
  for (int32_t q = 0; q < count; q++) at[q] = next[depth[q]]++;
  int32_t *up = malloc(count * sizeof *up), *across = malloc(count * sizeof *across), *node = malloc(count * sizeof *node);
  for (int32_t q = 0; q < count; q++) {
    up[at[q]] = s[q] < 0 ? -1 : at[s[q]];
    across[at[q]] = d[q] < 0 ? -1 : at[d[q]];
    node[at[q]] = row[q];
    place[row[q]] = at[q];
  }
  int32_t *start = calloc(count + 2, sizeof *start), total = 0;
  for (int32_t i = 0; i < n; i++) if (sire[i] >= 0 && dam[i] >= 0) { start[place[sire[i]] + 2]++; total++; }
  for (int32_t q = 0; q < count; q++) start[q + 2] += start[q + 1];
  int32_t *young = malloc(total * sizeof *young + 4), *mate = malloc(total * sizeof *mate + 4);
  for (int32_t i = 0; i < n; i++) {
    if (sire[i] < 0 || dam[i] < 0) continue;
    int32_t k = start[place[sire[i]] + 1]++;
    young[k] = i;
    mate[k] = place[dam[i]];
  }
  double *D = malloc(count * sizeof *D), *y = calloc(count, sizeof *y), *r = calloc(count, sizeof *r);
  int32_t *list = malloc(count * sizeof *list), *other = malloc(count * sizeof *other);
  uint64_t *marks = calloc(count / 64 + 1, sizeof *marks);
  memset(F, 0, n * sizeof *F);
  for (int32_t q = 0; q < count; q++) {
    double own = 0;
    if (up[q] >= 0) own += 1 + F[node[up[q]]];
    if (across[q] >= 0) own += 1 + F[node[across[q]]];
    D[q] = 1 - own / 4;
    if (start[q] == start[q + 1]) continue;
    int32_t found = 0;
    y[q] = 1;
    marks[q >> 6] |= 1ull << (q & 63);
    for (int32_t w = q >> 6; w >= 0; w--) {
      while (marks[w]) {
        int32_t bit = 63 - __builtin_clzll(marks[w]), j = w * 64 + bit;
        marks[w] &= ~(1ull << bit);
        list[found++] = j;
        if (up[j] >= 0) { y[up[j]] += y[j] / 2; marks[up[j] >> 6] |= 1ull << (up[j] & 63); }
        if (across[j] >= 0) { y[across[j]] += y[j] / 2; marks[across[j] >> 6] |= 1ull << (across[j] & 63); }
      }
    }
    int32_t lowest = list[found - 1], highest = -1;
    for (int32_t k = start[q]; k < start[q + 1]; k++) {
      int32_t m = mate[k];
      if (m < lowest) continue;
      marks[m >> 6] |= 1ull << (m & 63);
      if (m > highest) highest = m;
    }
    int32_t below = 0;
    for (int32_t w = highest >> 6; w >= 0; w--) {
      while (marks[w]) {
        int32_t bit = 63 - __builtin_clzll(marks[w]), j = w * 64 + bit;
        marks[w] &= ~(1ull << bit);
        other[below++] = j;
        if (up[j] >= lowest) marks[up[j] >> 6] |= 1ull << (up[j] & 63);
        if (across[j] >= lowest) marks[across[j] >> 6] |= 1ull << (across[j] & 63);
      }
    }
    for (int32_t k = below - 1; k >= 0; k--) {
      int32_t j = other[k];
      r[j] = y[j] * D[j] + ((up[j] >= lowest ? r[up[j]] : 0) + (across[j] >= lowest ? r[across[j]] : 0)) / 2;
    }
    for (int32_t k = start[q]; k < start[q + 1]; k++) F[young[k]] = mate[k] < lowest ? 0 : r[mate[k]] / 2;
    for (int32_t k = 0; k < found; k++) y[list[k]] = 0;
    for (int32_t k = 0; k < below; k++) r[other[k]] = 0;
  }
  free(place); free(s); free(d); free(row); free(depth); free(next); free(at); free(up); free(across); free(node);
  free(start); free(young); free(mate); free(D); free(y); free(r); free(list); free(other); free(marks);
}

int main(int argc, char **argv) {
  if (argc < 4) return 2;
  FILE *in = fopen(argv[1], "rb");
  if (!in || fread(&n, 4, 1, in) != 1) return 3;
  sire = malloc(n * 4l);
  dam = malloc(n * 4l);
  if (fread(sire, 4, n, in) != (size_t)n || fread(dam, 4, n, in) != (size_t)n) return 3;
  fclose(in);
  F = malloc(n * 8l);
  for (int run = atoi(argv[3]); run > 0; run--) {
    double t = now();
    solve();
    t = now() - t;
    struct rusage used;
    getrusage(RUSAGE_SELF, &used);
    printf("%.6f %ld\n", t, used.ru_maxrss / 1024);
  }
  FILE *out = fopen(argv[2], "wb");
  if (!out || fwrite(F, 8, n, out) != (size_t)n) return 4;
  fclose(out);
  return 0;
}
