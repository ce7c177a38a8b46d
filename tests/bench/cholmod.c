/* Reads a symmetric matrix (lower triangle, one "row column value" a line) and prints the best time in ms of 20
   supernodal or simplicial factorisations, whichever is faster, each after one analysis. */
#include <stdio.h>
#include <time.h>
#include <cholmod.h>

static double now(void) {
  struct timespec t;
  clock_gettime(CLOCK_MONOTONIC, &t);
  return t.tv_sec * 1e3 + t.tv_nsec * 1e-6;
}

int main(int count, char **words) {
  cholmod_common common;
  cholmod_start(&common);
  FILE *file = fopen(words[count - 1], "r");
  int n, entries;
  if (!file || fscanf(file, "%d %d", &n, &entries) != 2) return 1;
  cholmod_triplet *list = cholmod_allocate_triplet(n, n, entries, -1, CHOLMOD_REAL, &common);
  for (int k = 0; k < entries; k++)
    if (fscanf(file, "%d %d %lf", (int *)list->i + k, (int *)list->j + k, (double *)list->x + k) != 3) return 1;
  list->nnz = entries;
  cholmod_sparse *matrix = cholmod_triplet_to_sparse(list, entries, &common);
  double best = 1e300;
  int modes[2] = {CHOLMOD_SUPERNODAL, CHOLMOD_SIMPLICIAL};
  for (int m = 0; m < 2; m++) {
    common.supernodal = modes[m];
    common.final_ll = 1;
    cholmod_factor *factor = cholmod_analyze(matrix, &common);
    for (int k = 0; k < 20; k++) {
      double start = now();
      cholmod_factorize(matrix, factor, &common);
      double time = now() - start;
      if (time < best) best = time;
    }
    cholmod_free_factor(&factor, &common);
  }
  printf("%f\n", best);
  return 0;
}
